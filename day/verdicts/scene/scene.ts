import { median } from '../../../core/numerics/index.ts';
import type { Alignment, Meaning } from '../../channels/index.ts';
import {
  type DayFacts,
  type daySlipReference,
  type JoinedRecord,
  type PullResult,
  type Segment,
  withSensorDelays,
} from '../../pulls/index.ts';
import type { Fault } from '../fault.ts';
import { believedEngineSpeed } from './believed.ts';
import { blockOf, type Settings } from './entry.ts';
import { emptyMemory, type Memory } from './memory.ts';
import { onTimes, type SceneTrack, sceneTracks, unusableTracks, valuesBetween } from './track.ts';

/** The ratio without slip; the shape that `daySlipReference` gives. */
export type SlipReference =
  ReturnType<typeof daySlipReference> extends ReadonlyMap<string, infer Reference> ? Reference : never;

/** What a person stated that a detector may need. With the day's entries, a scene knows its settings and what was changed before it. */
export type SceneFacts = Pick<DayFacts, 'vehicle' | 'engine' | 'roller'> & Partial<Pick<DayFacts, 'entries'>>;

/** What a scene is built from. `record` as joined: lambda is moved to its own times here. */
export interface SceneInput {
  readonly entry: string;
  readonly record: JoinedRecord;
  readonly pull: PullResult;
  readonly segments: readonly Segment[];
  readonly facts: SceneFacts;
  readonly slip?: SlipReference | undefined;
  /** Scenes of other pulls of the same day that this one may be held against, the nearest first. */
  readonly references?: readonly PullScene[];
  /** Settings of this entry as written; default: those of the day's entries, when the facts hold them. */
  readonly settings?: Settings;
  /** How many changes of parts came before this entry; default: counted in the day's entries. */
  readonly block?: number;
  /** Faults that were seen in this pull, for the pulls that are held against it later. */
  readonly spoiled?: readonly Fault[];
}

/** Everything that detectors look at, built once per pull. Times in s on the record's clock; `from`, `to`: the full load. */
export interface PullScene {
  readonly entry: string;
  readonly from: number;
  readonly to: number;
  readonly record: JoinedRecord;
  readonly alignment: Alignment;
  readonly pull: PullResult;
  readonly segments: readonly Segment[];
  readonly facts: SceneFacts;
  readonly slip: SlipReference | undefined;
  readonly references: readonly PullScene[];
  readonly tracks: readonly SceneTrack[];
  /** Channels of which no sample can be used: what was logged is in `raw`. */
  readonly unusable: readonly SceneTrack[];
  /** Engine speed without leaps that no shaft can make; undefined when none is logged. */
  readonly engineSpeed: SceneTrack | undefined;
  readonly settings: Settings;
  readonly block: number | undefined;
  readonly spoiled: readonly Fault[];
  /** Answers about this scene that were worked out already. */
  readonly memory: Memory;
}

/** The scene of one pull. */
export function pullScene(input: SceneInput): PullScene {
  const { pull, entry, segments, facts, slip, references = [], spoiled = [] } = input;
  const own = facts.entries?.find(({ id }) => id === entry);
  const { fromTime: from, toTime: to } = pull.segment;
  const record = withSensorDelays(input.record);
  const tracks = sceneTracks(record, { from, to });
  const logged = tracks.find(({ meaning }) => meaning === 'engine-speed');
  return {
    ...{ entry, from, to, record, pull, segments, facts, slip, references, tracks },
    unusable: unusableTracks(record, { from, to }),
    settings: input.settings ?? own?.settings ?? {},
    block: input.block ?? blockOf(entry, facts.entries),
    spoiled,
    memory: emptyMemory(),
    alignment: record.alignment,
    engineSpeed: logged && believedEngineSpeed(logged),
  };
}

/** The same scene with the faults that were seen in it, for the pulls that come after it. */
export function spoiledBy(scene: PullScene, faults: readonly Fault[]): PullScene {
  return { ...scene, spoiled: faults };
}

/** The fastest track of a meaning, at a position when one is asked for. */
export function sceneTrack(
  { tracks }: Pick<PullScene, 'tracks'>,
  meaning: Meaning,
  position?: string,
): SceneTrack | undefined {
  return tracks.find((track) => track.meaning === meaning && (position === undefined || track.position === position));
}

/** All tracks of a meaning: banks, cylinders, wheels. */
export function tracksAt({ tracks }: Pick<PullScene, 'tracks'>, meaning: Meaning): readonly SceneTrack[] {
  return tracks.filter((track) => track.meaning === meaning);
}

/** Meanings of a list that the scene does not have. */
export function missingOf({ tracks }: Pick<PullScene, 'tracks'>, needs: readonly Meaning[]): Meaning[] {
  return needs.filter((need) => !tracks.some(({ meaning }) => meaning === need));
}

/** Equally spaced times over the pull [s]. @param rate [Hz] @param span default: the full load */
export function gridOf(
  scene: Pick<PullScene, 'from' | 'to'>,
  rate: number,
  span: { readonly from: number; readonly to: number } = scene,
): Float64Array {
  const count = Math.max(2, Math.floor((span.to - span.from) * rate) + 1);
  const times = new Float64Array(count);
  for (let k = 0; k < count; k++) times[k] = span.from + k / rate;
  return times;
}

/** Engine speed at one moment [rad/s]; NaN where nobody knows. @param time [s] */
export function speedAt(scene: PullScene, time: number): number {
  return speedsAt(scene, Float64Array.of(time))[0];
}

/** Middle value of a track between two times; NaN when there is none. */
export function levelBetween(track: SceneTrack, from: number, to: number): number {
  const values = valuesBetween(track, from, to);
  return values.length > 0 ? median(values, 'skip') : Number.NaN;
}

/**
 * Engine speed at times of the pull [rad/s]; by the curve where the believed track has none, NaN where neither knows it.
 *
 * @param at [s]
 */
export function speedsAt(scene: PullScene, at: Float64Array): Float64Array {
  if (scene.engineSpeed) return onTimes(scene.engineSpeed, at);
  const { time, engineSpeed } = scene.pull.curve;
  return at.map((t) => {
    for (let i = 1; i < time.length; i++) {
      if (!(time[i - 1] <= t && t <= time[i])) continue;
      return engineSpeed[i - 1] + ((engineSpeed[i] - engineSpeed[i - 1]) * (t - time[i - 1])) / (time[i] - time[i - 1]);
    }
    return Number.NaN;
  });
}
