import type { Finding } from '../../../core/quantities/index.ts';
import type { PowerCurve } from '../curve.ts';
import { type ChainInputs, type ChainLines, powerChain } from './chain.ts';
import { type Noise, randomNoise } from './noise.ts';
import { type PullReading, type PullSources, pullReading } from './signals.ts';

/** The same pull smoothed to some bandwidth. */
export interface SmoothedLines {
  readonly lines: ChainLines;
  readonly noise: Noise;
}

/** What the smoothing may have changed, as long as `time`: one standard deviation [W], and whether the curve can be trusted there (1). */
export interface Steadiness {
  readonly change: Noise;
  readonly steady: Uint8Array;
}

/** Change by the smoothing, as a share of the power, from which a point is not taken for a peak [1]. @source our default */
const UNSTEADY = 0.02;

/** What is known beside the signals: force zero [N], the chain's inputs, how far the clocks may be apart [s] and engine speed wrong [1]. */
interface Known {
  readonly zero: number;
  readonly inputs: ChainInputs;
  readonly lag: number;
  readonly axis: number;
}

/** The random part of the uncertainty along a pull, noise and smoothing together [W], and where the curve is steady (1). */
export function randomPart(
  { reading, lines }: { reading: PullReading; lines: ChainLines },
  sources: Omit<PullSources, 'forceZero'>,
  { zero, ...known }: Known,
): { random: Noise; steady: Uint8Array } {
  const noise = randomNoise(reading, lines, known);
  const bandwidth = Math.min(2 * sources.bandwidth, sources.side.refreshRate / 2.5);
  const sharp = pullReading({ ...sources, bandwidth, forceZero: zero });
  const sharpLines = powerChain(sharp.signals, known.inputs);
  const sharper = { lines: sharpLines, noise: randomNoise(sharp, sharpLines, known) };
  const { change, steady } = steadiness({ lines, noise }, sharper, reading.signals.time);
  const both = (which: keyof Noise): Float64Array =>
    noise[which].map((watts, i) => Math.hypot(watts, change[which][i]));
  return { random: { roll: both('roll'), tyre: both('tyre'), engine: both('engine') }, steady };
}

/** The curve without the points from which no peak is taken; all of it where nothing would be left. */
export function steadyPart(curve: PowerCurve): PowerCurve {
  const { steady } = curve;
  if (!steady) return curve;
  const valid = curve.valid.map((ok, i) => (ok === 1 && steady[i] === 1 ? 1 : 0));
  return valid.includes(1) ? { ...curve, valid } : curve;
}

/** To either side of a quick change the curve rings for so long [s]. @source the width of the smoothing at 1.5 Hz */
const REACH = 0.46;

/**
 * How much the smoothing changes the powers. Where the engine cuts and comes back within the width of the smoothing, the curve rings:
 * it shows less in the hole and more beside it than was ever made. A curve smoothed half as much tells how far: what the two differ by
 * beyond their noise is taken as one standard deviation, over the width of the smoothing to either side.
 *
 * @source comparison of two bandwidths; two standard deviations of the difference are left to noise: our default
 */
export function steadiness(curve: SmoothedLines, sharper: SmoothedLines, time: Float64Array): Steadiness {
  const change = (which: keyof Noise): Float64Array => {
    const [smooth, sharp] = [curve.lines[which], sharper.lines[which]];
    const beyond = smooth.map((value, i) => {
      const noise = 2 * Math.hypot(curve.noise[which][i], sharper.noise[which][i]);
      const away = Math.abs(sharp[i] - value) - noise;
      return Number.isFinite(away) ? Math.max(away, 0) : 0;
    });
    return largestAround(beyond, time, REACH);
  };
  const [roll, tyre, engine] = [change('roll'), change('tyre'), change('engine')];
  const steady = Uint8Array.from(roll, (watts, i) => (watts > UNSTEADY * Math.abs(curve.lines.roll[i]) ? 0 : 1));
  return { change: { roll, tyre, engine }, steady };
}

/** Largest value within a time to either side. As long as `values`. */
function largestAround(values: Float64Array, time: Float64Array, reach: number): Float64Array {
  const largest = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) {
    if (!(values[i] > 0)) continue;
    for (let k = i; k >= 0 && Math.abs(time[i] - time[k]) <= reach; k--) largest[k] = Math.max(largest[k], values[i]);
    for (let k = i; k < values.length && Math.abs(time[k] - time[i]) <= reach; k++)
      largest[k] = Math.max(largest[k], values[i]);
  }
  return largest;
}

/** Says where the curve is not steady enough, as one stretch of engine or roll time. */
export function steadinessFindings(steady: Uint8Array, time: Float64Array): readonly Finding[] {
  const first = steady.indexOf(0);
  if (first < 0) return [];
  const last = steady.lastIndexOf(0);
  const share = steady.reduce((count, one) => count + (one ? 0 : 1), 0) / steady.length;
  return [
    {
      kind: 'unsteady-power',
      weight: 'doubt',
      message: `power changes faster than the curve can follow in ${(100 * share).toFixed(0)} % of the pull, from ${time[first].toFixed(2)} to ${time[last].toFixed(2)} s: its band is wider there and no peak is taken from it`,
      place: { from: time[first], to: time[last] },
      numbers: { share, limit: UNSTEADY },
      rule: 'smoothing against half as much smoothing, our default',
    },
  ];
}
