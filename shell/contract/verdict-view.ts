import { z } from 'zod';
import { quantityKind, sample } from './primitives.ts';

/** 0 note, 1 mend it and repeat the pull, 2 hold: no more load until checked, 3 end the day for this engine. */
export const stopClass = z.literal([0, 1, 2, 3]);

/** A stop class with its word and what it asks for. */
export const stopView = z.strictObject({ class: stopClass, word: z.string(), meaning: z.string() });

/** Seconds on the record's clock; lowest and highest engine speed [rad/s], null when unknown. */
export const windowView = z.strictObject({ from: z.number(), to: z.number(), lowSpeed: sample, highSpeed: sample });

/** One number that spoke, SI by `kind`. threshold: absent when it only informs. settable: the threshold is one that a person can set. */
export const featureView = z.strictObject({
  name: z.string(),
  title: z.string(),
  kind: quantityKind,
  value: sample,
  threshold: z.number().optional(),
  source: z.string(),
  settable: z.boolean(),
});

/** One cause that could explain an occurrence. weight: natural logarithm of the likelihood ratio, for (> 0) or against (< 0). */
export const hypothesisView = z.strictObject({
  fault: z.string(),
  title: z.string(),
  probability: z.number(),
  chance: z.string(),
  evidence: z.array(z.strictObject({ what: z.string(), weight: z.number() })),
  features: z.array(featureView),
});

/** One of the three questions that separate faults, with its answer in words. */
export const separationView = z.strictObject({
  question: z.string(),
  answer: z.string(),
  known: z.boolean(),
  evidence: z.array(featureView),
  missing: z.array(z.string()),
});

/**
 * A line to draw beside a channel: a threshold in the channel's own unit, or one that follows another channel (`of`): times × of + add.
 */
export const guideView = z.strictObject({
  meaning: z.string(),
  threshold: z.string(),
  title: z.string(),
  of: z.string().optional(),
  times: z.number(),
  add: z.number(),
});

/** What to do next. needs: what must be at hand; minutes, pulls: what it costs; parts: the causes it tells from one another. */
export const checkView = z.strictObject({
  text: z.string(),
  parts: z.array(z.string()),
  needs: z.array(z.string()),
  minutes: z.number().optional(),
  pulls: z.number().optional(),
});

/**
 * Something that went wrong in some windows. believed: its leading cause is more likely than not. channels: meanings that speak, first the loudest.
 * overruled: why a person overruled it.
 */
export const occurrenceView = z.strictObject({
  sentence: z.string(),
  windows: z.array(windowView),
  where: z.string(),
  hypotheses: z.array(hypothesisView),
  separation: z.array(separationView),
  inseparable: z.array(z.strictObject({ one: z.string(), other: z.string(), without: z.array(z.string()) })),
  next: checkView.optional(),
  stop: stopView,
  voids: z.enum(['power', 'channel', 'nothing']),
  channel: z.string().optional(),
  believed: z.boolean(),
  overruled: z.string().optional(),
  channels: z.array(z.string()),
  guides: z.array(guideView),
});

/** A fault that was looked for and not seen, with what came nearest; or one that could not be looked for, and why. */
export const unseenView = z.strictObject({ fault: z.string(), title: z.string(), features: z.array(featureView) });
export const untoldView = z.strictObject({
  fault: z.string(),
  title: z.string(),
  why: z.string(),
  missing: z.array(z.string()),
});

/** Was one pull clean, and what spoiled it. made: what it made, in a sentence of its own. */
export const verdictView = z.strictObject({
  index: z.number(),
  validity: z.enum(['valid', 'valid in windows', 'void']),
  sentence: z.string(),
  made: z.string(),
  stop: stopView,
  voidWindows: z.array(windowView),
  occurrences: z.array(occurrenceView),
  unseen: z.array(unseenView),
  untold: z.array(untoldView),
});

export type StopClass = z.infer<typeof stopClass>;
export type StopView = z.infer<typeof stopView>;
export type WindowView = z.infer<typeof windowView>;
export type FeatureView = z.infer<typeof featureView>;
export type HypothesisView = z.infer<typeof hypothesisView>;
export type SeparationView = z.infer<typeof separationView>;
export type CheckView = z.infer<typeof checkView>;
export type GuideView = z.infer<typeof guideView>;
export type OccurrenceView = z.infer<typeof occurrenceView>;
export type UnseenView = z.infer<typeof unseenView>;
export type UntoldView = z.infer<typeof untoldView>;
export type VerdictView = z.infer<typeof verdictView>;
