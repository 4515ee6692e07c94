import type { SceneTrack } from './track.ts';

/** No shaft with a flywheel changes its speed faster than this [rad/s²]: 48 000 rpm/s. @source our default: free-revving engines reach 10 000–20 000 rpm/s, common practice, no source */
export const FASTEST = 5000;
/** A leap returns within this [s]; what stays away longer is no leap. @source common practice, no source: lost sync lasts 20–300 ms */
const RETURNS = 0.5;

/** A step that no shaft can make: times of the sample before and after [s], and its size [rad/s]. */
export interface Leap {
  readonly from: number;
  readonly to: number;
  readonly size: number;
}

/** Steps between neighbouring raw samples that no shaft can make, zeros that come from one sample to the next included. */
export function leapsOf({ times, raw, pieces, noise }: SceneTrack): Leap[] {
  const leaps: Leap[] = [];
  for (const { from, to } of pieces) {
    for (let i = from + 1; i < to; i++) {
      const size = raw[i] - raw[i - 1];
      if (Math.abs(size) > FASTEST * (times[i] - times[i - 1]) + 8 * noise) {
        leaps.push({ from: times[i - 1], to: times[i], size });
      }
    }
  }
  return leaps;
}

/** The same track with NaN from each leap to the leap that brings it back, when that comes soon. */
export function believedEngineSpeed(track: SceneTrack): SceneTrack {
  const leaps = leapsOf(track);
  const values = track.values.map((value) => (value > 0 ? value : Number.NaN));
  for (let k = 0; k + 1 < leaps.length; k++) {
    const back = leaps[k + 1];
    if (back.to - leaps[k].from > RETURNS) continue;
    for (let i = 0; i < track.times.length; i++) {
      if (track.times[i] > leaps[k].from && track.times[i] < back.to) values[i] = Number.NaN;
    }
  }
  return { ...track, values };
}
