import { z } from 'zod';
import { standing } from './day-view.ts';
import { ambientRule, sample, samples } from './primitives.ts';

/** One curve among others. power: after the common rule [W]. highest: the peak that is claimed, after the same rule. */
export const overlayCurve = z.strictObject({
  entry: z.string(),
  pull: z.number(),
  title: z.string(),
  standing,
  engineSpeed: samples,
  power: samples,
  torque: samples,
  uncertainty: samples,
  valid: z.array(z.boolean()),
  highest: z.strictObject({ power: z.number(), uncertainty: sample, engineSpeed: sample }).optional(),
  factor: z.number(),
  ruleValid: z.boolean(),
  ruleWhy: z.string(),
});

/** Several pulls under one ambient rule; two rules are never mixed. `left`: entries without a curve, and why. */
export const overlayView = z.strictObject({
  day: z.string(),
  dayTitle: z.string(),
  invented: z.string().optional(),
  rule: ambientRule,
  of: z.enum(['engine', 'wheel', 'roll']),
  curves: z.array(overlayCurve),
  left: z.array(z.strictObject({ entry: z.string(), why: z.string() })),
});

/** entries: ids, each percent-encoded, joined by commas, at most 60; absent: all pulls of the day. rule absent: the rule of the pulls, if it is one. */
export const overlayQuery = z.strictObject({
  entries: z.string().max(4000).optional(),
  rule: ambientRule.optional(),
  of: z.enum(['engine', 'wheel', 'roll']).optional(),
});

export type OverlayCurve = z.infer<typeof overlayCurve>;
export type OverlayView = z.infer<typeof overlayView>;
export type OverlayQuery = z.infer<typeof overlayQuery>;
