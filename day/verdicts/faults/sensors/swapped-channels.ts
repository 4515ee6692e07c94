import { type Detector, informs, windowOf } from '../../detector.ts';
import { type BySpeed, trackBySpeed } from '../../evidence/by-speed.ts';
import { judgedBy, withoutChannel } from '../../evidence/consequence.ts';
import type { Fault } from '../../fault.ts';
import { kept, keptOf } from '../../scene/memory.ts';
import { levelBetween, type PullScene } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';

/** Two channels of one kind have changed places when each is nearer to where the other was, by this share of their distance. @source our default */
const NEARER = 0.25;
/** They must be apart by this many kelvin, or this share, to be told at all; by so many kelvin where one earlier pull alone tells where they were. @source our default: between two pulls nothing cools one and warms the other by as much */
const APART = { kelvin: 8, alone: 6, share: 0.15 } as const;
/** Temperatures that moved little from pull to pull are told from this distance on [K], when it is so many times the largest move. @source our default */
const STEADY = { kelvin: 3, moves: 2.5 } as const;
/** Two temperatures may have grown together by this share of their distance. @source our default */
const WARMED = 0.3;
/** Earlier pulls looked at. @source our default */
const EARLIER = 3;

/**
 * Two channels under each other's name: a slow temperature that moves with a pressure from second to second, or two of one kind that have
 * changed places since the earlier pulls.
 *
 * @source correlation with the wrong partner: common practice, no source
 */
export const swappedChannels: Detector = {
  fault: 'swapped-channels',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['wrong-scale', 'fuel-pressure-drop'],
  look: (scene) => {
    const [moves] = scene.record.findings.filter(({ kind }) => kind === 'swapped');
    const track = scene.tracks.find(({ name }) => name === moves?.place?.channel);
    if (moves && track) {
      const correlation = moves.numbers?.['correlation'];
      const features =
        typeof correlation === 'number' ? [informs('correlation with a quick channel', correlation, 'ratio')] : [];
      return {
        windows: [windowOf(scene, scene)],
        features,
        strength: 0.8,
        ...withoutChannel(scene, track),
        stopClass: 1,
        channel: track.name,
        lookAlikes: judgedBy(scene, track),
      };
    }
    const pair = swappedPair(scene);
    if (!pair)
      return scene.references.length > 0
        ? { features: [] }
        : { why: 'no earlier pull shows where each channel used to be' };
    return {
      windows: [windowOf(scene, scene)],
      features: [informs(`now where ${pair.other.name} was`, pair.distance, 'ratio')],
      strength: pair.states > 1 ? 0.85 : 0.76,
      ...withoutChannel(scene, pair.one),
      stopClass: 1,
      channel: pair.one.name,
      lookAlikes: [pair.one, pair.other].flatMap((track) => [
        ...judgedBy(scene, track),
        ...(track.meaning === 'manifold-pressure' ? OVER_TARGET : []),
      ]),
    };
  },
};

/** What manifold pressure alone says against its target: under another channel's name it is no witness. */
const OVER_TARGET: readonly Fault[] = ['boost-overshoot', 'boost-creep', 'boost-droop'];

/** Two channels that have changed places since the earlier pulls; undefined where none have. */
export const swappedPair: (scene: PullScene) => Pair | undefined = keptOf(
  (scene) => changedPlaces(scene) ?? changedCurves(scene),
);

interface Pair {
  readonly one: SceneTrack;
  readonly other: SceneTrack;
  readonly distance: number;
  /** In how many states they are in each other's place. */
  readonly states: number;
}

/** Where a channel is and where it was before, in one state; move: most that it moved from pull to pull, −∞ when that is unknown. */
interface Place {
  readonly now: number;
  readonly before: number;
  readonly move: number;
}

/** States that a channel has a level in: under load, and before it. */
const STATES = ['loaded', 'before'] as const;
type Levels = Readonly<Record<(typeof STATES)[number], number>>;
/** Time before tip-in that is the second state [s]. @source our default */
const BEFORE = { from: 1.5, to: 0.2 } as const;

const levelsOf = kept(
  (scene: PullScene, track: SceneTrack): Levels => ({
    loaded: middle(trackBySpeed(scene, track)),
    before: levelBetween(track, scene.from - BEFORE.from, scene.from - BEFORE.to),
  }),
);

function changedPlaces(scene: PullScene): Pair | undefined {
  const placed = scene.tracks.flatMap((track) => {
    if (kindOf(track) === '') return [];
    const [now, earlier] = [levelsOf(scene, track), levelsBefore(scene, track)];
    const places = STATES.map((state) =>
      placeOf(
        now[state],
        earlier.map((each) => each[state]),
        kindOf(track),
      ),
    );
    return Number.isFinite(places[0].before + places[0].now) ? [{ track, places }] : [];
  });
  for (const [i, one] of placed.entries()) {
    for (const other of placed.slice(i + 1)) {
      if (kindOf(one.track) !== kindOf(other.track)) continue;
      const kind = kindOf(one.track);
      const told = one.places.flatMap((place, k) => toldIn(place, other.places[k], kind) ?? []);
      if (told.length > 0 && told.every(({ swapped }) => swapped))
        return {
          one: one.track,
          other: other.track,
          distance: Math.max(...told.map(({ distance }) => distance)),
          states: told.length,
        };
    }
  }
  return undefined;
}

