import type { PullResult } from '../result.ts';
import { curvePeaks } from './peaks.ts';
import { steadyPart } from './steadiness.ts';

/** How far a window reaches into a smoothed curve to either side, times the bandwidth [1]. @source half the width of the smoothing kernel, whose outer half carries little weight: our default */
const REACH = 0.35;

/**
 * The same pull without the power in some windows of time: those points of the curve are void, and peaks are sought in the rest. The curve
 * is smoothed, so that what happened in a window spreads a little beyond it; that much is left out as well. Peaks of single samples and of
 * one second that lie in a window are dropped.
 *
 * @param windows [s] on the record's clock
 * @param factorSpread standard uncertainty of the ambient factor [1]
 */
export function withoutWindows(
  pull: PullResult,
  windows: readonly { readonly from: number; readonly to: number }[],
  factorSpread = 0,
): PullResult {
  if (windows.length === 0) return pull;
  const { curve } = pull;
  const reach = REACH / curve.bandwidth;
  const inside = (time: number): boolean => windows.some(({ from, to }) => time >= from - reach && time <= to + reach);
  const valid = curve.valid.map((ok, i) => (ok === 1 && !inside(curve.time[i]) ? 1 : 0));
  const left = { ...curve, valid };
  const others = pull.peaks.filter(({ basis, time }) => basis !== 'curve' && !inside(time));
  return { ...pull, curve: left, peaks: [...curvePeaks(steadyPart(left), factorSpread), ...others] };
}
