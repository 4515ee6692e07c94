import { z } from 'zod';
import { quantityKind, samples } from './primitives.ts';

/** One channel for drawing: times on the record's clock [s], values SI, null where the line must break. */
export const traceLine = z.strictObject({
  id: z.string(),
  name: z.string(),
  title: z.string(),
  meaning: z.string(),
  subject: z.string(),
  position: z.string().optional(),
  kind: quantityKind,
  origin: z.enum(['measured', 'smoothed', 'corrected', 'derived', 'commanded']),
  file: z.string(),
  refreshRate: z.number().nullable(),
  count: z.number(),
  times: z.array(z.number()),
  values: samples,
});

/** A channel by name alone, for the list of what can be shown. */
export const traceName = traceLine.omit({ times: true, values: true });

/**
 * Channels of one record in a window of time. Every channel keeps its own clock ticks; more than `points` samples are thinned to the
 * lowest and highest of each stretch, so no spike is lost. engineSpeed: the same window, so that traces can be shown against it.
 */
export const tracesView = z.strictObject({
  from: z.number(),
  to: z.number(),
  wholeFrom: z.number(),
  wholeTo: z.number(),
  channels: z.array(traceName),
  traces: z.array(traceLine),
  engineSpeed: z.strictObject({ times: z.array(z.number()), values: samples }).optional(),
});

/**
 * `channels`: ids joined by commas. `meanings`: the same by what they are, every position of each, in that order; `speed-ratio` is engine speed over
 * roll speed. `name`: one channel by its name in the log, before those. Without any: a first choice of evidence.
 */
export const tracesQuery = z.strictObject({
  from: z.coerce.number().optional(),
  to: z.coerce.number().optional(),
  points: z.coerce.number().int().min(10).max(20_000).default(1200),
  channels: z.string().max(4000).optional(),
  meanings: z.string().max(1000).optional(),
  name: z.string().max(300).optional(),
});

export type TraceLine = z.infer<typeof traceLine>;
export type TraceName = z.infer<typeof traceName>;
export type TracesView = z.infer<typeof tracesView>;
export type TracesQuery = z.infer<typeof tracesQuery>;
