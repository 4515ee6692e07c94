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

/**
 * How warm the charge cooler is taken to be: start, end: what cools the charge above the air outside when the load begins and at the redline [K]; water [K] and
 * ice [kg] of its tank when the load begins. sentence: the same in words, with what would change it.
 */
export const coolerView = z.strictObject({
  kind: z.enum(['air-to-air', 'water-to-air']),
  origin: z.enum(['asked', 'pulls of the day', 'usual values']),
  start: measuredValue,
  end: measuredValue,
  water: z.number().optional(),
  ice: z.number().optional(),
  sentence: z.string(),
});

/**
 * The charge cooler over equal pulls with equal pauses [s]. start, end: above the air outside [K]; charge: behind it at the end [K]; heat: from the charge [J];
 * water [K], ice [kg] of the tank at the end. ready: how long until the next pull finds it as this one did, in words; wait [s]: where there is one.
 */
export const coolerSeries = z.strictObject({
  pause: z.number(),
  pulls: z.array(
    z.strictObject({
      start: z.number(),
      end: z.number(),
      charge: sample,
      heat: z.number(),
      water: z.number().optional(),
      ice: z.number().optional(),
    }),
  ),
  ready: z.string(),
  wait: measuredValue.optional(),
  iceFor: z.number().optional(),
  assumed: z.array(z.string()),
});

/** Where a margin is smallest: engine speed [rad/s], margin [1], chance that the limit is passed there [1]. */
export const tightest = z.strictObject({
  speed: z.number(),
  margin: z.number(),
  marginUncertainty: sample,
  over: z.number(),
});

/** Something unknown that a limit rests on, by its name in `values`; fact: where a person can state it. */
export const unknownFact = z.strictObject({ name: z.string(), title: z.string(), fact: z.string().optional() });

/**
 * One limit over the engine speeds of the answer; SI by `kind`. kept: share of the bare limit held back already. why: nothing can be said, and why.
 * unknown: what nobody stated and what would sharpen it. tightest: absent where nothing is known.
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
  /** What it is held against is a usual value of the trade that nobody stated. */
  usual: z.literal(true).optional(),
  /** The engine has no such part. */
  applies: z.literal(false).optional(),
  missing: z.array(z.string()),
  assumed: z.array(z.string()),
  unknown: z.array(unknownFact),
  /** Borders that the day itself showed, in words. */
  learnt: z.array(z.string()).optional(),
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
  /** Absent without a compressor. */
  cooler: coolerView.optional(),
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

/** limit: name of one; absent: all that are known. keep: share of the bare limit kept in hand, as written. */
export const roomQuery = limitsQuery.extend({
  limit: z.string().max(60).optional(),
  keep: z.string().max(20).optional(),
});

/** A manifold pressure [Pa] and the limit that sets it. */
const setBy = z.strictObject({ manifoldPressure: z.number(), standardUncertainty: sample, limit: z.string() });

/**
 * Highest manifold pressure by engine speed [rad/s] that the known limits allow. even: even odds; safe: nineteen times of twenty. Without either nothing known
 * is passed up to `within` [Pa]. passed: limits that are passed whatever the pressure. judged: pulls held such a pressure there, or none tells.
 */
export const roomView = z.strictObject({
  rows: z.array(
    z.strictObject({
      speed: z.number(),
      even: setBy.optional(),
      safe: setBy.optional(),
      within: sample,
      passed: z.array(z.string()),
      judged: z.boolean(),
    }),
  ),
  keep: z.number().optional(),
  unknown: z.array(z.string()),
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
    choke: mapLine,
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
    series: coolerSeries,
  }),
});

/** The engine of the day stands. pulls: how many it is calibrated to. */
export const engineReady = z.strictObject({ pulls: z.number() });

/** speed: `5000 rpm`; absent: where the loads are tightest. */
export const crankQuery = limitsQuery.extend({ speed: z.string().max(40).optional() });

/**
 * A limit of the loads at one engine speed, SI by `kind`. angle: where over the cycle it is asked [rad], null when that is not known.
 * sign: −1 where it is drawn downwards (tension). why: nothing can be said, and why.
 */
