import type { PullScene } from '../scene/scene.ts';
import { largest, middle } from '../scene/series.ts';
import type { SceneTrack } from '../scene/track.ts';
import type { Earlier } from './lagged.ts';

/** The edges of full load are looked for so long before its start and after its end [s]. @source our default: a lag of two seconds has full load begin late */
const AROUND = 5;
/** An edge goes from this share of its height to this one [1]; a first-order lag takes ln 4 of its time constants for it. @source textbook */
const EDGE = { low: 0.2, high: 0.8 } as const;
export const CONSTANTS = Math.log(4);
/** Both edges must be as slow as one another within this factor: a foot that is slow on its way down is quick on its way up. @source our default */
const ALIKE = 1.8;

/** How long a channel takes up at the start of full load and down at its end [s]. */
interface Edges {
  readonly up: number;
  readonly down: number;
}

/**
 * Time constant [s] by which both edges of a channel that steps with the load are slower than in earlier pulls, without laying the pulls on one another; NaN where they are not
 * alike, or not known.
 *
 * @source step response of a first-order lag: textbook
 */
export function edgeLag(scene: PullScene, track: SceneTrack, earlier: readonly Earlier[]): number {
  const here = edgesOf(scene, track);
  const there = earlier.map((one) => edgesOf(one.scene, one.track));
  const [up, down] = (['up', 'down'] as const).map(
    (edge) => (here[edge] - middle(there.map((each) => each[edge]).filter(Number.isFinite))) / CONSTANTS,
  );
  return up < ALIKE * down && down < ALIKE * up ? (up + down) / 2 : Number.NaN;
}

function edgesOf({ from, to }: PullScene, { times, values }: SceneTrack): Edges {
  const highest = largest(values.filter((_, i) => times[i] >= from && times[i] <= to));
  return {
    up: edgeTime(times, values, { from: from - AROUND, to, highest, rising: true }),
    down: edgeTime(times, values, { from: to - 1, to: to + AROUND, highest, rising: false }),
  };
}

interface Sought {
  readonly from: number;
  readonly to: number;
  readonly highest: number;
  readonly rising: boolean;
}

/** Time between the crossings of the two shares of an edge's height [s]; NaN where it does not pass both. */
function edgeTime(times: Float64Array, values: Float64Array, { from, to, highest, rising }: Sought): number {
  const at = [...times.keys()].filter((i) => times[i] >= from && times[i] <= to && Number.isFinite(values[i]));
  const lowest = -largest(Float64Array.from(at, (i) => -values[i]));
  const level = (share: number): number => lowest + share * (highest - lowest);
  // A falling edge is a rising one seen from its end.
  const inOrder = rising ? at : at.reverse();
  const crossing = (share: number, upTo: number): number => {
    for (let k = upTo; k > 0; k--) {
      const [before, after] = [inOrder[k - 1], inOrder[k]];
      if (!(values[before] < level(share) && values[after] >= level(share))) continue;
      const part = (level(share) - values[before]) / (values[after] - values[before]);
      return times[before] + part * (times[after] - times[before]);
    }
    return Number.NaN;
  };
  const firstHigh = inOrder.findIndex((i) => values[i] >= level(EDGE.high));
  return Math.abs(crossing(EDGE.high, firstHigh) - crossing(EDGE.low, firstHigh));
}
