import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { type BoostSeries, boostSeries } from '../../evidence/boost.ts';
import { boostSwings, SAME_SWING } from '../../evidence/boost-swings.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { type Tone, toneAt } from '../../evidence/tone.ts';
import { gridOf, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest, middle } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Slowest pressure that can be judged, and the rate that is enough [Hz]. @source our default */
const SLOWEST = 5;
const ENOUGH = 25;
/** Noise that asks for more than `over` times the limit hides the customary size. @source our default */
const HIDES = { deviations: 6, over: 1.4 } as const;
/** What the other pulls show is passed by this factor; so many pulls. @source our default */
const BEYOND = 1.3;
const USUAL = 5;
/** Duty swings with the pressure from this many deviations on. @source our default */
const FOLLOWS = 4;

/** Manifold pressure swinging steadily at 0.5–5 Hz. @source common practice, no source */
export const boostOscillation: Detector = {
  fault: 'boost-oscillation',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['surge', 'boost-overshoot'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost) return { why: 'manifold pressure has no values in this pull', missing: ['manifold-pressure'] };
    if (boost.rate < SLOWEST)
      return { why: `manifold pressure is renewed ${boost.rate.toFixed(1)} times a second, too slowly for 0.5–5 Hz` };
    if (!Number.isFinite(Math.min(boost.reached, boost.risen))) return { why: 'boost was never reached in this pull' };
    const { tones, hidden } = swingsIn(scene, boost, limits);
    const limit = limits['boost-oscillation.amplitude'].value;
    const strongest = tones[0];
    const lasting = strongest ? tones.filter(({ hertz }) => Math.abs(hertz / strongest.hertz - 1) < SAME_SWING) : [];
    const size = largest(lasting.map(({ amplitude }) => amplitude));
    const [from, to] = [Math.min(...lasting.map((tone) => tone.from)), Math.max(...lasting.map((tone) => tone.to))];
    const half = strongest ? Math.round(2 * strongest.hertz * (to - from)) : 0;
    if (!strongest || half < limits['boost-oscillation.half-swings'].value) {
      if (hidden)
        return { why: 'manifold pressure is too noisy or too short here: swings of the customary size would not show' };
      return { features: [against(limits, 'boost-oscillation.amplitude', 0)] };
    }
    const features = [
      against(limits, 'boost-oscillation.half-swings', half),
      against(limits, 'boost-oscillation.amplitude', size),
      informs('frequency', strongest.hertz, 'frequency'),
    ];
    if (isShaken(scene, { from, to })) return { features };
    const follows = dutyFollows(scene, strongest);
    return {
      windows: [windowOf(scene, { from, to })],
      features,
      strength: strengthOf(size / limit, 0.72) + (follows === undefined ? 0 : follows ? 0.1 : -0.1),
      stopClass: 1,
    };
  },
};

/** So many lost triggers in the swings are what shakes the pressure. @source our default */
const SHAKES = 2;

function isShaken(scene: PullScene, span: { readonly from: number; readonly to: number }): boolean {
  const { windows } = syncEvidence(scene);
  return windows.filter(({ from, to }) => to >= span.from && from <= span.to).length >= SHAKES;
}

/** Lasting swings larger than the limit, than noise could make and than what the log of other pulls shows, the surest first. hidden: whether noise would hide the customary size. */
function swingsIn(
  scene: PullScene,
  boost: BoostSeries,
  limits: Limits,
): { readonly tones: readonly Tone[]; readonly hidden: boolean } {
  const limit = limits['boost-oscillation.amplitude'].value;
  const { tones, rate, seconds } = boostSwings(scene);
  const usual = middle(
    besideState(scene, ['boost-oscillation', 'spikes', 'surge'])
      .slice(0, USUAL)
      .map((other) => Math.max(0, largest(boostSwings(other).tones.map(({ amplitude }) => amplitude)))),
  );
  const least = Math.max(limit, Number.isFinite(usual) ? BEYOND * usual : 0);
  const noise = boost.noise * Math.min(1, Math.sqrt(rate / boost.rate));
  const hidden =
    seconds === 0 ||
    HIDES.deviations * noise * Math.sqrt(2 / (rate * seconds)) > HIDES.over * limit ||
    least > HIDES.over * limit;
  return { tones: tones.filter(({ amplitude, sure }) => sure && amplitude > least), hidden };
}

/** Whether wastegate duty swings with the pressure; undefined where it is not logged fast enough. */
function dutyFollows(scene: PullScene, tone: Tone): boolean | undefined {
  const track: SceneTrack | undefined = sceneTrack(scene, 'wastegate-duty');
  if (!track || track.rate < 4 * tone.hertz) return undefined;
  const times = gridOf(scene, Math.min(ENOUGH, track.rate), tone);
  const swing = toneAt({ times, values: onTimes(track, times) }, tone);
  return swing && swing.amplitude > FOLLOWS * swing.deviation;
}
