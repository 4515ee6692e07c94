import type { FitSamples, SpeedFit } from './speed-fit.ts';

export interface WindowedLags {
  readonly lags: readonly { readonly time: number; readonly lag: number }[];
  /** Root mean square, weighted by how well each window knows its lag [s]; NaN without windows. */
  readonly residual: number;
}

/** Length of a window [s]. @source our default */
const WINDOW = 1;
/** A window that knows its lag worse than this is not shown [s]. @source our default */
const WORST = 0.05;

/** Lag left over in windows of 1 s: −Σ w·s·r / Σ w·s², s the relative change of speed per second, r the residual. */
export function windowedLags(samples: FitSamples, fit: SpeedFit, cells: readonly number[]): WindowedLags {
  const windows = new Map<number, { sr: number; ss: number; t: number; n: number }>();
  for (let i = 0; i < samples.time.length; i++) {
    const w = fit.weights[i];
    if (w === 0 || !cells.includes(samples.cell[i])) continue;
    const key = Math.floor(samples.time[i] / WINDOW);
    const sum = windows.get(key) ?? { sr: 0, ss: 0, t: 0, n: 0 };
    sum.sr += w * fit.sensitivity[i] * fit.residuals[i];
    sum.ss += w * fit.sensitivity[i] ** 2;
    sum.t += samples.time[i];
    sum.n++;
    windows.set(key, sum);
  }
  const lags: { time: number; lag: number }[] = [];
  let squares = 0;
  let weight = 0;
  for (const { sr, ss, t, n } of windows.values()) {
    if (!(fit.spread / Math.sqrt(ss) < WORST)) continue;
    const lag = -sr / ss;
    lags.push({ time: t / n, lag });
    squares += ss * lag * lag;
    weight += ss;
  }
  return { lags, residual: weight > 0 ? Math.sqrt(squares / weight) : Number.NaN };
}
