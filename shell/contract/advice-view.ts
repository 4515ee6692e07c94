import { z } from 'zod';
import { limitsQuery, unknownFact } from './limits-view.ts';
import { measuredValue, quantityKind, sample } from './primitives.ts';

/** keep: share of the tractive limit kept in hand, as written; absent: our default. */
export const adviceQuery = limitsQuery.extend({ keep: z.string().max(20).optional() });

/** One number of the advice: with even odds, and so that it holds nineteen times of twenty; SI by `kind`. */
export const adviceRow = z.strictObject({
  title: z.string(),
  kind: quantityKind,
  value: sample,
  standardUncertainty: sample,
  safe: sample,
});

/**
 * What would make the tyres hold. kept: share of the limit in hand [1]. load: more must press on them; too much: no sensible load does it. missing: with even
 * odds [N], below zero to spare. speed: where they are asked most [rad/s].
 */
export const tractionView = z.strictObject({
  kind: z.enum(['holds', 'load', 'too much', 'unknown']),
  kept: z.number(),
  sentence: z.string(),
  speed: z.number().optional(),
  missing: measuredValue.optional(),
  rows: z.array(adviceRow),
  notes: z.array(z.string()),
  cautions: z.array(z.string()),
  unknown: z.array(unknownFact),
});

/** How much one limit leaves in a gear [1], and the chance that it is passed. */
const gearMargin = z.strictObject({
  name: z.string(),
  margin: z.number(),
  marginUncertainty: sample,
  over: z.number(),
});

/** number: 1 is the first. force [N], power [W], speed [m/s]: largest at the roll surface. direct: nearest 1:1. fits: every known limit is kept. */
export const gearRow = z.strictObject({
  number: z.number(),
  gearRatio: z.number(),
  overallRatio: z.number(),
  now: z.boolean(),
  direct: z.boolean(),
  best: z.boolean(),
  fits: z.boolean(),
  force: measuredValue.optional(),
  power: measuredValue.optional(),
  speed: measuredValue.optional(),
  margins: z.array(gearMargin),
});

/** Which gear to pull in. from, to: overall ratios that keep the roller's speed, and its force and the tyres. */
export const gearsView = z.strictObject({
  sentence: z.string(),
  gears: z.array(gearRow),
  best: z.number().optional(),
  from: sample,
  to: sample,
  notes: z.array(z.string()),
  unknown: z.array(unknownFact),
});

const range = z.strictObject({ low: z.number(), high: z.number() });
const against = z.enum(['usual', 'above', 'below']);

/** What practice says of the plugs: rule says that it has no source. boost: above air at sea level [Pa]; gap, reach [m]; steps: colder, not rounded [1]. */
export const plugsView = z.strictObject({
  rule: z.string(),
  sentence: z.string(),
  applies: z.boolean(),
  boost: z.number().optional(),
  gap: z.strictObject({ now: z.number(), stated: z.boolean(), usual: range, against }).optional(),
  spark: z.strictObject({ now: measuredValue, usual: measuredValue }).optional(),
  steps: z
    .strictObject({
      byBoost: range.optional(),
      byOutput: range.optional(),
      fitted: z.number().optional(),
      against: against.optional(),
    })
    .optional(),
  reach: z
    .strictObject({ fitted: z.number(), head: z.number(), verdict: z.enum(['right', 'too short', 'too long']) })
    .optional(),
  lines: z.array(z.string()),
  cautions: z.array(z.string()),
  unknown: z.array(unknownFact),
});

/** What could be done about a step: straps or ballast, which gear, which plugs. */
export const adviceView = z.strictObject({ traction: tractionView, gears: gearsView, plugs: plugsView });

export type AdviceRow = z.infer<typeof adviceRow>;
export type AdviceView = z.infer<typeof adviceView>;
export type GearRow = z.infer<typeof gearRow>;
export type GearsView = z.infer<typeof gearsView>;
export type PlugsView = z.infer<typeof plugsView>;
export type TractionView = z.infer<typeof tractionView>;
