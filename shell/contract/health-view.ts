import { z } from 'zod';
import { measuredValue, quantityKind, sample, samples } from './primitives.ts';
import { stopView } from './verdict-view.ts';

/** One number that decided or explains, with its band and the limit it was held against; SI by `kind`. */
export const healthValue = z.strictObject({
  name: z.string(),
  value: measuredValue.optional(),
  kind: quantityKind,
  limit: z.number().optional(),
  source: z.string(),
});

/**
 * Something of the day's health that must be known. name: under which a person overrules it; rests: the entries it was computed from; changed: what differs
 * between them and may be the cause.
 */
export const healthFinding = z.strictObject({
  name: z.string(),
  title: z.string(),
  subject: z.string(),
  stop: stopView,
  entry: z.string(),
  rests: z.array(z.string()),
  why: z.string(),
  changed: z.array(z.string()),
  values: z.array(healthValue),
  overruled: z.string().optional(),
});

/**
 * A slow trend: deviations at equal state from the first `baseline` points. average, low, high: moving average and its band at each point;
 * empty when there are too few. left: where it left its band.
 */
export const healthLine = z.strictObject({
  name: z.string(),
  subject: z.string(),
  kind: quantityKind,
  worse: z.enum(['up', 'down', 'either']),
  baseline: z.number(),
  verdict: z.enum(['in its band', 'left its band', 'not enough']),
  why: z.string().optional(),
  left: z
    .strictObject({
      entry: z.string(),
      direction: z.enum(['up', 'down']),
      by: z.string(),
      since: z.string(),
      worse: z.boolean(),
    })
    .optional(),
  remarks: z.array(z.string()),
  points: z.array(z.strictObject({ entry: z.string(), value: sample, standardUncertainty: sample })),
  average: samples,
  low: samples,
  high: samples,
});

/** A temperature at the start of a pull against what was allowed [K]. wait: until it would have been inside [s]. */
export const gateLine = z.strictObject({
  channel: z.string(),
  value: measuredValue.optional(),
  low: z.number().optional(),
  high: z.number().optional(),
  out: z.enum(['too cold', 'too hot']).optional(),
  rule: z.string(),
  wait: measuredValue.optional(),
  why: z.string().optional(),
});

/** In which thermal state a pull was begun. sincePull: seconds since the pull before. unknown: channels that would have told. */
export const readinessView = z.strictObject({
  entry: z.string(),
  key: z.string(),
  ready: z.boolean(),
  gates: z.array(gateLine),
  sincePull: z.number().optional(),
  unknown: z.array(z.string()),
});

/** Health of engine and car over one day; it advises and never clears an engine. */
export const healthView = z.strictObject({
  day: z.string(),
  stop: stopView,
  lines: z.array(healthLine),
  findings: z.array(healthFinding),
  unknown: z.array(z.strictObject({ what: z.string(), entries: z.array(z.string()), why: z.string() })),
  readiness: z.array(readinessView),
});

export type HealthFindingView = z.infer<typeof healthFinding>;
export type HealthLineView = z.infer<typeof healthLine>;
export type GateLine = z.infer<typeof gateLine>;
export type ReadinessView = z.infer<typeof readinessView>;
export type HealthView = z.infer<typeof healthView>;
