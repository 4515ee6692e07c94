import { LINE_KINDS } from './line-kinds.ts';
import { dutyOf, torqueOf } from './lines.ts';
import type { Observation } from './observations.ts';
import type { Numbers, OperatingPoint } from './operating-point.ts';
import { type Place, type Shared, whitening } from './whitening.ts';

/** What the model says of every observation with these numbers; undefined where it has no answer. */
export interface Told {
  readonly numbers: Numbers;
  readonly solved: readonly (OperatingPoint | undefined)[];
}

/**
 * A measured quantity: how far a point and a whole pull scatter about the model, and how far the model itself may be wrong at a place,
 * relative or absolute [SI].
 *
 * @source  our defaults; of the model: the same that a prediction carries, {@link LINE_KINDS}
 */
interface Measure extends Shared {
  readonly seen: (o: Observation) => number;
  readonly told: (point: OperatingPoint, numbers: Numbers, o: Observation) => number;
  readonly relative: boolean;
  readonly point: (o: Observation) => number;
}

const MEASURES: readonly Measure[] = [
  {
    seen: (o) => o.torque,
    told: (point, n, o) => torqueOf(n, o, point) * n.torqueScale,
    relative: true,
    point: (o) => o.torqueNoise,
    pull: 0.005,
    model: LINE_KINDS['engine torque'].share,
  },
  {
    seen: (o) => o.airFlow,
    told: ({ airFlow }) => airFlow,
    relative: true,
    point: () => 0.015,
    pull: 0.02,
    model: LINE_KINDS['air flow'].share,
  },
  {
    seen: (o) => o.fuelFlow,
    told: ({ fuelFlow }) => fuelFlow,
    relative: true,
    point: () => 0.015,
    pull: 0.02,
    model: LINE_KINDS['fuel flow'].share,
  },
  {
    seen: (o) => o.injectorDuty,
    told: ({ fuelFlow }, n, o) => dutyOf(n, o.speed, fuelFlow),
    relative: true,
    point: () => 0.012,
    pull: 0.015,
    model: LINE_KINDS['injector duty'].share,
  },
  {
    seen: (o) => o.turboSpeed,
    told: ({ turboSpeed }) => turboSpeed,
    relative: true,
    point: () => 0.006,
    pull: 0.005,
    model: LINE_KINDS['turbocharger speed'].share,
  },
  {
    seen: (o) => o.chargeTemperature,
    told: shownCharge,
    relative: false,
    point: () => 2,
    pull: 4,
    model: LINE_KINDS['charge temperature'].spread,
  },
  {
    seen: (o) => o.exhaustPressure,
    told: ({ exhaustPressure }) => exhaustPressure,
    relative: true,
    point: () => 0.02,
    pull: 0.01,
    model: LINE_KINDS['exhaust pressure'].share,
  },
  {
    seen: (o) => o.exhaustTemperature,
    told: ({ cycle }, n) => cycle.exhaustTemperature - n.probeShortfall,
    relative: false,
    point: () => 25,
    pull: 40,
    model: LINE_KINDS['exhaust temperature'].spread,
  },
];

/** Charge temperature as a sensor with a lag shows it: what is shown plus the lag times its slope is what there is. @source first-order lag */
export function shownCharge({ chargeTemperature }: OperatingPoint, { chargeLag }: Numbers, o: Observation): number {
  return chargeTemperature - chargeLag * o.chargeSlope;
}

/** Residuals beyond so many standard deviations count by their root [1]. @source our default: one bad point must not steer the fit */
const FARTHEST = 3;

/**
 * Independent residuals of unit variance from what the model says: those of what was measured, then that of what is believed of the whole.
 *
 * @param first what the model says before any fit: pulls that lie farthest from the others then come last, so that they are told from the others
 */
