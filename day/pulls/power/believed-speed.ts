import { median } from '../../../core/numerics/index.ts';
import { sampleTrack } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import { usableSamples } from '../rolls/find-track.ts';
import type { RollSide } from '../rolls/roll-side.ts';

/** A leap of engine speed over roll speed against the second around it that no tyre makes [1], when it is over this soon [s]. @source our default: gross slip lasts longer, lost sync 20–300 ms */
const LEAP = 0.04;
const SHORT = 0.45;
/** Half width of the stretch that says what the ratio is [s], and how often it is taken [s]. @source our default */
const AROUND = 1;
const EVERY = 0.05;

/** Engine speed that can be believed: as long as the track; NaN where missing or leapt. leaps: how many stretches were left out. */
export interface BelievedSpeed {
  readonly samples: Float64Array;
  readonly leaps: number;
}

/**
 * Engine speed without what a lost trigger writes (held, zero, doubled): short leaps of the ratio to the rolls, which turn on smoothly.
 * Slip is left alone: it lasts longer. Outside the roll's record nothing can be judged and everything stays.
 */
export function believedSpeed(engine: Track, side: Pick<RollSide, 'times' | 'pieces' | 'speed'>): BelievedSpeed {
  const samples = usableSamples(engine).slice();
  const roll = sampleTrack(
    {
      channel: { ...engine.channel, samples: side.speed, mask: new Uint8Array(side.speed.length) },
      times: side.times,
      pieces: side.pieces,
      file: engine.file,
    },
    engine.times,
  );
  const ratio = samples.map((omega, i) => Math.log(omega / roll[i]));
  let leaps = 0;
  for (const { from, to } of engine.pieces) {
    const usual = usualRatio(engine.times, ratio, { from, to });
    let start = -1;
    for (let i = from; i <= to; i++) {
      const leapt = i < to && Math.abs(ratio[i] - usual(engine.times[i])) > LEAP;
      if (leapt && start < 0) start = i;
      if (leapt || start < 0) continue;
      if (engine.times[i - 1] - engine.times[start] < SHORT) {
        samples.fill(Number.NaN, start, i);
        leaps++;
      }
      start = -1;
    }
  }
  return { samples, leaps };
}

/** The middle ratio in the second around a time. NaN samples and infinite ones (standstill) do not count. */
function usualRatio(
  times: Float64Array,
  ratio: Float64Array,
  { from, to }: { from: number; to: number },
): (time: number) => number {
  const start = times[from];
  const middles: number[] = [];
  let low = from;
  let high = from;
  for (let t = start; t <= times[to - 1] + EVERY; t += EVERY) {
    while (low < to && times[low] < t - AROUND) low++;
    while (high < to && times[high] <= t + AROUND) high++;
    middles.push(median(ratio.slice(low, high).filter(Number.isFinite), 'skip'));
  }
  return (time) => middles[Math.round((time - start) / EVERY)] ?? Number.NaN;
}
