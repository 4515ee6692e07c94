import { z } from 'zod';
import { pullView, segmentLine } from './curve-view.ts';
import { standing } from './day-view.ts';
import { ambientRule, findingLine, measuredValue, refusalRecord, samples } from './primitives.ts';
import { verdictView } from './verdict-view.ts';

/** How two clocks were joined. Times in s on the record's clock. */
export const alignmentView = z.strictObject({
  clock: z.string(),
  other: z.string(),
  by: z.enum(['speed', 'hand', 'same clock']),
  correlation: z.number().nullable(),
  second: z.strictObject({ correlation: z.number(), lag: z.number() }).optional(),
  pieces: z.array(
    z.strictObject({
      from: z.number().nullable(),
      to: z.number().nullable(),
      offset: z.number().nullable(),
      rate: z.number().nullable(),
      offsetUncertainty: z.number().nullable(),
      rateUncertainty: z.number().nullable(),
      residual: z.number().nullable(),
      lags: z.array(z.strictObject({ time: z.number(), lag: z.number() })),
    }),
  ),
});

/** One rule's factor beside the others. */
export const factorLine = z.strictObject({
  rule: z.string(),
  factor: z.number().optional(),
  standardUncertainty: z.number().optional(),
  valid: z.boolean(),
  why: z.string(),
});

export const conditionsView = z.strictObject({
  temperature: measuredValue.optional(),
  pressure: measuredValue.optional(),
  vapourPressure: measuredValue.optional(),
  origin: z.strictObject({ temperature: z.string(), pressure: z.string(), humidity: z.string() }),
  factors: z.array(factorLine),
  chosen: z.string(),
  findings: z.array(findingLine),
});

/** Losses from one coast-down; `force` is F0 + F1·v + F2·v² at `speed`, for drawing. */
export const lossView = z.strictObject({
  segment: segmentLine,
  clutch: z.enum(['open', 'in gear', 'unknown']),
  f0: measuredValue.optional(),
  f1: measuredValue.optional(),
  f2: measuredValue.optional(),
  mass: measuredValue.optional(),
  residual: z.number().nullable(),
  speed: samples,
  force: samples,
  findings: z.array(findingLine),
});

/** One entry of the day, whole. reasons: what its standing was made from. */
export const entryView = z.strictObject({
  day: z.string(),
  dayTitle: z.string(),
  invented: z.string().optional(),
  id: z.string(),
  kind: z.enum(['pull', 'coast-down', 'change', 'note']),
  clock: z.string().optional(),
  title: z.string().optional(),
  files: z.array(z.string()),
  settings: z.record(z.string(), z.string()),
  notes: z.string().optional(),
  nudge: z.number().optional(),
  rule: ambientRule.optional(),
  excluded: z.string().optional(),
  clutch: z.enum(['open', 'in gear']).optional(),
  sentence: z.string(),
  standing,
  reasons: z.array(z.string()),
  refusal: refusalRecord.optional(),
  alignment: alignmentView.optional(),
  conditions: conditionsView.optional(),
  segments: z.array(segmentLine),
  pulls: z.array(pullView),
  verdicts: z.array(verdictView),
  losses: z.array(lossView),
  findings: z.array(findingLine),
  questions: z.array(z.strictObject({ file: z.string(), source: z.string().optional(), columns: z.array(z.string()) })),
});

/**
 * What a person decides about one entry; an absent field stays, null forgets the former decision.
 * nudge: s on top of the clock offset that was found. overruled: fault → why a person overrules it; null accepts it again.
 */
export const entryDecision = z.strictObject({
  nudge: z.number().min(-3600).max(3600).nullable().optional(),
  rule: ambientRule.nullable().optional(),
  excluded: z.string().max(500).nullable().optional(),
  clutch: z.enum(['open', 'in gear']).nullable().optional(),
  title: z.string().max(200).nullable().optional(),
  notes: z.string().max(10_000).nullable().optional(),
  clock: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/, 'invalid clock, expected HH:MM or HH:MM:SS')
    .nullable()
    .optional(),
  overruled: z.record(z.string(), z.string().trim().min(1, 'missing reason').max(500).nullable()).optional(),
});

/** A new entry made of files that were brought in before. */
export const newEntry = z.strictObject({
  kind: z.enum(['pull', 'coast-down', 'change', 'note']),
  files: z.array(z.string().min(1)).max(20),
  clock: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/, 'invalid clock, expected HH:MM or HH:MM:SS')
    .optional(),
  title: z.string().max(200).optional(),
  notes: z.string().max(10_000).optional(),
});

export const entryMade = z.strictObject({ entry: z.string() });

/**
 * How well the two clocks agree. offset: s on top of what stands now. at: what is left over [s] at the offset that was asked for.
 */
export const nudgeView = z.strictObject({
  offset: samples,
  correlation: samples,
  nudge: z.number(),
  at: z.strictObject({ offset: z.number(), residual: z.number().nullable(), correlation: z.number().nullable() }),
});

export const nudgeQuery = z.strictObject({ by: z.coerce.number().min(-5).max(5).default(0) });

export type AlignmentView = z.infer<typeof alignmentView>;
export type FactorView = z.infer<typeof factorLine>;
export type ConditionsView = z.infer<typeof conditionsView>;
export type LossView = z.infer<typeof lossView>;
export type EntryView = z.infer<typeof entryView>;
export type EntryDecision = z.infer<typeof entryDecision>;
export type NewEntry = z.infer<typeof newEntry>;
export type EntryMade = z.infer<typeof entryMade>;
export type NudgeView = z.infer<typeof nudgeView>;
