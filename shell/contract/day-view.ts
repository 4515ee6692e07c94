import { z } from 'zod';
import { findingLine, measuredValue, quantityKind, refusalRecord } from './primitives.ts';
import { stopView } from './verdict-view.ts';

export const daySummary = z.strictObject({
  id: z.string(),
  title: z.string(),
  date: z.string().optional(),
  folder: z.string().optional(),
  entries: z.number(),
  invented: z.boolean(),
});

export const dayList = z.strictObject({ days: z.array(daySummary) });

/**
 * How an entry stands, worst first: it waits for a person, it was refused, no part of it counts, only windows of it count,
 * there is doubt, nothing speaks against it; `none` for what is not judged (a change, a note).
 */
export const standing = z.enum(['waiting', 'refused', 'void', 'windows', 'doubtful', 'valid', 'none']);

/** One mark of the strip. `stop`: the worst stop class of its pulls and of what the health of the day found at it, when there is one above a note; `stopOf`: what health found, where it is the graver. `peak`: of the power nearest to the engine that all entries of the day know; `peakOf` says which. */
export const stripEntry = z.strictObject({
  id: z.string(),
  kind: z.enum(['pull', 'coast-down', 'change', 'note']),
  clock: z.string().optional(),
  title: z.string().optional(),
  sentence: z.string(),
  standing,
  stop: stopView.optional(),
  stopOf: z.string().optional(),
  pulls: z.number(),
  peak: measuredValue.optional(),
  peakOf: z.enum(['engine power', 'wheel power', 'roll power']).optional(),
  peakEngineSpeed: z.number().optional(),
  excluded: z.string().optional(),
  findings: z.strictObject({ note: z.number(), doubt: z.number(), fault: z.number() }),
  refusal: refusalRecord.optional(),
});

/**
 * Set while a hold or the end of the day stands: by the newest pull that was judged, by an earlier one that nobody has answered yet, or by the
 * health of the day.
 */
export const dayStop = z.strictObject({
  entry: z.string(),
  title: z.string(),
  stop: stopView,
  because: z.string(),
  next: z.string().optional(),
});

export const dayView = z.strictObject({
  id: z.string(),
  title: z.string(),
  date: z.string().optional(),
  invented: z.string().optional(),
  notes: z.string().optional(),
  place: z.string().optional(),
  vehicle: z.string().optional(),
  folder: z.string().optional(),
  entries: z.array(stripEntry),
  findings: z.array(findingLine),
  cautions: z.array(z.string()),
  method: z.string(),
  stop: dayStop.optional(),
});

/** What drifts over the day, one thin line each. Points name their entry; their clock is the entry's. at: roll speed [m/s] that the values belong to. */
export const driftView = z.strictObject({
  lines: z.array(
    z.strictObject({
      name: z.string(),
      what: z.string(),
      kind: quantityKind,
      at: z.number().optional(),
      points: z.array(
        z.strictObject({ entry: z.string(), value: z.number(), standardUncertainty: z.number().optional() }),
      ),
    }),
  ),
});

export type DaySummaryView = z.infer<typeof daySummary>;
export type DayList = z.infer<typeof dayList>;
export type Standing = z.infer<typeof standing>;
export type StripEntry = z.infer<typeof stripEntry>;
export type DayStop = z.infer<typeof dayStop>;
export type DayView = z.infer<typeof dayView>;
export type DriftView = z.infer<typeof driftView>;
