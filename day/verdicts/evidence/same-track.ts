import { type PullScene, sceneTrack } from '../scene/scene.ts';
import type { SceneTrack } from '../scene/track.ts';

/** The same channel in another pull: by what it measures and where, or, when that is unknown, by its name in the log. */
export function sameTrack(
  other: Pick<PullScene, 'tracks'>,
  { meaning, position, name }: SceneTrack,
): SceneTrack | undefined {
  if (meaning !== 'unknown') return sceneTrack(other, meaning, position);
  return other.tracks.find((track) => track.meaning === 'unknown' && track.name === name);
}