export function residualRule(points: readonly Observation[], first: Told): (told: Told) => Float64Array {
  const blocks = MEASURES.flatMap((measure) => blockOf(points, measure, first) ?? []);
  return (told) => {
    const found = blocks.flatMap(({ measure, own, white }) => [...robust(white(away(points, { measure, own }, told)))]);
    return Float64Array.from([...found, peakBelief(points, told)]);
  };
}

/** One quantity: which points have it, and how their residuals become independent. */
interface Block {
  readonly measure: Measure;
  readonly own: readonly number[];
  readonly white: (raw: ArrayLike<number>) => Float64Array;
}

function blockOf(points: readonly Observation[], measure: Measure, first: Told): Block | undefined {
  const own = points.flatMap((point, i) => (Number.isFinite(measure.seen(point)) ? [i] : []));
  if (own.length === 0) return undefined;
  const { redline } = first.numbers;
  const places: readonly Place[] = own.map((i) => {
    const { pull, speed, manifoldPressure: pressure } = points[i];
    return { pull, share: speed / redline, pressure, noise: measure.point(points[i]) };
  });
  const doubt = doubtOf(places, away(points, { measure, own }, first));
  const order = places.map((_, i) => i).sort((a, b) => doubt(places[a].pull) - doubt(places[b].pull) || a - b);
  return { measure, own, white: whitening(places, measure, order) };
}

/** How far a pull's mean residual lies from that of the middle pull. */
function doubtOf(places: readonly Place[], raw: Float64Array): (pull: number) => number {
  const byPull = new Map<number, number[]>();
  places.forEach(({ pull }, i) => {
    byPull.set(pull, [...(byPull.get(pull) ?? []), raw[i]]);
  });
  const means = new Map([...byPull].map(([pull, own]) => [pull, own.reduce((sum, r) => sum + r, 0) / own.length]));
  const sorted = [...means.values()].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)];
  return (pull) => Math.abs((means.get(pull) ?? middle) - middle);
}

/** Residuals of one quantity, relative or in its unit; 0 where the model has no answer. */
function away(
  points: readonly Observation[],
  { measure, own }: Pick<Block, 'measure' | 'own'>,
  { numbers, solved }: Told,
): Float64Array {
  return Float64Array.from(own, (i) => {
    const point = solved[i];
    const seen = measure.seen(points[i]);
    const told = point ? measure.told(point, numbers, points[i]) : Number.NaN;
    const found = measure.relative ? told / seen - 1 : told - seen;
    return Number.isFinite(found) ? found : 0;
  });
}

/** Residuals beyond the limit grow by the root only. @source Huber's loss as a residual: √(2k|r| − k²) */
function robust(residuals: Float64Array): Float64Array {
  return residuals.map((r) => {
    const size = Math.abs(r);
    return size <= FARTHEST ? r : Math.sign(r) * Math.sqrt(2 * FARTHEST * size - FARTHEST * FARTHEST);
  });
}

/**
 * Peak pressure over manifold pressure at full load, and its relative standard uncertainty [1]: no log shows peak pressure, and torque alone
 * leaves it free.
 *
 * @source  common practice, no source: 50 … 65 near best timing, less when late
 */
const USUAL_PEAK = { ratio: 55, share: 0.12 } as const;
/** The same where compression lights the charge. @source common practice, no source: 55 … 80 */
const USUAL_PEAK_COMPRESSION = { ratio: 68, share: 0.15 } as const;

/** One residual: the mean peak pressure over the day's points against the usual one; nothing is said of naturally aspirated engines. */
function peakBelief(points: readonly Observation[], { numbers, solved }: Told): number {
  const usual = Number.isFinite(numbers.halfBurned) ? USUAL_PEAK_COMPRESSION : USUAL_PEAK;
  let sum = 0;
  let count = 0;
  points.forEach(({ manifoldPressure, ambientPressure }, i) => {
    const point = solved[i];
    if (!point || manifoldPressure < 1.1 * ambientPressure) return;
    sum += point.cycle.peakPressure / (usual.ratio * manifoldPressure);
    count += 1;
  });
  return count > 0 ? (sum / count - 1) / usual.share : 0;
}
