import { z } from 'zod';
import { KINDS, type QuantityKind } from '../../core/quantities/index.ts';

/** Names of all kinds of quantity, as the sent form knows them. */
export const quantityKind = z.enum(Object.keys(KINDS) as QuantityKind[]);

/** One value in SI; missing is null, because JSON has no NaN. */
export const sample = z.number().nullable();

/** Values in SI, in order. */
export const samples = z.array(sample);

/** A value with its standard uncertainty, both SI; the uncertainty is null when it is unknown. */
export const measuredValue = z.strictObject({ value: z.number(), standardUncertainty: sample });

export const place = z.strictObject({
  file: z.string().optional(),
  channel: z.string().optional(),
  line: z.number().optional(),
  column: z.number().optional(),
  from: z.number().optional(),
  to: z.number().optional(),
});

const numbers = z.record(z.string(), z.union([z.number(), z.string(), z.null()]));

/** Something that must be known about an answer. */
export const findingLine = z.strictObject({
  kind: z.string(),
  weight: z.enum(['note', 'doubt', 'fault']),
  message: z.string(),
  place: place.optional(),
  numbers: numbers.optional(),
  rule: z.string().optional(),
});

/** Why there is no answer. */
export const refusalRecord = z.strictObject({
  kind: z.string(),
  message: z.string(),
  place: place.optional(),
  numbers: numbers.optional(),
  rule: z.string().optional(),
});

/** Body of every answer that is not a success. `fields`: which field of a form was refused, and why. */
export const refusalAnswer = z.strictObject({
  refusal: refusalRecord,
  fields: z.array(z.strictObject({ path: z.string(), message: z.string() })).optional(),
});

export const ambientRule = z.enum([
  'none',
  'SAE J1349',
  'ISO 1585 spark',
  'ISO 1585 compression',
  'DIN 70020',
  'SAE J607',
  'temperature only',
]);

export type FindingLine = z.infer<typeof findingLine>;
export type RefusalRecord = z.infer<typeof refusalRecord>;
export type RefusalAnswer = z.infer<typeof refusalAnswer>;
export type MeasuredValue = z.infer<typeof measuredValue>;
export type AmbientRule = z.infer<typeof ambientRule>;
