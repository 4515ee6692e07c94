import { posteriorMode } from '../../../core/numerics/index.ts';
import type { CycleEngine } from '../../../core/physics/index.ts';
import { USUAL_SOAK_SCATTER } from './coolant.ts';
import type { Habits } from './engine-model.ts';
import { torqueOf } from './lines.ts';
import type { Observation, Observations } from './observations.ts';
import {
  type Engine,
  type EngineParts,
  engineAt,
  type Numbers,
  type OperatingPoint,
  type Query,
} from './operating-point.ts';
import { KNOTS, knotName, type Parameter } from './parameters.ts';
import { residualRule, shownCharge, type Told } from './residuals.ts';

export interface CalibrationInput extends EngineParts {
  readonly engine: CycleEngine;
  readonly parameters: readonly Parameter[];
  /** Numbers that no fit moves. */
  readonly numbers: Numbers;
  readonly observations: Observations;
  readonly habits: Habits;
}

/** parameters as fitted; covariance: row after row, in their own units; misfit: root mean square of the whitened residuals. */
export interface Calibration {
  readonly parameters: readonly {
    readonly name: string;
    readonly value: number;
    readonly standardUncertainty: number;
  }[];
  readonly covariance: Float64Array;
  readonly misfit: number;
  /** Relative standard deviation of torque from pull to pull [1]: that of the trade, moved by what the day's pulls did. */
  readonly repeat: number;
  /** How far the charge cooler's warmth scatters from pull to pull [K], and how many pulls told. */
  readonly soakScatter: { readonly value: number; readonly pulls: number };
  readonly residuals: number;
  readonly converged: boolean;
  readonly steps: number;
}

/** Parameters that leave the cycle alone where charge temperature and exhaust pressure are measured. */
const BESIDE_CYCLE: ReadonlySet<string> = new Set([
  ...[
    'mapSpeed',
    'mapEfficiency',
    'coolerFlow',
    'chargeLag',
    'soakStart',
    'soakRate',
    'probeShortfall',
    'torqueScale',
    'workScale',
    'workByPressure',
    'workBySpeed',
    'workByTiming',
    'turbineArea',
    'turbineEfficiency',
  ],
  ...['compressorEfficiency', 'coolerEffectiveness', 'inletLoss', 'coolerLoss', 'exhaustLoss', 'injectorFlow'],
  ...['injectorDeadTime'],
]);
const PHASE: ReadonlySet<string> = new Set(['phaseEffect', 'phaseSlope', 'phaseBend']);
const DIFFERENCE = 0.1;

/** Most probable parameters from what the clean pulls showed and what was believed before. @source {@link posteriorMode} */
export function calibrated(input: CalibrationInput): Calibration {
  const { parameters, observations } = input;
  const engine = engineAt(input);
  const points = observations.points;
  const queries = points.map((point) => queryOf(point, input.habits));
  const numbersAt = (z: Float64Array): Numbers => {
    const numbers: Record<string, number> = { ...input.numbers };
    parameters.forEach(({ name, mean, spread, low, high }, j) => {
      numbers[name] = Math.min(high, Math.max(low, mean + spread * z[j]));
    });
    return numbers;
  };
  let last: Told | undefined;
  let rule: ((told: Told) => Float64Array) | undefined;
  const residuals = (z: Float64Array): Float64Array => {
    const numbers = numbersAt(z);
    const solved = queries.map((query) => engine.at(numbers, query, false));
    last = { numbers, solved };
    rule ??= residualRule(points, last);
    return rule(last);
  };
  const jacobian = (z: Float64Array, base: Float64Array): Float64Array => {
    residuals(z);
    const start = last;
    if (!start) return new Float64Array(0);
    const slopes = new Float64Array(base.length * parameters.length);
    parameters.forEach(({ name }, j) => {
      const moved = z.slice();
      moved[j] += DIFFERENCE;
      const numbers = numbersAt(moved);
      const solved = start.solved.map((point, i) => movedPoint(engine, name, { point, query: queries[i], numbers }));
      const found = rule?.({ numbers, solved }) ?? base;
      for (let i = 0; i < base.length; i++) slopes[i * parameters.length + j] = (found[i] - base[i]) / DIFFERENCE;
    });
    return slopes;
  };
  const mode = posteriorMode({ residuals, jacobian, size: parameters.length, tolerance: 0.05, maxSteps: 8 });
  const numbers = numbersAt(mode.z);
  const solved = queries.map((query) => engine.at(numbers, query, false));
  return {
    ...inOwnUnits(parameters, numbers, mode),
    repeat: repeatOf(points, { numbers, solved }),
    soakScatter: soakScatterOf(points, { numbers, solved }),
  };
}

/** Repeat of torque in the trade [1] and how many pulls' worth that is believed. @source common practice, no source: 0.3 … 0.5 % is very good; weight: our default */
const USUAL_REPEAT = { share: 0.005, pulls: 4 } as const;

