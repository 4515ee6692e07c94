import { AIR, isentropicRise } from '../../../core/physics/index.ts';
import { ratio, STANDARD_ATMOSPHERE } from '../../../core/quantities/index.ts';
import type { Fault } from '../fault.ts';
import { keptOf } from '../scene/memory.ts';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { largest, middle } from '../scene/series.ts';
import { besideState } from './beside.ts';
import { type BySpeed, SPEED_STEP, trackBySpeed } from './by-speed.ts';
import { startLevel } from './references.ts';

/** Pulls with these do not show what pressure a wheel speed usually makes. @source common practice, no source */
const SPOILING: readonly Fault[] = ['compressor-choke', 'boost-leak', 'turbo-overspeed', 'wrong-scale'];
/** Pulls compared with at most. @source our default */
const MOST = 6;
/** Boost counts as there from this share of the most [1]; of these engine speeds the last part is the top, the first the bottom [1]; steps of speed at least. @source our default */
const BOOSTED = 0.9;
const TOP = 0.2;
const BOTTOM = 0.4;
const FEWEST = 6;

/** Against other pulls at equal engine speed, where boost is there. short: pressure missing [1]; slack: wheel speed beyond what the pressure asks for [1]; turns: wheel speed over the usual one at the top [1]; from: lowest engine speed of the shortage [rad/s]. */
export interface CompressorLack {
  readonly short: number;
  readonly slack: number;
  readonly turns: number;
  readonly slackBelow: number;
  readonly from: number;
}

/** A wheel that turns more slowly than this share of the usual speed is driven too little, whatever its compressor makes of it. @source our default: at the end of its flow it turns as before or faster */
const DRIVEN = 0.9;

/** True when the compressor makes less of its speed than usual, and the speed is there. @param least slack from which it does [1] */
export function compressorFails({ slack, turns }: CompressorLack, least: number): boolean {
  return slack > least && turns > DRIVEN;
}

/** @source similarity: work per kilogram goes as the square of the rim speed */
export const compressorLack: (scene: PullScene) => CompressorLack | undefined = keptOf((scene) => {
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
    const turns = here.speed[k] / usual((one) => one.speed, k);
    const slack = turns / Math.sqrt(work / usualWork) - 1;
    return Number.isFinite(short + slack) ? [{ speed: k * SPEED_STEP, there, short, slack, turns }] : [];
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
    turns: middle(top.map((row) => row.turns)),
    slackBelow: middle(bottom.map((row) => row.slack)),
    from: boosted[Math.min(boosted.length - 1, last + 1)].speed,
  };
});

/** A wheel that makes up for lost air turns faster than its pressure asks for at low speeds by so much of what it does at the top [1]. @source our default: a hole loses air at every speed, what comes on with the flow leaves less at half of it */
const LOST_AT_LOW = 0.55;

/** How much faster than its pressure asks for the wheel turns because air is lost at every speed [1]; 0 where it is not. */
export function airLost(scene: PullScene): number {
  const lack = compressorLack(scene);
  return lack && lack.slackBelow > LOST_AT_LOW * lack.slack ? Math.max(0, lack.slack) : 0;
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
  const outside = Number.isFinite(air) ? air : STANDARD_ATMOSPHERE;
  return {
    pressure: manifold,
    asked: target ?? new Float64Array(manifold.length).fill(Number.NaN),
    work: (before ?? manifold).map((value, k) => isentropicRise(ratio(value / (inlet?.[k] ?? outside)), AIR)),
    speed: wheel,
  };
}

/**
 * How much the charge has cooled against other pulls from where boost had just been reached to the top of the engine speeds [K]; NaN when nobody knows. A compressor that
 * is turned more slowly heats the air less; one that is choked heats it no less for less pressure.
 *
 * @source work per kilogram goes into the temperature of the air: textbook
 */
export const chargeCooled: (scene: PullScene) => number = keptOf((scene) => {
  const here = chargeHeat(scene);
  const others = besideState(scene, SPOILING)
    .slice(0, MOST)
    .flatMap((other) => chargeHeat(other) ?? []);
  if (!here || others.length === 0) return Number.NaN;
  const usual = (of: (one: Heated) => BySpeed, k: number): number => middle(others.map((other) => of(other)[k]));
  const rows = [...here.charge].flatMap((charge, k) => {
    const there = usual((one) => one.pressure, k);
    const warmer = charge - usual((one) => one.charge, k);
    return Number.isFinite(warmer + there) ? [{ there, warmer }] : [];
  });
  const most = largest(rows.map(({ there }) => there));
  const first = rows.findIndex(({ there }) => there > BOOSTED * most);
  const warmer = first < 0 ? [] : rows.slice(first).map((row) => row.warmer);
  if (warmer.length < FEWEST) return Number.NaN;
  const part = (share: number): number => Math.max(2, Math.round(share * warmer.length));
  return middle(warmer.slice(0, part(BOTTOM))) - middle(warmer.slice(-part(TOP)));
});

interface Heated {
  readonly charge: BySpeed;
  readonly pressure: BySpeed;
}

function chargeHeat(scene: PullScene): Heated | undefined {
  const [charge, pressure] = [sceneTrack(scene, 'charge-temperature'), sceneTrack(scene, 'manifold-pressure')];
  return charge && pressure
    ? { charge: trackBySpeed(scene, charge), pressure: trackBySpeed(scene, pressure) }
    : undefined;
}
