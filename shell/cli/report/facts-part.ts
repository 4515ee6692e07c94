import { formatQuantity, type UnitSystem } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { keyOf, SECTIONS } from '../../store/index.ts';
import { htmlTable } from './html.ts';

type Field = { readonly form: { readonly form: string; readonly kind?: Parameters<typeof formatQuantity>[1] } };

/** What a person stated about place, vehicle, engine, roller and air, with units and as stated: ± one standard deviation. */
export function factsTable(facts: DayFacts, system: UnitSystem): string {
  const rows = Object.entries(SECTIONS).flatMap(([section, fields]) => {
    const stated: Readonly<Record<string, unknown>> = { ...facts[sectionOf(section)] };
    return Object.entries<Field>(fields).flatMap(([name, field]) =>
      stated[name] === undefined ? [] : [[section, keyOf(name), factText(stated[name], field, system)]],
    );
  });
  return rows.length > 0
    ? htmlTable(['of', 'fact', 'stated, ± one standard deviation'], rows)
    : '<p>Nothing was stated.</p>';
}

function sectionOf(name: string): keyof typeof SECTIONS {
  for (const section of ['place', 'vehicle', 'engine', 'roller', 'ambient', 'parts'] as const)
    if (section === name) return section;
  throw new Error(`unknown section ${name}`);
}

function factText(fact: unknown, { form }: Field, system: UnitSystem): string {
  if (form.kind === undefined) return String(fact);
  const value = typeof fact === 'object' && fact !== null && 'value' in fact ? Number(fact.value) : Number(fact);
  const spread =
    typeof fact === 'object' && fact !== null && 'standardUncertainty' in fact ? Number(fact.standardUncertainty) : 0;
  if (spread > 0) return formatQuantity(value, form.kind, { system, standardUncertainty: spread });
  const plain = formatQuantity(value, form.kind, { system, decimals: 6 });
  return plain.replace(/(\.\d*?)0+(?=\D|$)/, '$1').replace(/\.(?=\D|$)/, '');
}