/** Each channel must run as far from its own earlier curve, and as near that of the other beside it [1]. @source our default */
const CURVES = { apart: 0.04, nearer: 0.3 } as const;

/** Two pressures of much the same level, each of which runs over the engine speeds as the other did in the earlier pulls. */
function changedCurves(scene: PullScene): Pair | undefined {
  // Few channels run otherwise than before, and only those can have changed places.
  const moved = scene.tracks.flatMap((track) => {
    const before = kindOf(track) === 'pressure' ? curveBefore(scene, track) : undefined;
    if (!before) return [];
    const here = trackBySpeed(scene, track);
    const distance = apart(here, before);
    return distance > CURVES.apart ? [{ track, here, before, distance }] : [];
  });
  for (const [i, one] of moved.entries()) {
    for (const other of moved.slice(i + 1)) {
      const crossed = [apart(one.here, other.before) / one.distance, apart(other.here, one.before) / other.distance];
      if (Math.max(...crossed) < CURVES.nearer)
        return {
          one: one.track,
          other: other.track,
          distance: Math.min(one.distance, other.distance),
          states: STATES.length,
        };
    }
  }
  return undefined;
}

/** Middle distance of two curves over engine speed, as a share of the second [1]. */
function apart(one: BySpeed, other: BySpeed): number {
  return middle(one.map((value, k) => Math.abs(value / other[k] - 1)));
}

/** A channel over engine speed in the middle of the earlier pulls; undefined where none logs it. */
function curveBefore(scene: PullScene, { meaning, position }: SceneTrack): BySpeed | undefined {
  const curves = scene.references
    .filter(({ spoiled }) => !spoiled.includes('swapped-channels'))
    .slice(0, EARLIER)
    .flatMap((other) => {
      const same = other.tracks.find((track) => track.meaning === meaning && track.position === position);
      return same ? [trackBySpeed(other, same)] : [];
    });
  const [first] = curves;
  return curves.length < 2 ? first : first.map((_, k) => middle(curves.map((curve) => curve[k])));
}

function placeOf(now: number, earlier: readonly number[], kind: string): Place {
  const move = Math.max(...earlier.slice(1).map((level, k) => Math.abs(level - earlier[k])));
  // What warms up is nearest to where it was last.
  return { now, before: kind === 'temperature' ? (earlier[0] ?? Number.NaN) : middle(earlier), move };
}

/** Whether two channels of a kind are in each other's place in one state; undefined where they were too near each other to tell. */
function toldIn(
  a: Place,
  b: Place,
  kind: string,
): { readonly swapped: boolean; readonly distance: number } | undefined {
  const distance = Math.abs(a.before - b.before);
  const least =
    kind === 'temperature'
      ? leastKelvin(a.move, b.move)
      : APART.share * Math.max(Math.abs(a.before), Math.abs(b.before));
  if (!(distance >= least) || Number.isNaN(a.now + b.now)) return undefined;
  return { swapped: inEachOthersPlace(a.now - b.before, b.now - a.before, { distance, kind }), distance };
}

/** Both are where the other was; what warms up in the meantime warms both. */
function inEachOthersPlace(
  one: number,
  other: number,
  { distance, kind }: { readonly distance: number; readonly kind: string },
): boolean {
  const most = kind === 'temperature' ? WARMED * distance : 0;
  const common = Math.max(-most, Math.min(most, (one + other) / 2));
  return Math.abs(one - common) < NEARER * distance && Math.abs(other - common) < NEARER * distance;
}

/** Channels that one could mistake for each other. */
function kindOf({ meaning }: SceneTrack): string {
  if (meaning.endsWith('temperature')) return 'temperature';
  return meaning.endsWith('pressure') || meaning === 'fuel-pressure-difference' ? 'pressure' : '';
}

/** Least distance of two temperatures [K]; move: most that each moved from pull to pull, −∞ when that is unknown. */
function leastKelvin(one: number, other: number): number {
  if (Math.min(one, other) < 0) return APART.alone;
  return Math.min(APART.kelvin, Math.max(STEADY.kelvin, STEADY.moves * Math.max(one, other)));
}

/** Levels of a channel in the earlier pulls, the nearest first. */
function levelsBefore(scene: PullScene, { meaning, position }: SceneTrack): readonly Levels[] {
  return scene.references
    .filter(({ spoiled }) => !spoiled.includes('swapped-channels'))
    .slice(0, EARLIER)
    .flatMap((other) => {
      const same = other.tracks.find((track) => track.meaning === meaning && track.position === position);
      return same ? [levelsOf(other, same)] : [];
    });
}
