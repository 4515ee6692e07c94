import { type GridSignal, type LagPeaks, lagCurve, lagPeaks } from './lagged.ts';
import type { SignalPair } from './pairing.ts';
import type { Signal } from './signal.ts';
import { curveInto, type PointOfCurve, type SmoothPiece, smoothed } from './smooth.ts';

/** Both sides of a pair, seen through the same window. */
export interface SmoothPair {
  readonly pair: SignalPair;
  readonly own: readonly SmoothPiece[];
  readonly other: readonly SmoothPiece[];
  /** Both through a wider window, piece by piece: slopes quiet enough to be a regressor, and how noisy they are [1/s]. */
  readonly ownWide: readonly SmoothPiece[];
  readonly otherWide: readonly SmoothPiece[];
  readonly slopeNoise: { readonly own: number; readonly other: number };
  readonly halfWidth: number;
}

/** Half width of the window through which both clocks are seen: 0.1 s, more for slow logs [s]. @source our default */
export function smoothPair(pair: SignalPair): SmoothPair {
  const halfWidth = Math.max(0.1, SAMPLES * pair.own.period, SAMPLES * pair.other.period);
  const own = upright(pair.own);
  const other = upright(pair.other);
  const wide = Math.max(halfWidth, SLOPE_WINDOW);
  const ownWide = smoothed(own, wide);
  const otherWide = smoothed(other, wide);
  return {
    pair,
    own: smoothed(own, halfWidth),
    other: smoothed(other, halfWidth),
    ownWide,
    otherWide,
    slopeNoise: { own: slopeNoise(ownWide), other: slopeNoise(otherWide) },
    halfWidth,
  };
}

/** Half width of the window in samples of the slower log; fewer bend the two sides differently. @source our default */
const SAMPLES = 2.2;
/** Half width of the window for slopes [s]; in a narrower one the noise of a 100 Hz engine speed outweighs its slope. @source our default */
const SLOPE_WINDOW = 0.2;

/** Noise of the relative slope d ln v/dt, from second differences over independent windows [1/s]. */
function slopeNoise(pieces: readonly SmoothPiece[]): number {
  const bends: number[] = [];
  for (const { values, slopes } of pieces) {
    for (let k = 2; k + 2 < values.length; k++) {
      const bend = Math.abs(slopes[k - 2] - 2 * slopes[k] + slopes[k + 2]) / Math.abs(values[k]);
      if (Number.isFinite(bend)) bends.push(bend);
    }
  }
  bends.sort((a, b) => a - b);
  return Math.max(1e-6, (1.4826 / Math.sqrt(6)) * (bends[bends.length >> 1] ?? 1));
}

/** A group of pieces of one side against a group of the other. */
export interface GroupPeaks extends LagPeaks {
  readonly ownGroup: number;
  readonly otherGroup: number;
}

export interface LagRange {
  readonly from: number;
  readonly to: number;
}

/** Lag hills of one group against another, from the rate of change of both; undefined when one of them never changes. */
export function groupPeaks(
  smooth: SmoothPair,
  groups: { readonly own: number; readonly other: number },
  range?: LagRange,
): GroupPeaks | undefined {
  const own = smooth.ownWide.filter((piece) => piece.group === groups.own);
  const other = smooth.otherWide.filter((piece) => piece.group === groups.other);
  const peaks = piecePeaks(smooth, { own, other }, range);
  return peaks && { ...peaks, ownGroup: groups.own, otherGroup: groups.other };
}

export function piecePeaks(
  smooth: SmoothPair,
  pieces: { readonly own: readonly SmoothPiece[]; readonly other: readonly SmoothPiece[] },
  range?: LagRange,
): LagPeaks | undefined {
  const step = gridStep(smooth, pieces);
  const both = changesOfBoth(smooth, pieces, step);
  return both && lagPeaks(lagCurve(both.own, both.other), range);
}

/** 50 Hz, coarser for slow or very long logs [s]. */
export function gridStep(
  { pair }: SmoothPair,
  pieces: { readonly own: readonly SmoothPiece[]; readonly other: readonly SmoothPiece[] },
): number {
  const span = (side: readonly SmoothPiece[]): number =>
    side.length > 0 ? side[side.length - 1].end - side[0].start : 0;
  return Math.max(
    0.02,
    Math.max(pair.own.period, pair.other.period) / 4,
    (span(pieces.own) + span(pieces.other)) / 200_000,
  );
}

/**
 * Rates of change of both sides on an even grid. Speeds: of ln(v + floor), which is alike in every gear; the floor (30 % of the
 * top) keeps walking pace from ruling. Both are capped at what the roller itself shows (1.2 times its 80 % quantile): a vehicle cannot
 * be quicker, so a blip with the clutch open does not rule either.
 */
export function changesOfBoth(
  { pair }: SmoothPair,
  pieces: { readonly own: readonly SmoothPiece[]; readonly other: readonly SmoothPiece[] },
  step: number,
): { readonly own: GridSignal; readonly other: GridSignal } | undefined {
  const own = changes(pieces.own, step, pair.by);
  const other = changes(pieces.other, step, pair.by);
  if (own === undefined || other === undefined) return undefined;
  const cap = capOf(own.samples);
  capInto(own.samples, cap);
  capInto(other.samples, pair.by === 'speeds' ? cap : capOf(other.samples));
  return cap > 0 ? { own, other } : undefined;
}

function changes(pieces: readonly SmoothPiece[], step: number, by: SignalPair['by']): GridSignal | undefined {
  if (pieces.length === 0) return undefined;
  const start = pieces[0].start;
  const count = Math.floor((pieces[pieces.length - 1].end - start) / step) + 1;
  const samples = new Float64Array(count);
  const seen = new Float64Array(count);
  const floor = by === 'speeds' ? 0.3 * top(pieces) : Number.NaN;
  const point: PointOfCurve = { value: 0, slope: 0 };
  for (const piece of pieces) {
    const inside = [piece];
    const to = Math.min(count - 1, Math.floor((piece.end - start) / step));
    for (let i = Math.max(0, Math.ceil((piece.start - start) / step)); i <= to; i++) {
      curveInto(point, inside, start + i * step);
      if (Number.isNaN(point.slope)) continue;
      samples[i] = by === 'speeds' ? point.slope / (Math.max(0, point.value) + floor) : point.slope;
      seen[i] = 1;
    }
  }
  return { start, step, samples, seen };
}

/** 1.2 times the 80 % quantile of what moves at all (above a tenth of the rms). */
function capOf(samples: Float64Array): number {
  let sum = 0;
  for (const x of samples) sum += x * x;
  const least = 0.1 * Math.sqrt(sum / samples.length);
  const moving = samples
    .map((x) => Math.abs(x))
    .filter((x) => x > least)
    .sort();
  return moving.length > 0 ? 1.2 * moving[Math.floor(0.8 * (moving.length - 1))] : 0;
}

function capInto(samples: Float64Array, cap: number): void {
  for (let i = 0; i < samples.length; i++) samples[i] = Math.max(-cap, Math.min(cap, samples[i]));
}

function top(pieces: readonly SmoothPiece[]): number {
  let largest = 0;
  for (const piece of pieces) for (const value of piece.values) if (value > largest) largest = value;
  return largest;
}

/** A speed that was logged with the sign of driving backwards is turned round. */
function upright(signal: Signal): Signal {
  let sum = 0;
  for (const value of signal.values) sum += value;
  return sum >= 0 ? signal : { ...signal, values: signal.values.map((value) => -value) };
}
