import { z } from 'zod';
import { findingLine, measuredValue, quantityKind, sample, samples } from './primitives.ts';

/** A step that somebody thinks of, as written: `MAP 215 kPa, gap 0.55 mm`. What is not named stays as it was on the day. */
export const limitsQuery = z.strictObject({ at: z.string().max(1000).optional() });

/** goal: `900 N·m`, `400 kW`, or either at a speed: `900 N·m at 4000 rpm`. */
export const nextQuery = limitsQuery.extend({ goal: z.string().max(200).optional() });

/**
 * One number of the step that can be turned. value: in force now, null when the day does not tell it. named: it was written in the step.
 * low, high, increment: of the slider; all SI by `kind`. word: by which the step names it.
 */
export const stepControl = z.strictObject({
  name: z.string(),
  title: z.string(),
  word: z.string(),
  kind: quantityKind,
  value: sample,
  named: z.boolean(),
  low: z.number(),
  high: z.number(),
  increment: z.number(),
});

/** Where a margin is smallest: engine speed [rad/s], margin [1], chance that the limit is passed there [1]. */
export const tightest = z.strictObject({
  speed: z.number(),
  margin: z.number(),
  marginUncertainty: sample,
  over: z.number(),
});

/**
 * One limit over the engine speeds of the answer; SI by `kind`. kept: share of the bare limit held back already. why: nothing can be said, and why.
 * rests: names of the values it rests on that nobody stated. tightest: absent where nothing is known.
 */
export const limitRow = z.strictObject({
  name: z.string(),
  title: z.string(),
  subject: z.string(),
  kind: quantityKind,
  required: samples,
  requiredUncertainty: samples,
  available: samples,
  availableUncertainty: samples,
  margin: samples,
  marginUncertainty: samples,
  over: samples,
  kept: z.number().optional(),
  why: z.string().optional(),
  missing: z.array(z.string()),
  assumed: z.array(z.string()),
  source: z.string(),
  tightest: tightest.optional(),
});

/** One line that was predicted over the speeds of the answer. */
export const predictedLine = z.strictObject({
  name: z.string(),
  kind: quantityKind,
  value: samples,
  standardUncertainty: samples,
});

/** One number that the answer rests on. fact: whether the form of facts has a field for it. */
export const restsOn = z.strictObject({
  name: z.string(),
  title: z.string(),
  kind: quantityKind,
  value: sample,
  standardUncertainty: sample,
  origin: z.enum(['stated', 'measured today', 'prior']),
  source: z.string(),
  fact: z.string().optional(),
});

/** Every limit for one step: the shortest margin first, what cannot be told last. speed: engine speeds of all columns [rad/s]. */
export const limitsView = z.strictObject({
  day: z.string(),
  dayTitle: z.string(),
  invented: z.string().optional(),
  step: z.string(),
  controls: z.array(stepControl),
  speed: z.array(z.number()),
  limits: z.array(limitRow),
  lines: z.array(predictedLine),
  values: z.array(restsOn),
  pulls: z.number(),
  unknown: z.array(z.string()),
  findings: z.array(findingLine),
  cautions: z.array(z.string()),
});

/** A limit and the manifold pressure at which it is as likely passed as not [Pa]. everywhere: passed at the lowest pressure already. */
export const nextLimit = z.strictObject({
  name: z.string(),
  title: z.string(),
  manifoldPressure: z.number(),
  standardUncertainty: sample,
  speed: z.number(),
  assumed: z.array(z.string()),
  everywhere: z.boolean(),
});

/** Which limit comes first when manifold pressure rises, in a sentence and one by one; and what a goal would ask. */
export const nextView = z.strictObject({
  sentence: z.string(),
  next: z.array(nextLimit),
  goal: z
    .strictObject({
      asked: z.string(),
      sentence: z.string(),
      chance: sample,
      rows: z.array(
        z.strictObject({
          speed: z.number(),
          manifoldPressure: sample,
          standardUncertainty: sample,
          passed: z.array(z.string()),
        }),
      ),
    })
    .optional(),
  findings: z.array(findingLine),
});

/** Corrected flow [kg/s] and pressure ratio [1], equally long. */
const mapLine = z.strictObject({ flow: samples, pressureRatio: samples });

/**
 * Pictures of one step. compressor: speed lines of the map with corrected speed [rad/s], and where the engine runs at `speed` [rad/s]; why: it cannot be
 * drawn. spark: margin [1] and chance over `pressures` [Pa] (rows) and `speeds` [rad/s]. soak: what the charge cooler still holds [K] over time [s].
 */
export const limitPictures = z.strictObject({
  compressor: z.strictObject({
    why: z.string().optional(),
    lines: z.array(mapLine.extend({ speed: z.number() })),
    surge: mapLine,
    operating: mapLine.extend({ speed: z.array(z.number()), shaftSpeed: samples }),
  }),
  spark: z.strictObject({
    why: z.string().optional(),
    speeds: z.array(z.number()),
    pressures: z.array(z.number()),
    rows: z.array(z.strictObject({ margin: samples, over: samples })),
  }),
  soak: z.strictObject({
    time: samples,
    rise: samples,
    low: samples,
    high: samples,
    wait: measuredValue,
    assumed: z.array(z.string()),
  }),
});

export type LimitPictures = z.infer<typeof limitPictures>;
export type StepControl = z.infer<typeof stepControl>;
export type Tightest = z.infer<typeof tightest>;
export type LimitRow = z.infer<typeof limitRow>;
export type PredictedLineView = z.infer<typeof predictedLine>;
export type RestsOn = z.infer<typeof restsOn>;
export type LimitsView = z.infer<typeof limitsView>;
export type NextLimitView = z.infer<typeof nextLimit>;
export type NextView = z.infer<typeof nextView>;
