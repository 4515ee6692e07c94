import { KINDS } from '../../../core/quantities/index.ts';
import type { Field, Form } from './field.ts';
import { DAY, ENTRY, keyOf, SECTIONS } from './fields.ts';

/** Every key with what it takes: Markdown tables for the page on the format. */
export function keyTable(): string {
  const parts = { 'top level': DAY, ...SECTIONS, 'one of `entries`': ENTRY };
  return Object.entries(parts)
    .map(([name, fields]) => `### ${name in SECTIONS ? `\`${name}\`` : name}\n\n${tableOf(fields)}`)
    .join('\n\n');
}

function tableOf(fields: Readonly<Record<string, Field>>): string {
  const rows = Object.entries(fields).map(
    ([name, { form, about, example }]) => `| \`${keyOf(name)}: ${example}\` | ${takes(form)} | ${about} |`,
  );
  return ['| key, with an example | takes | meaning |', '|---|---|---|', ...rows].join('\n');
}

function takes(form: Form): string {
  switch (form.form) {
    case 'text':
      return 'text';
    case 'date':
      return 'date';
    case 'clock':
      return 'clock time, `HH:MM` or `HH:MM:SS`';
    case 'choice':
      return form.options.map((option) => `\`${option}\``).join(' · ');
    case 'whole':
      return form.options ? form.options.join(' or ') : 'whole number';
    case 'falling':
      return 'plain numbers with a comma between them, falling, or a list of them';
    case 'measured':
    case 'plain':
      return `${form.units.map((unit) => (unit === '1' ? 'plain number' : unit)).join(', ')}; ${limits(form)}`;
  }
}

function limits({
  form,
  kind,
  limits: { above, from, to, not },
}: Extract<Form, { form: 'measured' | 'plain' }>): string {
  const { si } = KINDS[kind];
  const unit = si === '1' ? '' : ` ${si}`;
  const low = above === undefined ? (from === undefined ? 'any value' : `≥ ${from}${unit}`) : `> ${above}${unit}`;
  const high = to === undefined ? '' : `, ≤ ${to}${unit}`;
  const other = not === undefined ? '' : `, not ${not}${unit}`;
  return `${low}${high}${other}${form === 'measured' ? '; ± allowed' : ''}`;
}
