import {
  against,
  type Detector,
  type Feature,
  informs,
  type Seen,
  strengthOf,
  type Unseen,
  windowOf,
  windowsWhere,
} from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { boostSeries } from '../../evidence/boost.ts';
import { type BySpeed, SPEED_STEP, trackBySpeed } from '../../evidence/by-speed.ts';
import { startLevel } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../../scene/scene.ts';
import { largest, middle, smooth } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** After boost was first reached its control settles [s]. @source our default */
const SETTLES = 1.5;
/** Pulls with these do not show what pressure a wheel speed usually makes. @source common practice, no source */
const SPOILING: readonly Fault[] = ['compressor-choke', 'boost-leak', 'turbo-overspeed', 'wrong-scale'];
/** Pulls compared with at most. @source our default */
const MOST = 6;
/** Boost counts as there from this share of the most [1]; of these engine speeds the last part is the top, the first the bottom [1]; steps of speed at least. @source our default */
const BOOSTED = 0.9;
const TOP = 0.2;
const BOTTOM = 0.4;
const FEWEST = 6;
/** Where the flow is small it still does what it usually does: of what the wheel lacks at the top so much at most [1]. @source our default */
const BELOW = 0.4;
/** (γ − 1)/γ of air. @source textbook: γ = 1.4 */
const EXPONENT = 0.4 / 1.4;
/** Taken where no barometer is logged [Pa]. @source ISO 2533 standard atmosphere at sea level */
const STANDARD = 101325;

/**
 * Compressor at the end of its flow: where the flow is largest the pressure is short of what the day's other pulls had, and yet the wheel turns no slower for it.
 * Without other pulls: manifold pressure falls although the wheel turns faster.
 *
 * @source signature: common practice, no source; shares: our default; similarity: work per kilogram goes as the square of the rim speed
 */
export const compressorChoke: Detector = {
  fault: 'compressor-choke',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'turbo-speed'],
  lookAlikes: ['boost-droop', 'boost-leak', 'exhaust-restriction'],
  look: (scene, limits) => {
    const beside = lackBeside(scene);
    if (beside) return againstOthers(scene, limits, beside);
    const boost = boostSeries(scene);
    if (!boost || !Number.isFinite(boost.risen)) return { why: 'boost was never reached in this pull' };
    return withinPull(scene, limits, boost);
  },
};

/** Against other pulls at equal engine speed, where boost is there. short: pressure missing [1]; slack: wheel speed beyond what the pressure asks for [1]; from: lowest engine speed of the shortage [rad/s]. */
interface Lack {
  readonly short: number;
  readonly slack: number;
  readonly slackBelow: number;
  readonly from: number;
}

function lackBeside(scene: PullScene): Lack | undefined {
  const here = pressedIn(scene);
  const others = besideState(scene, SPOILING)
    .slice(0, MOST)
    .flatMap((other) => pressedIn(other) ?? []);
  if (!here || others.length === 0) return undefined;
  const usual = (of: (one: Pressed) => BySpeed, k: number): number => middle(others.map((other) => of(other)[k]));
  const rows = [...here.pressure].flatMap((pressure, k) => {
    const asked = usual((one) => one.asked, k);
    const there = usual((one) => one.pressure, k);
    const short =
      1 - (asked > 0 && here.asked[k] > 0 ? (pressure / here.asked[k]) * (asked / there) : pressure / there);
    const [work, usualWork] = [here.work[k], usual((one) => one.work, k)];
    const slack = here.speed[k] / usual((one) => one.speed, k) / Math.sqrt(work / usualWork) - 1;
    return Number.isFinite(short + slack) ? [{ speed: k * SPEED_STEP, there, short, slack }] : [];
  });
  const most = largest(rows.map(({ there }) => there));
  const first = rows.findIndex(({ there }) => there > BOOSTED * most);
  const boosted = first < 0 ? [] : rows.slice(first);
  if (boosted.length < FEWEST) return undefined;
  const top = boosted.slice(-Math.max(2, Math.round(TOP * boosted.length)));
  const bottom = boosted.slice(0, Math.max(2, Math.round(BOTTOM * boosted.length)));
  const short = middle(top.map((row) => row.short));
  const last = boosted.findLastIndex((row) => row.short < short / 3);
  return {
    short,
    slack: middle(top.map((row) => row.slack)),
    slackBelow: middle(bottom.map((row) => row.slack)),
    from: boosted[Math.min(boosted.length - 1, last + 1)].speed,
  };
}

