import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { gridOf, levelBetween, sceneTrack } from '../../scene/scene.ts';
import { band, middle, type Swing, smooth, steadySwings, swingsOf } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Slowest pressure from which 5–20 Hz can be judged [Hz]. @source our default */
const SLOWEST = 45;
/** How long after lift-off a flutter is looked for [s]. @source our default */
const AFTER = 1.5;
/** Swings count from this many standard deviations of the channel's noise. @source our default */
const NOISES = 4;

/** Compressor surge: the charge pressure swings steadily at 5–20 Hz, under load or when the throttle closes. @source frequencies and size: common practice, no source */
export const surge: Detector = {
  fault: 'surge',
  subject: 'charge-air',
  needs: [],
  lookAlikes: ['boost-oscillation', 'ignition-breakup', 'rev-or-torque-cut'],
  look: (scene, limits) => {
    const tracks = [sceneTrack(scene, 'boost-pressure') ?? [], sceneTrack(scene, 'manifold-pressure') ?? []].flat();
    const quick = tracks.filter(({ rate }) => rate >= SLOWEST);
    const rate = Math.max(0, ...tracks.map((track) => track.rate));
    if (tracks.length === 0)
      return { why: 'neither charge pressure nor manifold pressure', missing: ['boost-pressure', 'manifold-pressure'] };
    if (quick.length === 0)
      return { why: `charge pressure is renewed ${rate.toFixed(0)} times a second, too slowly for 5–20 Hz` };
    const during = (span: { readonly from: number; readonly to: number }): Found | undefined =>
      quick
        .map((track) => {
          const level = levelBetween(track, (scene.from + scene.to) / 2, scene.to);
          return swingsDuring(track, limits, { ...span, level });
        })
        .find((one) => one !== undefined);
    const loaded = during({ from: scene.from + 0.3, to: scene.to - 0.1 });
    const lifted = during({ from: scene.to - 0.1, to: scene.to + AFTER });
    const found = loaded ?? lifted;
    const features = [against(limits, 'surge.half-swings', found?.run.length ?? 0)];
    if (!found) return { features };
    const { run, hertz, share } = found;
    return {
      windows: [windowOf(scene, { from: run[0].time, to: run[run.length - 1].time })],
      features: [...features, against(limits, 'surge.amplitude', share), informs('frequency', hertz, 'frequency')],
      strength: strengthOf(share / limits['surge.amplitude'].value, 0.6),
      stopClass: loaded ? 2 : 0,
    };
  },
};

interface Found {
  readonly run: readonly Swing[];
  readonly hertz: number;
  readonly share: number;
}

/** Steady swings larger than a share of the charge pressure under load, and than the channel's own noise could make. */
function swingsDuring(track: SceneTrack, limits: Limits, { from, to, level }: Stretch): Found | undefined {
  const rate = Math.min(200, track.rate);
  const times = gridOf({ from, to }, rate);
  const series = { times, values: onTimes(track, times) };
  const lower = smooth(series, 4);
  const swing = rate >= 110 ? band(series, 4, 22) : series.values.map((value, i) => value - lower[i]);
  const least = Math.max(limits['surge.amplitude'].value * level, NOISES * track.noise);
  const run = steadySwings(swingsOf({ times, values: swing }), least);
  if (run.length < limits['surge.half-swings'].value) return undefined;
  const hertz = (run.length - 1) / (2 * (run[run.length - 1].time - run[0].time));
  const share = middle(run.map(({ size }) => Math.abs(size))) / level;
  return hertz >= 4.5 && hertz <= 21 ? { run, hertz, share } : undefined;
}

/** level: charge pressure under load [Pa]. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly level: number;
}
