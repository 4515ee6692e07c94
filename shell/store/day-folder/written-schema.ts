import { z } from 'zod';
import { KINDS, unitNamed } from '../../../core/quantities/index.ts';
import { MEANINGS } from '../../../day/channels/index.ts';
import type { Field } from './field.ts';
import { DAY, DIVISOR, ENTRY, keyOf, SECTIONS } from './fields.ts';
import { fileNameProblem } from './file-name.ts';
import { readField, writtenText } from './read-field.ts';

/** Version of the format that this code writes; every earlier one is read. */
export const DAY_VERSION = 1;

/** A text, or a number that YAML editors see where a text such as `6` stands without quotes. */
const scalar = z.union([z.string(), z.number()]);

const text = (about: string) => scalar.meta({ description: about });

/** A problem that zod passes on: the wording is made in `problems.ts`. */
function expect(expected: string): { readonly code: 'custom'; readonly params: { readonly expected: string } } {
  return { code: 'custom', params: { expected } };
}

function fieldSchema({ form, about, example }: Field) {
  const note = { description: about, examples: [example] };
  if (form.form === 'choice') return z.enum(form.options).meta(note);
  // A number without its unit is marked by editors too.
  const one = 'units' in form && !form.units.includes('1') ? z.string() : scalar;
  const shape = form.form === 'falling' ? z.union([one, z.array(scalar).min(1)]) : one;
  return shape
    .superRefine((value, context) => {
      const read = readField(form, writtenText(value));
      if (!read.ok) context.addIssue(expect(read.expected));
    })
    .meta(note);
}

function fieldSchemas(fields: Readonly<Record<string, Field>>, required: readonly string[] = []) {
  return Object.fromEntries(
    Object.entries(fields).map(([name, field]) => {
      const schema = fieldSchema(field);
      return [keyOf(name), required.includes(name) ? schema : schema.optional()];
    }),
  );
}

const fileName = z
  .string()
  .superRefine((name, context) => {
    const problem = fileNameProblem(name);
    if (problem) context.addIssue(expect(problem));
  })
  .meta({ description: 'Name of a log file inside the folder; / between folders.', examples: ['pull-03-roller.csv'] });

const entry = z.strictObject({
  ...fieldSchemas(ENTRY, ['id', 'kind']),
  files: z.array(fileName).optional(),
  settings: z
    .record(z.string(), scalar)
    .meta({ description: 'Free settings with units, kept as written.', examples: [{ 'map target': '200 kPa' }] })
    .optional(),
  overruled: z
    .record(z.string(), z.string())
    .meta({
      description:
        'What a person overruled, each with the reason: faults of the pull, and findings about the health of the day.',
      examples: [{ 'wheel-slip': 'the ratio was set for another tyre' }, { 'health.stall': 'the key was turned off' }],
    })
    .optional(),
});

const column = z
  .strictObject({
    column: text('Name of the column as the file has it.'),
    meaning: z.enum(Object.keys(MEANINGS)).meta({ description: 'What the column holds.' }),
    position: text('Which one of several, such as a bank or a cylinder.').optional(),
    unit: text('Unit of the numbers in the file.'),
    divisor: fieldSchema(DIVISOR).optional(),
    zero: z
      .enum(['vacuum', 'ambient'])
      .meta({ description: 'From where a written pressure counts, when not from where its meaning does.' })
      .optional(),
    origin: z
      .enum(['measured', 'smoothed', 'corrected', 'derived', 'commanded'])
      .meta({ description: 'How the numbers came about.' })
      .optional(),
    confirmed: z
      .union([z.enum(['true', 'false']), z.boolean()])
      .meta({ description: 'false: a proposal nobody has confirmed yet. Absent: a person decided.' })
      .optional(),
  })
  .superRefine((value, context) => {
    const expected = unitProblem(value.meaning, String(value.unit));
    if (expected) context.addIssue({ ...expect(expected), path: ['unit'] });
  });

const columnName = z.union([z.string(), z.strictObject({ name: scalar, unit: scalar.optional() })]);

const mapping = z.strictObject({
  'column set': z.union([z.string().regex(/^[0-9a-f]{64}$/), z.array(columnName).min(1)]).meta({
    description: 'All columns of the file in order, by name or by name and unit; or their SHA-256.',
    examples: [['time', { name: 'speed', unit: 'km/h' }]],
  }),
  columns: z.array(column),
});

/** What `day.yaml` holds, as written: texts, lists and records. The published JSON Schema is made from it. */
export const WRITTEN_DAY = z.strictObject({
  knurl: z
    .union([z.literal(DAY_VERSION), z.literal(String(DAY_VERSION))])
    .meta({ description: 'Version of the format.', examples: [DAY_VERSION] }),
  ...fieldSchemas(DAY, ['title']),
  ...Object.fromEntries(
    Object.entries(SECTIONS).map(([name, fields]) => [name, z.strictObject(fieldSchemas(fields)).optional()]),
  ),
  entries: z.array(entry).meta({ description: 'What happened, in order.' }).optional(),
  mappings: z.array(mapping).meta({ description: 'What the columns of the logs hold.' }).optional(),
  thresholds: z
    .record(z.string(), scalar)
    .meta({
      description: 'Thresholds of the verdicts and of the day’s health set for this day.',
      examples: [{ 'boost-overshoot.pressure': '10 kPa' }],
    })
    .optional(),
  'engine thresholds': z
    .record(z.string(), scalar)
    .meta({ description: 'The same for this engine on every day.', examples: [{ 'turbo.limit': '137100 rpm' }] })
    .optional(),
});

/** A unit of the right dimension; a plain number is always allowed, a column that nobody understands may have any unit. */
function unitProblem(meaning: string, text: string): string | undefined {
  const known = Object.entries(MEANINGS).find(([name]) => name === meaning)?.[1];
  const unit = unitNamed(text);
  if (!known || (unit && (meaning === 'unknown' || meaning === 'text'))) return undefined;
  if (unit && (unit.symbol === '1' || unit.dimension === KINDS[known.kind].dimension)) return undefined;
  return `a unit such as ${KINDS[known.kind].metric}${unit ? `; ${unit.symbol} is a unit of ${unit.dimension}` : ''}`;
}
