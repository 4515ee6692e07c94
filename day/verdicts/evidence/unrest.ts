import { kept } from '../scene/memory.ts';
import type { PullScene } from '../scene/scene.ts';
import type { SceneTrack } from '../scene/track.ts';

/** Fewest changes from one renewal to the next that show how a channel behaves. @source our default */
const KNOWN_FROM = 40;
/** A channel with noise of its own seldom keeps its value, and every second or third change turns back. @source two of three for white noise; limits our default */
const KEEPS = 0.35;
const TURNS = 0.3;

/**
 * True for a channel of unknown meaning that shows noise of its own at full load: a sensor. What a control unit commands or counts moves without
 * turning back, or rests. For channels whose meaning is known, `lives` knows better.
 */
export const livesByItself: (scene: PullScene, track: SceneTrack) => boolean = kept((scene, track) => {
  if (track.meaning !== 'unknown' || track.stepped) return false;
  const { times, raw, pieces } = track;
  let [all, same, turns, moves] = [0, 0, 0, 0];
  for (const { from, to } of pieces) {
    let last = 0;
    for (let i = from + 1; i < to; i++) {
      const change = raw[i] - raw[i - 1];
      if (times[i] < scene.from || times[i] > scene.to || Number.isNaN(change) || raw[i] === 0 || raw[i - 1] === 0)
        continue;
      all += 1;
      if (change === 0) same += 1;
      else {
        if (last !== 0) moves += 1;
        if (last * change < 0) turns += 1;
        last = change;
      }
    }
  }
  return all >= KNOWN_FROM && same < KEEPS * all && turns > TURNS * moves;
});
