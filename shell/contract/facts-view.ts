import { z } from 'zod';
import { quantityKind } from './primitives.ts';

/** How a fact is written: a quantity with its unit, one of a few words, a whole number, or free text. */
export const factForm = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('quantity'), quantity: quantityKind }),
  z.strictObject({
    kind: z.literal('choice'),
    choices: z.array(z.strictObject({ value: z.string(), title: z.string() })),
  }),
  z.strictObject({ kind: z.literal('count') }),
  z.strictObject({ kind: z.literal('text') }),
]);

/** One fact as text, the way it stands in the day's file. Empty text: unknown. `short`: belongs to the first, short form. */
export const factField = z.strictObject({
  path: z.string(),
  group: z.string(),
  title: z.string(),
  form: factForm,
  text: z.string(),
  example: z.string(),
  whenUnknown: z.string(),
  short: z.boolean(),
});

export const factsView = z.strictObject({
  day: z.string(),
  title: z.string(),
  invented: z.string().optional(),
  fields: z.array(factField),
});

/** Texts by path. A field that is left out stays as it is; empty text makes the fact unknown. */
export const factsChange = z.strictObject({
  texts: z.record(z.string(), z.string().max(10_000)),
  why: z.string().max(500).default('edited on the page'),
});

export const newDay = z.strictObject({
  title: z.string().min(1).max(200),
  date: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/, 'invalid date, expected YYYY-MM-DD')
    .optional(),
});

export const folderRequest = z.strictObject({ path: z.string().min(1).max(4000) });
export const folderWritten = z.strictObject({ path: z.string() });

export type FactForm = z.infer<typeof factForm>;
export type FactField = z.infer<typeof factField>;
export type FactsView = z.infer<typeof factsView>;
export type FactsChange = z.infer<typeof factsChange>;
export type NewDay = z.infer<typeof newDay>;
