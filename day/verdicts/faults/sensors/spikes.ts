import { REASONS } from '../../../channels/index.ts';
import { against, type Detector, type FaultWindow, informs, windowOf, within } from '../../detector.ts';
import { goneIn } from '../../evidence/gone.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { unlitFirings } from '../../evidence/unlit.ts';
import type { PullScene } from '../../scene/scene.ts';
import { finite, largest, middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';
import { surge } from '../charge-air/surge.ts';

/** A spike that is the only one of a pull must stand out so many times as far: noise has rare large values. @source our default */
const ALONE = 1.25;
/** A channel that mostly rests is uncertain by so many of its smallest steps. @source our default */
const STEPS = 3;
/** Values next to a spike that say how far it stands out. @source our default */
const NEIGHBOURS = 4;

/** What is measured with the trigger, and how near to its loss [s]. @source our default */
const BY_TRIGGER = new Set(['engine-speed', 'air-flow', 'fuel-flow', 'knock-level']);
const BESIDE = 0.3;

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
        at: spikesOf(scene, track).filter(
          (i) =>
            asideOf(track, i) > limits['spikes.deviations'].value &&
            !atLambdaEnd(track, i) &&
            !isMisfire(scene, track, i) &&
            !besideOther(scene, limits, { track, time: track.times[i] }),
        ),
      }))
      .filter(
        ({ track, at }) =>
          at.length > 1 || at.some((i) => asideOf(track, i) > ALONE * limits['spikes.deviations'].value),
      )
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
      // A slow log of a pressure that spikes shows a climb or a crest that never was.
      lookAlikes: track.meaning === 'manifold-pressure' ? ['boost-creep', 'boost-overshoot'] : [],
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

/** At the end of its scale a lambda sensor hides its noise but for single samples. */
function atLambdaEnd({ meaning, values }: SceneTrack, at: number): boolean {
  if (meaning !== 'lambda') return false;
  const level = middle(values.subarray(Math.max(0, at - NEIGHBOURS), at + NEIGHBOURS + 1));
  return level === -largest(values.map((value) => -value)) || level === largest(values);
}

/** A few firings that did not burn show as one reading that is leaner by no more than this; by more where the drive was lost with it, so near [s]. @source common practice, no source: 0.02–0.15; rest: our default */
const MISFIRE = 0.15;
const LOST_WITH_IT = 0.4;

function isMisfire(scene: PullScene, { meaning, raw, values, times }: SceneTrack, at: number): boolean {
  if (meaning !== 'lambda') return false;
  const leaner = raw[at] - middle(values.subarray(Math.max(0, at - NEIGHBOURS), at + NEIGHBOURS + 1));
  const losses = unlitFirings(scene).drive ?? [];
  const lost = losses.some(({ from, to }) => times[at] > from - LOST_WITH_IT && times[at] < to + LOST_WITH_IT);
  return leaner > 0 && (leaner <= MISFIRE || lost);
}

/** What a lost trigger does to the speed for one sample, or is left between two dropouts, is part of those. */
function besideOther(
  scene: PullScene,
  limits: Limits,
  { track, time }: { readonly track: SceneTrack; readonly time: number },
): boolean {
  if (within(goneIn(scene, limits, track), time, NEIGHBOURS / track.rate)) return true;
  if (SWINGS_IN_SURGE.has(track.meaning) && inSurge(scene, limits, time)) return true;
  const { counted, forceLeft, windows } = syncEvidence(scene);
  const lost =
    counted === undefined
      ? forceLeft !== undefined && forceLeft < limits['lost-sync.force-left'].value
      : counted >= limits['lost-sync.counts'].value;
  return lost && BY_TRIGGER.has(track.meaning) && within(windows, time, BESIDE);
}

/** What swings with the charge when a compressor surges. */
const SWINGS_IN_SURGE = new Set([
  'manifold-pressure',
  'manifold-gauge-pressure',
  'boost-pressure',
  'turbo-speed',
  'air-flow',
]);

/** True where the charge surges: single readings of its swings stand aside. */
function inSurge(scene: PullScene, limits: Limits, time: number): boolean {
  const found = surge.look(scene, limits);
  return 'windows' in found && within(found.windows, time, BESIDE);
}

/** Distance of a value from the middle of its neighbours, in standard deviations of the channel's noise or in its own steps; 0 where neither is known. */
function asideOf(track: SceneTrack, at: number): number {
  const { raw, values } = track;
  const near = finite(values.subarray(Math.max(0, at - NEIGHBOURS), at + NEIGHBOURS + 1));
  const level = near.length > 0 ? middle(near) : raw[at];
  const unrest = unrestOf(track);
  return unrest > 0 ? Math.abs(raw[at] - level) / unrest : 0;
}

/** Noise of a channel; where it mostly rests, its smallest step: there its spikes themselves would be taken for noise. */
function unrestOf({ noise, values }: SceneTrack): number {
  const steps = finite(values.map((value, i) => Math.abs(value - values[i - 1])));
  const moved = steps.filter((step) => step > 0);
  return moved.length === 0 || 2 * moved.length > steps.length
    ? noise
    : Math.min(noise || Number.POSITIVE_INFINITY, STEPS * -largest(moved.map((step) => -step)));
}
