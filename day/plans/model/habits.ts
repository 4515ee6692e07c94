import { householderQr, inverseNormalMatrix, leastSquaresSolution } from '../../../core/numerics/index.ts';
import { type Measured, measured } from '../../../core/quantities/index.ts';
import type { FuelName } from '../../pulls/index.ts';
import type { Habits } from './engine-model.ts';

const DEGREE = Math.PI / 180;

/** What the control did at one place of a clean pull, SI. */
export interface Habit {
  readonly speed: number;
  readonly pressure: number;
  readonly value: number;
}

export interface SeenHabits {
  readonly timing: readonly Habit[];
  readonly lambda: readonly Habit[];
  readonly camPhase: readonly Habit[];
  readonly loadTime: readonly Habit[];
}

/** Usual value over speed and pressure, how far an engine may lie from it, and scatter within a pull. */
interface Belief {
  readonly usual: (speed: number, pressure: number) => number;
  /** Of level, slope and bend over speed (per half the redline), and slope over pressure (per 100 kPa). */
  readonly spreads: readonly [number, number, number, number];
  readonly scatter: number;
}

/** Best mixture for full load by fuel [1]. @source common practice, no source */
export const FULL_LOAD_LAMBDA: Readonly<Record<FuelName, number>> = {
  petrol: 0.82,
  'ethanol blend': 0.82,
  methanol: 0.8,
  methane: 1,
  LPG: 0.88,
  diesel: 1.3,
};

/**
 * What the control asks for over engine speed and manifold pressure: a usual engine's, moved by what was seen.
 *
 * Level, slope and bend over speed and a slope over pressure are fitted with spreads of the trade, outliers weighted down; far from
 * what was seen the uncertainty grows back.
 *
 * @source  spreads: our default; timing near 26° at 100 kPa less 0.09° per kPa: common practice, no source
 */
export function habitsOf(seen: SeenHabits, { redline, fuel }: { redline: number; fuel: FuelName | undefined }): Habits {
  const line = (habits: readonly Habit[], belief: Belief) => fitted(habits, belief, redline);
  const mixture = FULL_LOAD_LAMBDA[fuel ?? 'petrol'];
  return {
    timing: line(seen.timing, {
      usual: (speed, p) => (26 - 0.09 * (p / 1000 - 100) + 8 * (speed / redline - 0.65)) * DEGREE,
      spreads: [5 * DEGREE, 4 * DEGREE, 4 * DEGREE, 3 * DEGREE],
      scatter: 0.5 * DEGREE,
    }),
    lambda: line(seen.lambda, {
      usual: () => mixture,
      spreads: fuel === 'diesel' ? [0.15, 0.1, 0.1, 0.1] : [0.04, 0.02, 0.02, 0.02],
      scatter: fuel === 'diesel' ? 0.02 : 0.008,
    }),
    camPhase:
      seen.camPhase.length > 0
        ? line(seen.camPhase, {
            usual: () => 0,
            spreads: [8 * DEGREE, 8 * DEGREE, 8 * DEGREE, 2 * DEGREE],
            scatter: 0.6 * DEGREE,
          })
        : () => measured(0, 0),
    loadTime: line(seen.loadTime, {
      usual: (speed) => USUAL_PULL.seconds * ((speed / redline - USUAL_PULL.from) / (1 - USUAL_PULL.from)),
      spreads: [5, 6, 3, 1],
      scatter: 1,
    }),
  };
}

/** A pull from this share of the redline to it takes so long [s]. @source common practice, no source: 8 … 15 s */
const USUAL_PULL = { from: 0.33, seconds: 11 } as const;

const basisAt = (redline: number, speed: number, pressure: number): readonly number[] => {
  const u = (speed / redline - 0.65) * 2;
  return [1, u, u * u, (pressure - 180e3) / 100e3];
};

/** Beyond so many standard deviations an observation counts less [1]. @source Huber's usual 1.345; our rounding */
const HUBER = 1.5;
const ROUNDS = 6;

function fitted(
  habits: readonly Habit[],
  { usual, spreads, scatter }: Belief,
  redline: number,
): (speed: number, pressure: number) => Measured {
  const n = spreads.length;
  const rows = habits.length + n;
  const weights = new Float64Array(habits.length).fill(1);
  let solution: Float64Array = new Float64Array(n);
  let covariance: Float64Array = new Float64Array(n * n);
  for (let round = 0; round < ROUNDS; round++) {
    const values = new Float64Array(rows * n);
    const target = new Float64Array(rows);
    habits.forEach(({ speed, pressure, value }, i) => {
      const weight = Math.sqrt(weights[i]) / scatter;
      basisAt(redline, speed, pressure).forEach((b, j) => {
        values[i * n + j] = b * weight;
      });
      target[i] = (value - usual(speed, pressure)) * weight;
    });
    spreads.forEach((spread, j) => {
      values[(habits.length + j) * n + j] = 1 / spread;
    });
    const qr = householderQr({ rows, columns: n, values });
    solution = leastSquaresSolution(qr, target);
    covariance = inverseNormalMatrix(qr);
    habits.forEach(({ speed, pressure, value }, i) => {
      const model = basisAt(redline, speed, pressure).reduce((sum, b, j) => sum + b * solution[j], 0);
      const away = Math.abs(value - usual(speed, pressure) - model) / scatter;
      // bisquare after Huber: whole pulls with another setting must not pull
      weights[i] = away <= HUBER ? 1 : (HUBER / away) ** 2;
    });
  }
  return (speed, pressure) => {
    const basis = basisAt(redline, speed, pressure);
    const value = usual(speed, pressure) + basis.reduce((sum, b, j) => sum + b * solution[j], 0);
    let square = scatter * scatter;
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) square += basis[i] * basis[j] * covariance[i * n + j];
    return measured(value, Math.sqrt(square));
  };
}
