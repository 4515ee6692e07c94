import type { Meaning } from '../../../channels/index.ts';
import { against, type Detector, type Feature, informs, strengthOf, type Untold, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { type BySpeed, trackBySpeed } from '../../evidence/by-speed.ts';
import { withoutChannel } from '../../evidence/consequence.ts';
import { longestHold } from '../../evidence/holds.ts';
import { atEqualPressure, heldAgainst, meanRatio, startLevel } from '../../evidence/references.ts';
import { sameTrack } from '../../evidence/same-track.ts';
import { livesByItself } from '../../evidence/unrest.ts';
import type { Fault } from '../../fault.ts';
import { differingSettings } from '../../scene/entry.ts';
import { kept } from '../../scene/memory.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { finite, middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** One channel that disagrees with physics or with itself. */
interface Wrong {
  readonly track: SceneTrack;
  readonly features: readonly Feature[];
  readonly strength: number;
}

/**
 * A channel that reads by a wrong scale: manifold pressure off the barometer while the engine stands, wheel speed off roll speed without
 * load, temperatures that disagree cold, a pressure after the throttle above that before it, lambda that shows no air when nothing is
 * injected, or a speed that is a fixed ratio of small numbers off that of earlier pulls.
 *
 * @source tests: common practice, no source; limits: our default
 */
export const wrongScale: Detector = {
  fault: 'wrong-scale',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['boost-leak', 'boost-creep', 'turbo-overspeed', 'lean-mixture', 'rich-mixture'],
  look: (scene, limits) => foundIn(scene, limits),
};

/** Asked by whoever must not believe a channel that lies. */
const foundIn: Detector['look'] = kept((scene, limits) => {
  const wrong = [
    ...byReading(scene, limits),
    ...pastThrottle(scene, limits),
    ...freeAir(scene, limits),
    ...ratioToEarlier(scene, limits),
    ...scaledEverywhere(scene, limits),
  ].sort((one, other) => other.strength - one.strength);
  const [worst] = wrong;
  if (!worst) return lowOilGauge(scene, limits) ?? { features: [] };
  const others = new Set(wrong.filter(({ track }) => track !== worst.track).map(({ track }) => track.name));
  return {
    windows: [windowOf(scene, scene)],
    features: [...worst.features, ...[...others].map((name) => informs(`also ${name}`, 1, 'count'))],
    strength: worst.strength,
    ...withoutChannel(scene, worst.track),
    stopClass: 1,
    channel: worst.track.name,
    // An overshoot is the target's and this channel's word alone.
    lookAlikes: worst.track.meaning === 'manifold-pressure' ? ['boost-overshoot'] : [],
  };
});

/** True for a channel that reads by another scale than it should: what is told from it is not told. */
export function readsWrong(scene: PullScene, limits: Limits, meaning: Meaning): boolean {
  const found = foundIn(scene, limits);
  return 'channel' in found && scene.tracks.some((track) => track.name === found.channel && track.meaning === meaning);
}

/** What reading the logs already found by tests at rest, cold and without load. */
function byReading(scene: PullScene, limits: Limits): Wrong[] {
  return scene.record.findings.flatMap(({ kind, place, numbers }) => {
    const track = scene.tracks.find(({ name }) => name === place?.channel);
    if (kind !== 'wrong-scale' || !track) return [];
    const ratio = numbers?.['ratio'];
    // Spikes and dropouts leave the range that a quantity can have; a wrong scale takes the channel's middle out of it.
    const [lowest, highest] = [numbers?.['lowest'], numbers?.['highest']];
    const usual = middle(track.values);
    if (typeof lowest === 'number' && typeof highest === 'number' && usual >= lowest && usual <= highest) return [];
    if (typeof ratio === 'number' && Math.abs(ratio - 1) < limits['wrong-scale.wheel'].value) return [];
    const told = Object.entries(numbers ?? {}).flatMap(([name, value]) =>
      typeof value === 'number' && name !== 'limit' ? [informs(name, value, 'ratio')] : [],
    );
    return [{ track, features: told, strength: 0.75 }];
  });
}

/** Pressure cannot rise through an open throttle. */
function pastThrottle(scene: PullScene, limits: Limits): Wrong[] {
  const [manifold, before] = [sceneTrack(scene, 'manifold-pressure'), sceneTrack(scene, 'boost-pressure')];
  if (!manifold || !before) return [];
  const aboveBy = (one: SceneTrack, other: SceneTrack): number => {
    const ahead = trackBySpeed(scene, other);
    return middle(trackBySpeed(scene, one).map((value, k) => value - ahead[k]));
  };
  const least = limits['wrong-scale.rest'].value;
  if (!(aboveBy(manifold, before) > least)) return [];
  // What is stuck, or at its end, is not scaled wrongly.
  const above = aboveBy(withoutHold(scene, limits, manifold), withoutHold(scene, limits, before));
  if (!(above > least)) return [];
  return [{ track: manifold, features: [against(limits, 'wrong-scale.rest', above)], strength: 0.7 }];
}

/** The same track without the value that it was held at by more than chance. */
function withoutHold(scene: PullScene, limits: Limits, track: SceneTrack): SceneTrack {
  const hold = longestHold(scene, track);
  if (!hold || !(hold.chance < limits['stuck.chance'].value)) return track;
  return { ...track, values: track.values.map((value) => (value === hold.value ? Number.NaN : value)) };
}

/** True when more than half of a track's readings are the one value that it was held at: that value has no scale. */
function isMostlyHeld(scene: PullScene, limits: Limits, track: SceneTrack): boolean {
  const full = (at: SceneTrack): number =>
    at.values.filter((value, i) => Number.isFinite(value) && at.times[i] > scene.from && at.times[i] < scene.to).length;
  return full(withoutHold(scene, limits, track)) < full(track) / 2;
}

/** More pressure before the turbine than in the other pulls leaves more burnt gas in the cylinders, and so less room for air [1]. @source our default */
const CHOKED = 0.06;

function isChoked(scene: PullScene, limits: Limits): boolean {
  return meanRatio(heldAgainst(scene, limits, { meaning: 'exhaust-pressure', spoiling: ['wrong-scale'] })) > CHOKED;
}

/** Time without fuel after which the sensor must show air [s], and how little fuel is none. @source our default */
const AIR_AFTER = 2;
const NONE = 0.02;
const FUEL: readonly Meaning[] = ['injector-pulse', 'injector-duty', 'fuel-flow'];

/** Lambda after the fuel has been shut off for long. */
function freeAir(scene: PullScene, limits: Limits): Wrong[] {
  const fuel = FUEL.flatMap((meaning) => sceneTrack(scene, meaning) ?? []).at(0);
  const lambda = sceneTrack(scene, 'lambda');
  if (!fuel || !lambda) return [];
  const full = middle(fuel.values.filter((_, i) => fuel.times[i] > scene.from && fuel.times[i] < scene.to));
  let since = Number.NaN;
  let at = 0;
  const shown: number[] = [];
  for (let i = 0; i < fuel.times.length; i++) {
    if (!(fuel.raw[i] < NONE * full) || fuel.times[i] < scene.to) since = Number.NaN;
    else if (Number.isNaN(since)) since = fuel.times[i];
    else if (fuel.times[i] - since > AIR_AFTER) {
      while (at < lambda.times.length && lambda.times[at] < fuel.times[i]) at++;
      if (at < lambda.times.length && Number.isFinite(lambda.values[at])) shown.push(lambda.values[at]);
    }
  }
  const value = middle(shown);
  const highest = Math.max(...finite(lambda.values));
  const atItsEnd = Math.max(...shown) - Math.min(...shown) === 0 || value >= highest;
  if (shown.length < 5 || atItsEnd || !(value < limits['wrong-scale.free-air'].value)) return [];
  return [{ track: lambda, features: [against(limits, 'wrong-scale.free-air', value)], strength: 0.6 }];
}

/** Speeds that count teeth or blades: a wrong count gives an exact ratio of small numbers. @source common practice, no source */
const COUNTED: readonly Meaning[] = ['turbo-speed', 'wheel-speed'];
const LARGEST = 12;
/** How exact, and how even over the pull [1]. @source our default */
const EXACT = 0.006;
const EVEN = 0.01;

function ratioToEarlier(scene: PullScene, limits: Limits): Wrong[] {
  const others = atEqualPressure(scene, limits, besideState(scene, ['wrong-scale', 'boost-leak', 'wheel-slip']));
  return COUNTED.flatMap((meaning) => {
    const track = sceneTrack(scene, meaning);
    const there = others.flatMap((other) => {
      const same = sceneTrack(other, meaning, track?.position);
      return same ? [countedBySpeed(other, same)] : [];
    });
    if (!track || there.length === 0) return [];
    const ratios = finite(countedBySpeed(scene, track).map((value, k) => value / middle(there.map((each) => each[k]))));
    const ratio = middle(ratios);
    const spread = middle(ratios.map((each) => Math.abs(each / ratio - 1)));
    const off = Math.abs(ratio - 1);
    if (!(off > limits['wrong-scale.apart'].value) || !(spread < EVEN) || !isSmallRatio(ratio)) return [];
    return [
      {
        track,
        features: [{ ...against(limits, 'wrong-scale.apart', off) }, informs('ratio to earlier pulls', ratio, 'ratio')],
        strength: 0.8,
      },
    ];
  });
}

/** Gauges that a wrong scale moves in every state alike; a true change of the engine does not. */
const STATES: readonly Meaning[] = [
  ...(['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'turbo-speed', 'lambda'] as const),
  ...(['fuel-pressure', 'fuel-pressure-difference', 'air-flow', 'oil-pressure'] as const),
];
/** Oil whose temperature is not known may have changed its pressure by this share. @source our default: 8 K */
const UNKNOWN_OIL = 0.1;
/** Time before tip-in that is the second state [s]. @source our default */
const BEFORE = { from: 1.5, to: 0.2 } as const;
/** Both states must agree on the ratio within this, and earlier pulls among themselves [1]. @source our default */
const AGREE = 0.012;
/** Against one earlier pull alone the ratio must be off so many times as far; less for what a control holds at a target. @source our default */
const ALONE = { free: 2, held: 1.25 } as const;

/** A ratio to the earlier pulls that is the same under load and before it, when those agree among themselves in both states. */
function scaledEverywhere(
  scene: PullScene,
  limits: Limits,
  asked: { readonly oil: boolean } = { oil: false },
): Wrong[] {
  const spoiling: readonly Fault[] = asked.oil ? ['wrong-scale', 'oil-pressure-low'] : ['wrong-scale'];
  const beside = besideState(scene, spoiling);
  // What was set otherwise loads the gauges otherwise.
  const alike = beside.filter((other) => differingSettings(scene.settings, other.settings).length === 0);
  const others = (alike.length > 1 ? alike : beside).slice(0, 5);
  const judged = asked.oil
    ? [sceneTrack(scene, 'oil-pressure') ?? []].flat()
    : [
        ...STATES.flatMap((meaning) => sceneTrack(scene, meaning) ?? []),
        ...scene.tracks.filter((track) => livesByItself(scene, track)),
      ];
  const chokes = isChoked(scene, limits);
  return judged.flatMap((track) => {
    if ((track.meaning === 'air-flow' && chokes) || isMostlyHeld(scene, limits, track)) return [];
    const same = others.flatMap((other) => {
      const found = sameTrack(other, track);
      return found ? [{ other, found }] : [];
    });
    if (same.length === 0) return [];
    const { held, ratios } = againstEarlier(scene, limits, { track, same });
    const [loaded, before] = ratios;
    const off = Math.abs(loaded.ratio - 1);
    // One earlier pull alone does not show how much the channel differs from pull to pull.
    const least = limits['wrong-scale.apart'].value * (same.length > 1 ? 1 : held ? ALONE.held : ALONE.free);
    const sure =
      off > least + unsureOil(scene, track, same) && Math.abs(before.ratio - loaded.ratio) < AGREE + 0.15 * off;
    const gauge = asked.oil ? loaded.ratio < 1 : isGaugeOfOil(scene, loaded.ratio);
    if (track.meaning === 'oil-pressure' && !gauge) return [];
    if (!sure || ratios.some(({ scatter }) => !(scatter < Math.max(AGREE, off / 3)))) return [];
    const features = [
      { ...against(limits, 'wrong-scale.apart', off) },
      informs('ratio to earlier pulls under load', loaded.ratio, 'ratio'),
      informs('ratio to earlier pulls before it', before.ratio, 'ratio'),
    ];
    // A scale that is off in both states, where earlier pulls agree with each other, has little else to be.
    return [{ track, features, strength: strengthOf(off / least, 0.75, 0.95) }];
  });
}

/** Oil pressure that is lower by the same share in every state: the oil or its gauge, which only a second gauge parts. */
function lowOilGauge(scene: PullScene, limits: Limits): Untold | undefined {
  const [low] = scaledEverywhere(scene, limits, { oil: true });
  return (
    low && {
      why: 'oil pressure is lower by the same share under load and before it: the oil itself or its gauge, which a second gauge would show',
      missing: ['oil-pressure'],
    }
  );
}

/** A channel of an earlier pull. */
interface Same {
  readonly other: PullScene;
  readonly found: SceneTrack;
}

/** A channel against earlier pulls under load and before it: its ratio to their middle, and how far they are from it themselves [1]. held: under load by its target. */
function againstEarlier(
  scene: PullScene,
  limits: Limits,
  { track, same }: { readonly track: SceneTrack; readonly same: readonly Same[] },
): { readonly held: boolean; readonly ratios: readonly { readonly ratio: number; readonly scatter: number }[] } {
  const asked = [scene, ...same.map(({ other }) => other)].map((at) => targetOf(at, track));
  const held = asked.every(Number.isFinite);
  // A pull that goes on to higher speeds than the others is compared where they were, too.
  const met = [trackBySpeed(scene, track), ...same.map(({ other, found }) => trackBySpeed(other, found))];
  const state = (at: PullScene, of: SceneTrack): { loaded: number; before: number } => ({
    loaded:
      middle(trackBySpeed(at, of).filter((_, k) => met.every((each) => Number.isFinite(each[k])))) /
      (held ? targetOf(at, track) : 1),
    before: levelBetween(of, at.from - BEFORE.from, at.from - BEFORE.to),
  });
  const here = state(scene, track);
  const there = same.map(({ other, found }) => {
    const { loaded, before } = state(other, found);
    const by = track.meaning === 'air-flow' ? denserAir(scene, other) : sameInBoth(scene, other, { track, limits });
    return { loaded: loaded * by.loaded, before: before * by.before };
  });
  const ratios = (['loaded', 'before'] as const).map((name) => {
    const usual = middle(there.map((each) => each[name]));
    const scatter = Math.max(...there.map((each) => Math.abs(each[name] / usual - 1)));
    return { ratio: here[name] / usual, scatter };
  });
  return { held, ratios };
}

/** What the control was asked to hold a channel at in a pull; NaN for what none holds or whose target is not logged. */
function targetOf(scene: PullScene, { meaning }: SceneTrack): number {
  const target = meaning === 'manifold-pressure' ? sceneTrack(scene, 'manifold-target') : undefined;
  return target ? middle(trackBySpeed(scene, target)) : Number.NaN;
}

/** What a channel in another pull becomes with this pull's oil: the same under load and before it. */
function sameInBoth(
  scene: PullScene,
  other: PullScene,
  { track, limits }: { readonly track: SceneTrack; readonly limits: Limits },
): Record<'loaded' | 'before', number> {
  const thicker = track.meaning === 'oil-pressure' ? thickerOil(scene, other, limits) : 1;
  return { loaded: thicker, before: thicker };
}

/**
 * What this pull's charge makes of the air flow in another pull [1]: pressure over absolute temperature, under load and before it; 1 for what is not known.
 *
 * @source ideal gas at equal filling
 */
function denserAir(scene: PullScene, other: PullScene): Record<'loaded' | 'before', number> {
  const ratioOf = (meaning: Meaning, part: 'loaded' | 'before'): number => {
    const [here, there] = [scene, other].map((at) => {
      const track = sceneTrack(at, meaning);
      if (!track) return Number.NaN;
      return part === 'loaded'
        ? middle(trackBySpeed(at, track))
        : levelBetween(track, at.from - BEFORE.from, at.from - BEFORE.to);
    });
    return here / there > 0 ? here / there : 1;
  };
  const denser = (part: 'loaded' | 'before'): number =>
    ratioOf('manifold-pressure', part) / ratioOf('charge-temperature', part);
  return { loaded: denser('loaded'), before: denser('before') };
}

/** What oil of this pull's temperature makes of the pressure in another pull [1]; 1 where it is unknown. */
function thickerOil(scene: PullScene, other: PullScene, limits: Limits): number {
  const warmer = startLevel(scene, 'oil-temperature') - startLevel(other, 'oil-temperature');
  return Number.isFinite(warmer) ? 1 - limits['oil-pressure.per-kelvin'].value * warmer : 1;
}

/** The rule for thicker oil is this unsure [1/K]. @source our default: 1.0–1.5 % per kelvin, common practice, no source */
const OIL_UNSURE = 0.004;

function unsureOil(scene: PullScene, { meaning }: SceneTrack, same: readonly Same[]): number {
  if (meaning !== 'oil-pressure') return 0;
  const here = startLevel(scene, 'oil-temperature');
  const apart = same.map(({ other }) => Math.abs(here - startLevel(other, 'oil-temperature'))).filter(Number.isFinite);
  return OIL_UNSURE * Math.max(0, middle(apart) || 0);
}

/** Too little oil pressure is the engine's until somebody has proved the gauge wrong; too much, more than thicker oil makes, is the gauge's. */
function isGaugeOfOil(scene: PullScene, ratio: number): boolean {
  return ratio > (sceneTrack(scene, 'oil-temperature') ? 1 : 1 + UNKNOWN_OIL);
}

/** A counted speed by engine speed; that of a wheel over roll speed where there is one, so that a converter or clutch between drops out. */
function countedBySpeed(scene: PullScene, track: SceneTrack): BySpeed {
  const speed = trackBySpeed(scene, track);
  const roll = track.meaning === 'wheel-speed' ? sceneTrack(scene, 'roll-speed') : undefined;
  if (!roll) return speed;
  const rolled = trackBySpeed(scene, roll);
  return speed.map((value, k) => value / rolled[k]);
}

function isSmallRatio(ratio: number): boolean {
  for (let below = 1; below <= LARGEST; below++) {
    const above = Math.round(ratio * below);
    if (above >= 1 && above <= LARGEST && Math.abs((ratio * below) / above - 1) < EXACT) return true;
  }
  return false;
}
