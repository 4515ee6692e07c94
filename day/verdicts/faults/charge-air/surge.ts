import { STANDARD_ATMOSPHERE } from '../../../../core/quantities/index.ts';
import { against, type Detector, informs, strengthOf, type Unseen, type Untold, windowOf } from '../../detector.ts';
import { withoutPulsation } from '../../evidence/pulsation.ts';
import { startLevel } from '../../evidence/references.ts';
import { type Tone, tonesOf } from '../../evidence/tone.ts';
import { gridOf, levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Slowest pressure from which something can be seen, and from which 5–20 Hz can be ruled out [Hz]. @source our default; half the rate is the limit of what can be told */
const SLOWEST = 18;
const IN_FULL = 45;
/** How long after lift-off a flutter is looked for [s]. @source our default */
const AFTER = 1.2;
/** Swings looked for [Hz], the cycles they must last and the readings they must be made of. @source frequencies: common practice, no source; rest: our default */
const SOUGHT = { low: 4.5, high: 21, cycles: 5 } as const;
const LEAST = { seconds: 0.6, readings: 24 } as const;
/** Swings count from this many deviations of their amplitude, and as this share of all that moves. @source our default */
const SURE = { deviations: 7, share: 0.5 } as const;
/** Behind cooler and throttle so much of the swing before them arrives at least [1]. @source our default: the volumes between smooth it, the more the quicker it is */
const MANIFOLD = 0.35;
/** The wheel's own ripple over the swing of pressure [1]. @source our default */
const WHEEL = 0.1;
/** Pressure must be this much above the surrounding air's: without boost there is nothing to surge [1]. @source our default */
const BOOSTED = 1.1;
/** Finest times that are looked at [Hz]. @source our default */
const FINEST = 100;

/** Compressor surge: the charge pressure swings steadily at 5–20 Hz, under load or when the throttle closes. @source frequencies and size: common practice, no source */
export const surge: Detector = {
  fault: 'surge',
  subject: 'charge-air',
  needs: [],
  lookAlikes: ['boost-oscillation', 'rev-or-torque-cut'],
  look: (scene, limits) => {
    const tracks = witnessesOf(scene).filter(({ part }) => part !== WHEEL);
    const quick = tracks.filter(({ track }) => track.rate >= SLOWEST);
    const rate = Math.max(0, ...tracks.map(({ track }) => track.rate));
    if (tracks.length === 0)
      return { why: 'neither charge pressure nor manifold pressure', missing: ['boost-pressure', 'manifold-pressure'] };
    const loaded = foundIn(scene, limits, { witnesses: quick, ...loadOf(scene) });
    const lift = { from: scene.to - 0.1, to: scene.to + AFTER };
    const found = loaded ?? foundIn(scene, limits, { witnesses: witnessesOf(scene), ...lift });
    if (!found && rate < IN_FULL) return tooSlow(scene, rate);
    if (!found) return unseenIn(scene, limits);
    const { from, to, half, hertz, share, wheel } = found;
    return {
      windows: [windowOf(scene, { from, to })],
      features: [
        against(limits, 'surge.half-swings', half),
        wheel ? informs('ripple of turbo speed', share * WHEEL, 'fraction') : against(limits, 'surge.amplitude', share),
        informs('frequency', hertz, 'frequency'),
      ],
      strength: strengthOf(share / limits['surge.amplitude'].value, 0.75),
      stopClass: loaded ? 2 : 0,
    };
  },
};

/** A channel in which surge shows, and how much of the swing of charge pressure arrives there [1]. */
interface Witness {
  readonly track: SceneTrack;
  readonly part: number;
}

/** Pressure before the throttle, behind it, and the wheel, as far as they are logged. */
function witnessesOf(scene: PullScene): readonly Witness[] {
  const parts = [
    ['boost-pressure', 1],
    ['manifold-pressure', MANIFOLD],
    ['turbo-speed', WHEEL],
  ] as const;
  return parts.flatMap(([meaning, part]) => {
    const track = sceneTrack(scene, meaning);
    return track ? [{ track: part === WHEEL ? track : withoutPulsation(scene, track), part }] : [];
  });
}

function outside(scene: PullScene): number {
  const air = startLevel(scene, 'barometric-pressure');
  return Number.isFinite(air) ? air : STANDARD_ATMOSPHERE;
}

function loadOf(scene: PullScene): { readonly from: number; readonly to: number } {
  return { from: scene.from + 0.3, to: scene.to - 0.1 };
}

/** Nothing swings under load; a flutter after lift-off shows only before the throttle or at the wheel. */
function unseenIn(scene: PullScene, limits: Limits): Unseen | Untold {
  const shown = witnessesOf(scene).some(({ track, part }) => part !== MANIFOLD && track.rate >= SLOWEST);
  if (shown) return { features: [against(limits, 'surge.amplitude', 0)] };
  return {
    why: 'nothing swings under load; behind the closed throttle a flutter after lift-off would not show',
    missing: ['boost-pressure'],
  };
}

function tooSlow(scene: PullScene, rate: number): Untold {
  const why = `charge pressure is renewed ${rate.toFixed(0)} times a second, too slowly for 5–20 Hz`;
  return sceneTrack(scene, 'boost-pressure') ? { why } : { why, missing: ['boost-pressure'] };
}

interface Asked {
  readonly witnesses: readonly Witness[];
  readonly from: number;
  readonly to: number;
}

/** A lasting swing. share: of the charge pressure, as the witness has it, over what arrives there [1]. */
interface Found extends Pick<Tone, 'from' | 'to' | 'hertz'> {
  readonly share: number;
  readonly half: number;
  readonly wheel: boolean;
}

/** The surest witness's swings in a stretch; undefined when none shows any. */
function foundIn(scene: PullScene, limits: Limits, { witnesses, from, to }: Asked): Found | undefined {
  for (const { track, part } of witnesses) {
    if (track.rate < SLOWEST) continue;
    const level = levelBetween(track, (scene.from + scene.to) / 2, scene.to);
    if (part !== WHEEL && !(level > BOOSTED * outside(scene))) continue;
    const rate = Math.min(FINEST, track.rate);
    const times = gridOf(scene, rate, { from, to });
    const least = limits['surge.amplitude'].value * part * level;
    const shortest = Math.max(LEAST.seconds, LEAST.readings / rate);
    const tones = tonesOf({ times, values: onTimes(track, times) }, { ...SOUGHT, shortest, least }).filter(
      ({ amplitude, deviation, share }) =>
        amplitude > least && amplitude > SURE.deviations * deviation && share > SURE.share,
    );
    const [surest] = tones;
    if (!surest) continue;
    const same = tones.filter(({ hertz }) => Math.abs(hertz / surest.hertz - 1) < 0.2);
    const span = { from: Math.min(...same.map((one) => one.from)), to: Math.max(...same.map((one) => one.to)) };
    const half = Math.round(2 * surest.hertz * (span.to - span.from));
    if (half < limits['surge.half-swings'].value) continue;
    const { hertz, amplitude } = surest;
    return { ...span, hertz, half, share: amplitude / (part * level), wheel: part === WHEEL };
  }
  return undefined;
}
