import { z } from 'zod';
import { findingLine, quantityKind } from './primitives.ts';
import { stopView } from './verdict-view.ts';

/** Where a threshold was set: for this day, or for this engine on every day. A day's own goes before the engine's. */
export const thresholdScope = z.enum(['day', 'engine']);

/**
 * One number that decides. value: what is in force, SI; absent when nobody stated one. text, usual: the value in force and ours, as they can be typed.
 * source: of ours. set: where a person set it, the winning place first; written: how they wrote it there.
 */
export const thresholdLine = z.strictObject({
  name: z.string(),
  subject: z.string(),
  title: z.string(),
  kind: quantityKind,
  value: z.number().optional(),
  text: z.string(),
  usual: z.string(),
  source: z.string(),
  set: z.array(z.strictObject({ scope: thresholdScope, written: z.string() })),
});

export const thresholdsView = z.strictObject({
  day: z.string(),
  dayTitle: z.string(),
  invented: z.string().optional(),
  thresholds: z.array(thresholdLine),
  findings: z.array(findingLine),
});

/** Texts with units by the threshold's name; null or an empty text goes back to the engine's value or to ours. */
export const thresholdsChange = z.strictObject({
  scope: thresholdScope.default('day'),
  texts: z.record(z.string(), z.string().max(200).nullable()),
});

/** `set`: `name=text`, once or several times: what would be seen with these thresholds instead of those in force. */
export const trialQuery = z.strictObject({
  set: z
    .union([z.string(), z.array(z.string())])
    .transform((texts) => [texts].flat())
    .pipe(z.array(z.string().max(300)).min(1).max(100)),
});

const change = z.strictObject({ sentence: z.string(), stop: stopView });

/** What would change in one pull. appears, vanishes: occurrences that count; moved: those that stay, with other windows or another stop class. */
export const trialView = z.strictObject({
  pulls: z.array(
    z.strictObject({
      index: z.number(),
      before: z.strictObject({ validity: z.string(), stop: stopView }),
      after: z.strictObject({ validity: z.string(), stop: stopView }),
      appears: z.array(change),
      vanishes: z.array(change),
      moved: z.array(z.strictObject({ before: change, after: change })),
    }),
  ),
});

export type ThresholdScope = z.infer<typeof thresholdScope>;
export type ThresholdLine = z.infer<typeof thresholdLine>;
export type ThresholdsView = z.infer<typeof thresholdsView>;
export type ThresholdsChange = z.infer<typeof thresholdsChange>;
export type TrialView = z.infer<typeof trialView>;
