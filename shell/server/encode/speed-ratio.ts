import { median } from '../../../core/numerics/index.ts';
import type { JoinedRecord, Track } from '../../../day/pulls/index.ts';

/** Engine speed over roll speed against its own middle [1], at the times of the roll speed; NaN where one of both is missing. */
export interface SpeedRatio {
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly pieces: Track['pieces'];
  readonly file: string;
}

/** Below this share of the highest roll speed the ratio says little: clutch, gear and noise. @source our default */
const LEAST = 0.2;

/**
 * How far the engine ran ahead of its gearing to the roll, for the eye: creep and growth of the tyre are still in it. Undefined without both
 * speeds. Engine speed is read between its samples, never across a gap of its log.
 */
export function speedRatio({ tracks }: Pick<JoinedRecord, 'tracks'>): SpeedRatio | undefined {
  const engine = tracks.find(({ channel }) => channel.meaning === 'engine-speed');
  const roll = tracks.find(({ channel }) => channel.meaning === 'roll-speed');
  if (!engine || !roll) return undefined;
  const { times, pieces, file } = roll;
  const speeds = roll.channel.samples;
  const least = LEAST * speeds.reduce((most, value) => Math.max(most, Number.isNaN(value) ? most : value), 0);
  const ratios = between(engine, times).map((value, at) => {
    const speed = speeds[at] ?? Number.NaN;
    return speed > least ? value / speed : Number.NaN;
  });
  const known = ratios.filter(Number.isFinite);
  if (known.length === 0) return undefined;
  const middle = median(known, 'refuse');
  return { times, values: ratios.map((ratio) => ratio / middle - 1), pieces, file };
}

/** Values of a track at rising times, linear between neighbours of one piece; NaN outside and beside missing samples. */
function between({ channel: { samples }, times, pieces }: Track, at: Float64Array): Float64Array {
  const result = new Float64Array(at.length).fill(Number.NaN);
  for (const { from, to } of pieces) {
    let place = from;
    at.forEach((time, index) => {
      while (place + 2 < to && (times[place + 1] ?? Number.POSITIVE_INFINITY) <= time) place += 1;
      const [before = Number.NaN, after = Number.NaN] = [times[place], times[place + 1]];
      if (!(time >= before && time <= after) || place + 1 >= to) return;
      const [low = Number.NaN, high = Number.NaN] = [samples[place], samples[place + 1]];
      result[index] = low + ((high - low) * (time - before)) / (after - before);
    });
  }
  return result;
}
