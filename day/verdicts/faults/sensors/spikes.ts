import { REASONS } from '../../../channels/index.ts';
import { against, type Detector, type FaultWindow, informs, windowOf } from '../../detector.ts';
import type { PullScene } from '../../scene/scene.ts';
import type { SceneTrack } from '../../scene/track.ts';

/** Values next to a spike that say how far it stands out. @source our default */
const NEIGHBOURS = 4;

/** Single samples far off their neighbours, on a quantity that cannot jump. @source deviations: common practice, no source */
export const spikes: Detector = {
  fault: 'spikes',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['knock', 'dropout'],
  look: (scene, limits) => {
    const found = scene.tracks
      .map((track) => ({
        track,
        at: spikesOf(scene, track).filter((i) => asideOf(track, i) > limits['spikes.deviations'].value),
      }))
      .filter(({ at }) => at.length > 0)
      .sort((one, other) => other.at.length - one.at.length);
    const [worst] = found;
    if (!worst) return { features: [] };
    const { track, at } = worst;
    const windows: readonly FaultWindow[] = at.map((i) =>
      windowOf(scene, { from: track.times[i], to: track.times[i] }),
    );
    return {
      windows,
      features: [
        informs('single samples aside', at.length, 'count'),
        against(limits, 'spikes.deviations', Math.max(...at.map((i) => asideOf(track, i)))),
        ...found.slice(1).map((one) => informs(`also ${one.track.name}`, one.at.length, 'count')),
      ],
      strength: 0.8,
      stopClass: 0,
      voids: 'nothing',
      channel: track.name,
    };
  },
};

function spikesOf({ from, to }: PullScene, { times, mask }: SceneTrack): readonly number[] {
  const at: number[] = [];
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] === REASONS.spike && times[i] >= from && times[i] <= to) at.push(i);
  }
  return at;
}

/** Distance of a value from the middle of its neighbours, in standard deviations of the channel's noise; 0 without noise. */
function asideOf({ raw, values, noise }: SceneTrack, at: number): number {
  const near = [...values.subarray(Math.max(0, at - NEIGHBOURS), at + NEIGHBOURS + 1)].filter(Number.isFinite);
  const level = near.sort((a, b) => a - b)[near.length >> 1] ?? raw[at];
  return noise > 0 ? Math.abs(raw[at] - level) / noise : 0;
}