/** @source pooled variance of the pulls' mean residuals and the usual one */
function repeatOf(points: readonly Observation[], { numbers, solved }: Told): number {
  const byPull = new Map<number, number[]>();
  points.forEach((o, i) => {
    const point = solved[i];
    const away = point ? (torqueOf(numbers, o, point) * numbers.torqueScale) / o.torque - 1 : Number.NaN;
    if (Number.isFinite(away)) byPull.set(o.pull, [...(byPull.get(o.pull) ?? []), away]);
  });
  let sum = USUAL_REPEAT.pulls * USUAL_REPEAT.share ** 2;
  for (const own of byPull.values()) sum += (own.reduce((total, away) => total + away, 0) / own.length) ** 2;
  return Math.sqrt(sum / (USUAL_REPEAT.pulls + Math.max(0, byPull.size - 1)));
}

/** @source pooled variance of the pulls' mean residuals of charge temperature, over the cooler's effectiveness, and the usual one */
function soakScatterOf(points: readonly Observation[], { numbers, solved }: Told): Calibration['soakScatter'] {
  const byPull = new Map<number, number[]>();
  points.forEach((o, i) => {
    const point = solved[i];
    const away = point ? shownCharge(point, numbers, o) - o.chargeTemperature : Number.NaN;
    if (Number.isFinite(away)) byPull.set(o.pull, [...(byPull.get(o.pull) ?? []), away]);
  });
  const { kelvin, pulls } = USUAL_SOAK_SCATTER;
  const share = Math.max(0.3, numbers.coolerEffectiveness);
  let sum = pulls * kelvin ** 2;
  for (const own of byPull.values()) {
    sum += (own.reduce((total, away) => total + away, 0) / own.length / share) ** 2;
  }
  return { value: Math.sqrt(sum / (pulls + Math.max(0, byPull.size - 1))), pulls: byPull.size };
}

function inOwnUnits(
  parameters: readonly Parameter[],
  numbers: Numbers,
  mode: ReturnType<typeof posteriorMode>,
): Omit<Calibration, 'repeat' | 'soakScatter'> {
  const n = parameters.length;
  const count = mode.residuals.length;
  const misfit = count > 0 ? Math.sqrt(mode.residuals.reduce((sum, r) => sum + r * r, 0) / count) : 0;
  // what the model cannot follow widens its band, never narrows it
  const wider = Math.max(1, misfit) ** 2;
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const widened = Math.min(
        wider,
        1 / Math.max(1e-9, Math.sqrt(mode.covariance[i * n + i] * mode.covariance[j * n + j])),
      );
      covariance[i * n + j] =
        parameters[i].spread * parameters[j].spread * mode.covariance[i * n + j] * Math.max(1, widened);
    }
  }
  return {
    parameters: parameters.map(({ name }, j) => ({
      name,
      value: numbers[name],
      standardUncertainty: Math.sqrt(covariance[j * n + j]),
    })),
    covariance,
    misfit,
    residuals: count,
    converged: mode.converged,
    steps: mode.steps,
  };
}

/** The point again with one parameter moved: as little of it as that parameter touches. */
function movedPoint(
  engine: Engine,
  name: string,
  { point, query, numbers }: { point: OperatingPoint | undefined; query: Query; numbers: Numbers },
): OperatingPoint | undefined {
  if (!point) return undefined;
  const measured = query.exhaustPressure !== undefined && query.chargeTemperature !== undefined;
  if (BESIDE_CYCLE.has(name) && measured) return engine.airAgain(numbers, query, point);
  if (PHASE.has(name) && query.camPhase === 0) return point;
  const share = KNOTS.findIndex((knot) => knotName(knot) === name);
  if (share >= 0 && !touches(share, query.speed / numbers.redline)) return point;
  const start = { chargeTemperature: point.chargeTemperature, exhaustPressure: point.exhaustPressure };
  return engine.at(numbers, { ...query, start }, false);
}

function touches(knot: number, share: number): boolean {
  const below = knot === 0 ? Number.NEGATIVE_INFINITY : KNOTS[knot - 1];
  const above = knot === KNOTS.length - 1 ? Number.POSITIVE_INFINITY : KNOTS[knot + 1];
  return share > below && share < above;
}

function queryOf(o: Observation, habits: Habits): Query {
  const or = (value: number, otherwise: number): number => (Number.isFinite(value) ? value : otherwise);
  const known = (value: number): number | undefined => (Number.isFinite(value) ? value : undefined);
  return {
    speed: o.speed,
    manifoldPressure: o.manifoldPressure,
    timing: or(o.timing, habits.timing(o.speed, o.manifoldPressure).value + o.timingShift),
    timingShift: o.timingShift,
    lambda: or(o.lambda, habits.lambda(o.speed, o.manifoldPressure).value),
    camPhase: or(o.camPhase, 0),
    ambientTemperature: o.ambientTemperature,
    ambientPressure: o.ambientPressure,
    humidityRatio: o.humidityRatio,
    soak: undefined,
    loadTime: o.loadTime,
    inletLoss: 0,
    chargeTemperature: known(o.chargeTemperature),
    exhaustPressure: known(o.exhaustPressure),
  };
}
