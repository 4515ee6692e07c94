import { z } from 'zod';
import { ambientRule, findingLine, refusalRecord, sample, samples } from './primitives.ts';

/**
 * What one pull made, every line of the chain. All arrays have one length; SI; null where unknown.
 * `axis`: what rises from point to point; roll speed when no engine speed is known or a gear changes.
 * Torques are power divided by engine speed.
 */
export const curveView = z.strictObject({
  axis: z.enum(['engine-speed', 'roll-speed']),
  engineSpeed: samples,
  time: samples,
  rollSpeed: samples,
  brakePower: samples,
  rollInertiaPower: samples,
  rollPower: samples,
  slip: samples,
  tyrePower: samples,
  rollingLossPower: samples,
  wheelInertiaPower: samples,
  torqueLossPower: samples,
  engineInertiaPower: samples,
  enginePower: samples,
  correctedPower: samples,
  rollTorque: samples,
  engineTorque: samples,
  rollPowerUncertainty: samples,
  tyrePowerUncertainty: samples,
  enginePowerUncertainty: samples,
  valid: z.array(z.boolean()),
  factor: z.number(),
  rule: ambientRule,
  missing: z.array(z.string()),
  bandwidth: z.number().nullable(),
  peakBias: z.number().nullable(),
});

/** basis: at the curve's bandwidth, mean over one second, or the highest single sample. */
export const peakLine = z.strictObject({
  basis: z.enum(['curve', 'one second', 'samples']),
  what: z.enum(['roll power', 'wheel power', 'engine power', 'corrected power', 'roll torque', 'engine torque']),
  value: z.number(),
  standardUncertainty: sample,
  engineSpeed: z.number().optional(),
  rollSpeed: sample,
  time: sample,
});

/** What one standard deviation of one input does to the three powers at the peak [W]. */
export const budgetLine = z.strictObject({
  name: z.string(),
  roll: sample,
  tyre: sample,
  engine: sample,
  sharing: z.enum(['shared', 'random']),
  origin: z.string(),
  degreesOfFreedom: z.number().optional(),
});

export const segmentLine = z.strictObject({
  kind: z.enum(['full-load', 'hold', 'coast-down', 'overrun', 'part-load', 'standstill']),
  fromTime: z.number(),
  toTime: z.number(),
  gear: z.number().optional(),
  ratio: z.number().optional(),
  lowSpeed: z.number().nullable(),
  highSpeed: z.number().nullable(),
  lowEngineSpeed: z.number().optional(),
  highEngineSpeed: z.number().optional(),
  reason: z.string(),
});

export const pullView = z.strictObject({
  segment: segmentLine,
  curve: curveView,
  peaks: z.array(peakLine),
  budget: z.array(budgetLine),
  refusal: refusalRecord.optional(),
  findings: z.array(findingLine),
});

export type CurveView = z.infer<typeof curveView>;
export type PeakLine = z.infer<typeof peakLine>;
export type BudgetView = z.infer<typeof budgetLine>;
export type SegmentLine = z.infer<typeof segmentLine>;
export type PullView = z.infer<typeof pullView>;