export const crankLimit = z.strictObject({
  name: z.string(),
  title: z.string(),
  kind: quantityKind,
  sign: z.union([z.literal(1), z.literal(-1)]),
  angle: sample,
  required: sample,
  requiredUncertainty: sample,
  available: sample,
  availableUncertainty: sample,
  margin: sample,
  over: sample,
  why: z.string().optional(),
  unknown: z.array(unknownFact),
});

/**
 * One cylinder over a cycle at one engine speed [rad/s]; arrays as long as `angle` [rad after firing top dead centre]. pressure [Pa]; gas, inertia: on the
 * piston, rod: along the rod, compression positive [N]. film: thinnest oil film of the big end [m]. why: it cannot be drawn, and why.
 */
export const crankView = z.strictObject({
  speed: z.number(),
  speeds: z.array(z.number()),
  angle: samples,
  pressure: samples,
  gas: samples,
  inertia: samples,
  rod: samples,
  film: z.number().optional(),
  limits: z.array(crankLimit),
  why: z.string().optional(),
});

/**
 * Where the clean pulls of the day stood on the compressor map, in the order of the day; arrays as long as `speed` of the engine [rad/s]. measured: the air
 * flow was logged; else it is that of the calibrated engine. why: there are none, and why.
 */
export const mapPoints = z.strictObject({
  pulls: z.array(
    mapLine.extend({
      entry: z.string(),
      title: z.string(),
      speed: samples,
      manifoldPressure: samples,
      flowUncertainty: samples,
      pressureRatioUncertainty: samples,
      measured: z.boolean(),
    }),
  ),
  why: z.string().optional(),
});

const written = z.string().max(40).optional();
/** from: id of an entry; absent: the one that made most. The rest as written, with units; what is absent stays. */
export const scaledQuery = z.strictObject({
  from: z.string().max(200).optional(),
  displacement: written,
  cylinders: written,
  ambientPressure: written,
  ambientTemperature: written,
});

/** What is carried: a value in SI, and whether somebody stated it. */
const carriedValue = z.strictObject({ value: z.number(), stated: z.boolean() });

/** To what it is carried, in SI; what is absent stays. */
const carriedTo = z.strictObject({
  displacement: z.number().optional(),
  cylinders: z.number().optional(),
  ambientPressure: z.number().optional(),
  ambientTemperature: z.number().optional(),
});

/**
 * A result carried to another engine or other air. torque [N·m], power [W] and speed [rad/s] before and after, with standard uncertainties; share: of the carrying
 * alone [1]. why: nothing can be carried, and why.
 */
export const scaledView = z.strictObject({
  sources: z.array(z.strictObject({ entry: z.string(), title: z.string(), power: z.number() })),
  from: z.string().optional(),
  engine: z
    .strictObject({
      displacement: carriedValue,
      cylinders: carriedValue,
      ambientPressure: carriedValue,
      ambientTemperature: carriedValue,
      pressureHeld: z.boolean(),
    })
    .optional(),
  to: carriedTo.optional(),
  rows: z.array(
    z.strictObject({
      what: z.enum(['torque', 'power']),
      before: measuredValue,
      speed: z.number(),
      after: measuredValue,
      speedAfter: z.number(),
    }),
  ),
  share: z.number().optional(),
  factors: z.array(z.strictObject({ name: z.string(), factor: z.number() })),
  doesNotScale: z.array(z.string()),
  why: z.string().optional(),
});

export type CoolerView = z.infer<typeof coolerView>;
export type CoolerSeriesView = z.infer<typeof coolerSeries>;
export type RoomView = z.infer<typeof roomView>;
export type MapPointsView = z.infer<typeof mapPoints>;
export type ScaledView = z.infer<typeof scaledView>;
export type CrankLimit = z.infer<typeof crankLimit>;
export type CrankView = z.infer<typeof crankView>;
export type UnknownFact = z.infer<typeof unknownFact>;
export type LimitPictures = z.infer<typeof limitPictures>;
export type StepControl = z.infer<typeof stepControl>;
export type Tightest = z.infer<typeof tightest>;
export type LimitRow = z.infer<typeof limitRow>;
export type PredictedLineView = z.infer<typeof predictedLine>;
export type RestsOn = z.infer<typeof restsOn>;
export type LimitsView = z.infer<typeof limitsView>;
export type NextLimitView = z.infer<typeof nextLimit>;
export type NextView = z.infer<typeof nextView>;
