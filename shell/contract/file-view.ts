import { z } from 'zod';
import { findingLine, quantityKind, sample, samples } from './primitives.ts';

/** divisor: what the written numbers are divided by before the unit counts. zero: from where a written pressure counts. */
const writing = {
  divisor: z
    .number()
    .refine((value) => value !== 0, 'expected a number other than 0')
    .optional(),
  zero: z.enum(['vacuum', 'ambient']).optional(),
};

export const alternativeView = z.strictObject({
  meaning: z.string(),
  unit: z.string(),
  ...writing,
  confidence: z.number(),
  reason: z.string(),
});

/** One column of a file: what we believe it is, why, and a small picture of it (as written in the file, not SI). */
export const columnView = z.strictObject({
  name: z.string(),
  unit: z.string(),
  meaning: z.string(),
  position: z.string().optional(),
  proposedUnit: z.string(),
  ...writing,
  origin: z.enum(['measured', 'smoothed', 'corrected', 'derived', 'commanded']),
  confidence: z.number(),
  reason: z.string(),
  alternatives: z.array(alternativeView),
  question: z.string().optional(),
  low: sample,
  high: sample,
  missing: z.number(),
  sketch: samples,
});

export const fileView = z.strictObject({
  source: z.string(),
  file: z.string(),
  bytes: z.number(),
  format: z.string(),
  rows: z.number(),
  preamble: z.array(z.string()),
  columnSet: z.string(),
  remembered: z.boolean(),
  columns: z.array(columnView),
  findings: z.array(findingLine),
});

/** What a column can be. */
export const meaningLine = z.strictObject({
  meaning: z.string(),
  subject: z.string(),
  kind: quantityKind,
  title: z.string(),
});

export const vocabulary = z.strictObject({ meanings: z.array(meaningLine) });

/** A person's decision for every column that shall be used; a column that is left out is not used. */
export const mappingDecision = z.strictObject({
  columns: z
    .array(
      z.strictObject({
        column: z.string(),
        meaning: z.string(),
        unit: z.string(),
        position: z.string().max(60).optional(),
        ...writing,
      }),
    )
    .max(5000),
});

export const mappingKept = z.strictObject({ columnSet: z.string(), columns: z.number() });

export type AlternativeView = z.infer<typeof alternativeView>;
export type ColumnView = z.infer<typeof columnView>;
export type FileView = z.infer<typeof fileView>;
export type MeaningLine = z.infer<typeof meaningLine>;
export type Vocabulary = z.infer<typeof vocabulary>;
export type MappingDecision = z.infer<typeof mappingDecision>;
