import { type Detector, informs, windowOf } from '../../detector.ts';
import { trackBySpeed } from '../../evidence/by-speed.ts';
import { withoutChannel } from '../../evidence/consequence.ts';
import type { PullScene } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';

/** Two channels of one kind have changed places when each is nearer to where the other was, by this share of their distance. @source our default */
const NEARER = 0.25;
/** They must be apart by this many kelvin, or this share, to be told at all. @source our default */
const APART = { kelvin: 8, share: 0.15 } as const;
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
  lookAlikes: ['wrong-scale'],
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
      };
    }
    const pair = changedPlaces(scene);
    if (!pair)
      return scene.references.length > 0
        ? { features: [] }
        : { why: 'no earlier pull shows where each channel used to be' };
    return {
      windows: [windowOf(scene, scene)],
      features: [informs(`now where ${pair.other.name} was`, pair.distance, 'ratio')],
      strength: 0.75,
      ...withoutChannel(scene, pair.one),
      stopClass: 1,
      channel: pair.one.name,
    };
  },
};

interface Pair {
  readonly one: SceneTrack;
  readonly other: SceneTrack;
  readonly distance: number;
}

function changedPlaces(scene: PullScene): Pair | undefined {
  const levels = scene.tracks.flatMap((track) => {
    if (kindOf(track) === '') return [];
    const earlier = levelsBefore(scene, track);
    const move = Math.max(...earlier.slice(1).map((level, k) => Math.abs(level - earlier[k])));
    // What warms up is nearest to where it was last.
    const before = kindOf(track) === 'temperature' ? (earlier[0] ?? Number.NaN) : middle(earlier);
    const now = middle(trackBySpeed(scene, track));
    return Number.isFinite(before + now) ? [{ track, now, before, move }] : [];
  });
  for (const [i, a] of levels.entries()) {
    for (const b of levels.slice(i + 1)) {
      if (kindOf(a.track) !== kindOf(b.track)) continue;
      const distance = Math.abs(a.before - b.before);
      const least =
        kindOf(a.track) === 'temperature'
          ? leastKelvin(a.move, b.move)
          : APART.share * Math.max(Math.abs(a.before), Math.abs(b.before));
      if (distance < least) continue;
      const placed = inEachOthersPlace(a.now - b.before, b.now - a.before, { distance, kind: kindOf(a.track) });
      if (placed) return { one: a.track, other: b.track, distance };
    }
  }
  return undefined;
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
  const move = Math.min(one, other) < 0 ? Number.POSITIVE_INFINITY : Math.max(one, other);
  return Math.min(APART.kelvin, Math.max(STEADY.kelvin, STEADY.moves * move));
}

/** Level of a channel in the earlier pulls, the nearest first. */
function levelsBefore(scene: PullScene, { meaning, position }: SceneTrack): readonly number[] {
  return scene.references
    .filter(({ spoiled }) => !spoiled.includes('swapped-channels'))
    .slice(0, EARLIER)
    .flatMap((other) => {
      const same = other.tracks.find((track) => track.meaning === meaning && track.position === position);
      return same ? [middle(trackBySpeed(other, same))] : [];
    });
}