/** Pressure behind the compressor [Pa], what was asked for of the manifold [Pa], work per kilogram over cp·T [1] and wheel speed, by engine speed. */
interface Pressed {
  readonly pressure: BySpeed;
  readonly asked: BySpeed;
  readonly work: BySpeed;
  readonly speed: BySpeed;
}

function pressedIn(scene: PullScene): Pressed | undefined {
  const [manifold, before, wheel, target, inlet] = (
    ['manifold-pressure', 'boost-pressure', 'turbo-speed', 'manifold-target', 'compressor-inlet-pressure'] as const
  ).map((meaning) => {
    const track = sceneTrack(scene, meaning);
    return track && trackBySpeed(scene, track);
  });
  if (!manifold || !wheel) return undefined;
  const air = startLevel(scene, 'barometric-pressure');
  const outside = Number.isFinite(air) ? air : STANDARD;
  return {
    pressure: manifold,
    asked: target ?? new Float64Array(manifold.length).fill(Number.NaN),
    work: (before ?? manifold).map((value, k) => (value / (inlet?.[k] ?? outside)) ** EXPONENT - 1),
    speed: wheel,
  };
}

function againstOthers(scene: PullScene, limits: Limits, { short, slack, slackBelow, from }: Lack): Seen | Unseen {
  const [falls, rises] = [limits['choke.pressure-falls'].value, limits['choke.speed-rises'].value];
  const features: readonly Feature[] = [
    against(limits, 'choke.pressure-falls', short),
    against(limits, 'choke.speed-rises', slack),
    informs('the same at low engine speeds', slackBelow, 'fraction'),
  ];
  if (!(short > falls && slack > rises && slackBelow < BELOW * slack)) return { features };
  const times = gridOf(scene, 50);
  const speeds = speedsAt(scene, times);
  const begins = times.find((_, i) => speeds[i] >= from) ?? scene.from;
  return {
    windows: [windowOf(scene, { from: begins, to: scene.to })],
    features,
    strength: strengthOf(Math.min(short / falls, slack / rises), 0.75, 0.92),
    stopClass: 2,
  };
}

function withinPull(
  scene: PullScene,
  limits: Limits,
  boost: NonNullable<ReturnType<typeof boostSeries>>,
): Seen | Unseen {
  const turbo = sceneTrack(scene, 'turbo-speed');
  if (!turbo) return { features: [] };
  const { times, target } = boost;
  const asked = target ? boost.pressure.map((value, i) => value / target[i]) : boost.pressure;
  const pressure = smooth({ times, values: asked }, 0.8);
  const speed = smooth({ times, values: onTimes(turbo, times) }, 0.8);
  const since = (Number.isFinite(boost.reached) ? boost.reached : boost.risen) + SETTLES;
  const crest = { at: -1, pressure: 0 };
  for (let i = 0; i < times.length; i++) {
    if (times[i] >= since && pressure[i] > crest.pressure) Object.assign(crest, { at: i, pressure: pressure[i] });
  }
  if (crest.at < 0) return { features: [] };
  const fallen = pressure.map((value, i) =>
    i > crest.at ? 1 - value / (target ? Math.min(1, crest.pressure) : crest.pressure) : 0,
  );
  const risen = speed.map((value, i) => (i > crest.at ? value / speed[crest.at] - 1 : 0));
  const [falls, rises] = [limits['choke.pressure-falls'].value, limits['choke.speed-rises'].value];
  const windows = windowsWhere(scene, {
    times,
    holds: (i) => fallen[i] > falls && risen[i] > rises,
    shortest: 0.4,
    join: 0.2,
  });
  const features = [
    against(limits, 'choke.pressure-falls', largest(fallen)),
    against(limits, 'choke.speed-rises', largest(risen.filter((_, i) => fallen[i] > falls))),
  ].filter(({ value }) => Number.isFinite(value));
  if (windows.length === 0) return { features };
  const strength = strengthOf(largest(fallen) / falls, 0.5, 0.8) + (target ? 0.05 : -0.15);
  return { windows, features, strength, stopClass: 2 };
}
