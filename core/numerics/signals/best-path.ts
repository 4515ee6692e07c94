export interface BestPathInput {
  /** One row of scores per step, all equally long; larger is better. NaN or −∞ throws: a state that must not be taken gets a very low number. */
  readonly scores: readonly Float64Array[];
  /** Largest change of state from one step to the next, ≥ 0. */
  readonly reach: number;
  /** Cost of a change by d states is cost·d², ≥ 0 [unit of the scores]. */
  readonly cost: number;
}

/** states: one per step. total: sum of its scores less its costs [unit of the scores]. */
export interface BestPath {
  readonly states: Int32Array;
  readonly total: number;
}

/**
 * The path of states with the largest sum of scores less the cost of changing state. Exact, by dynamic programming, O(steps·states·reach).
 * No steps: an empty path and 0. Of equal paths the one that changes least last.
 *
 * @source  Bellman, "Dynamic Programming" (1957); Viterbi, IEEE Trans. Inf. Theory 13 (1967) 260
 */
export function bestPath({ scores, reach, cost }: BestPathInput): BestPath {
  const steps = scores.length;
  if (steps === 0) return { states: new Int32Array(0), total: 0 };
  const width = scores[0].length;
  const from = new Int32Array(steps * width);
  let best = scores[0].slice();
  for (let step = 1; step < steps; step++) {
    const row = scores[step];
    if (row.length !== width) throw new RangeError(`row ${step} has ${row.length} scores, expected ${width}`);
    const next = new Float64Array(width);
    for (let state = 0; state < width; state++) {
      let top = best[state];
      let origin = state;
      for (let d = 1; d <= reach; d++) {
        const price = cost * d * d;
        if (state >= d && best[state - d] - price > top) {
          top = best[state - d] - price;
          origin = state - d;
        }
        if (state + d < width && best[state + d] - price > top) {
          top = best[state + d] - price;
          origin = state + d;
        }
      }
      next[state] = top + row[state];
      from[step * width + state] = origin;
    }
    best = next;
  }
  return traced(best, { from, steps, width });
}

function traced(
  best: Float64Array,
  { from, steps, width }: { readonly from: Int32Array; readonly steps: number; readonly width: number },
): BestPath {
  let state = 0;
  for (let k = 0; k < width; k++) {
    if (!Number.isFinite(best[k])) throw new RangeError(`score of state ${k} is not finite`);
    if (best[k] > best[state]) state = k;
  }
  const states = new Int32Array(steps);
  const total = best[state];
  for (let step = steps - 1; step >= 0; step--) {
    states[step] = state;
    state = from[step * width + state];
  }
  return { states, total };
}
