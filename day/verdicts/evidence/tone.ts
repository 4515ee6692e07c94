import { sineFit } from '../../../core/numerics/index.ts';
import type { Series } from '../scene/series.ts';

/**
 * A steady swing: in [from, to] s the series follows one sine of `hertz` about a bent line. amplitude, deviation (of that amplitude): unit of the
 * series; share: of what is not the line, how much the sine explains [1].
 */
export interface Tone {
  readonly from: number;
  readonly to: number;
  readonly hertz: number;
  readonly amplitude: number;
  readonly deviation: number;
  readonly share: number;
}

/** What is looked for. low, high: Hz; cycles: that the swing must last; shortest: stretch looked at [s]; least: amplitude below which none is asked for. */
export interface ToneSought {
  readonly low: number;
  readonly high: number;
  readonly cycles: number;
  readonly shortest: number;
  readonly least?: number;
}

/** Frequencies looked at stand so far apart, over what a stretch can tell apart [1]: half of that off, a sine keeps 0.95 of its height. Stretches move on by this share of themselves. @source our default; a sine off by x: sin(πx)/(πx) */
const APART = 0.35;
const MOVES = 0.25;
/** Each half of a stretch must hold this share of the amplitude in the same phase: a single hump or a ringing that dies away does not. @source our default */
const LASTS = 0.55;
/** Share of a stretch that must have values. @source our default */
const THERE = 0.85;
/** Values so many deviations off the first fit are left out of the second. @source common practice, no source */
const ASTRAY = 3.5;

/** Steady swings of a series on equally spaced times, each of the stretches in which one lasts, the surest first. */
export function tonesOf(series: Series, { low, high, cycles, shortest, least = 0 }: ToneSought): readonly Tone[] {
  const { times } = series;
  const step = times.length > 1 ? times[1] - times[0] : 1;
  const highest = Math.min(high, 0.42 / step);
  const found: Tone[] = [];
  for (let hertz = low, size = 1; hertz <= highest; hertz += APART / (size * step)) {
    size = Math.round(Math.max(cycles / hertz, shortest) / step);
    for (let start = 0; start + size <= times.length; start += Math.max(1, Math.round(MOVES * size))) {
      const stretch = { start, end: start + size };
      if (staysBelow(series.values, stretch, least)) continue;
      const tone = toneIn(series, hertz, stretch);
      if (tone) found.push(tone);
    }
  }
  return found.sort((a, b) => b.amplitude / b.deviation - a.amplitude / a.deviation);
}

/** Amplitude of a frequency in [from, to] s of a series, whether it lasts or not; undefined where there are too few values. */
export function toneAt(
  { times, values }: Series,
  { hertz, from, to }: Pick<Tone, 'hertz' | 'from' | 'to'>,
): Pick<Tone, 'amplitude' | 'deviation'> | undefined {
  const start = times.findIndex((time) => time >= from);
  const beyond = times.findIndex((time) => time > to);
  if (start < 0) return undefined;
  return fitted({ times, values }, hertz, { start, end: beyond < 0 ? times.length : beyond });
}

interface Stretch {
  readonly start: number;
  readonly end: number;
}

interface Fitted extends Omit<Tone, 'from' | 'to' | 'hertz'> {
  /** What the sine explains in each half over what it does in the mean [1]. */
  readonly halves: readonly [number, number];
}

/**
 * True when no sine in a complete stretch can reach an amplitude A: all that moves beside a parabola is less than n·A²/4. A sine of several
 * cycles holds n·A²/2, and still 0.3·n·A² beside a parabola when the worst 15 % of the values are left out. False where values are missing.
 *
 * @source squares left over by the orthogonal polynomials 1, x, x² − (n² − 1)/12 over equally spaced places
 */
function staysBelow(values: Float64Array, { start, end }: Stretch, least: number): boolean {
  if (!(least > 0)) return false;
  const size = end - start;
  const middle = (size - 1) / 2;
  const level = values[start];
  const bend = (size * size - 1) / 12;
  let [sum, moment, bent, squares] = [0, 0, 0, 0];
  for (let k = 0; k < size; k++) {
    const value = values[start + k] - level;
    sum += value;
    const place = k - middle;
    moment += place * value;
    bent += (place * place - bend) * value;
    squares += value * value;
  }
  const line = (sum * sum) / size + (moment * moment) / (size * bend);
  const beside = squares - line - (15 * bent * bent) / (size * bend * (size * size - 4));
  return beside < 0.25 * size * least * least;
}

function toneIn(series: Series, hertz: number, stretch: Stretch): Tone | undefined {
  const fit = fitted(series, hertz, stretch);
  if (!fit || Math.min(...fit.halves) < LASTS) return undefined;
  const { amplitude, deviation, share } = fit;
  return {
    ...{ from: series.times[stretch.start], to: series.times[stretch.end - 1] },
    ...{ hertz, amplitude, deviation, share },
  };
}

/** @source `sineFit`; what the sine explains is held against the deviation of what is left over */
function fitted({ times, values }: Series, hertz: number, { start, end }: Stretch): Fitted | undefined {
  const step = (times[end - 1] - times[start]) / (end - 1 - start);
  const fewest = Math.max(9, THERE * (end - start));
  const fit = sineFit({ values, from: start, to: end, perStep: 2 * Math.PI * hertz * step, fewest, astray: ASTRAY });
  if (!fit) return undefined;
  const { amplitude, deviation, sinePower, spread, halves } = fit;
  return { amplitude, deviation, share: sinePower / (sinePower + spread ** 2), halves };
}
