import type { Piece } from '../../numerics/index.ts';
import { type Area, type Force, REVOLUTION } from '../../quantities/index.ts';
import type { StressBlock } from './damage.ts';
import type { StressSwing } from './fatigue-criteria.ts';

/** Forces at one section, tension positive [N], and how much the section's shape sharpens the stress. */
export interface SectionForces {
  readonly highest: Force;
  readonly lowest: Force;
  readonly area: Area;
  /** Fatigue notch factor Kf [1], ≥ 1. */
  readonly notch: number;
}

/** Swing of the stress at a section between two forces [Pa]: σ = Kf·F/A. @source Shigley, Mechanical Engineering Design, 6-10 (from memory) */
export function swingOfForces({ highest, lowest, area, notch }: SectionForces): StressSwing {
  const scale = notch / area;
  return { amplitude: (scale * (highest - lowest)) / 2, mean: (scale * (highest + lowest)) / 2 };
}

/** A pull as samples, all equally long; NaN where missing. */
export interface PullLoads {
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
  /** [rad/s] */
  readonly engineSpeed: Float64Array;
  /** Largest and smallest force of each engine cycle at the section, tension positive [N]. */
  readonly highest: Float64Array;
  readonly lowest: Float64Array;
  readonly area: Area;
  readonly notch: number;
}

/** blocks: swings with their cycles. covered, left out: time that was counted, and time that could not be [s]. */
export interface PullBlocks {
  readonly blocks: readonly StressBlock[];
  readonly covered: number;
  readonly leftOut: number;
}

/**
 * Stress blocks of a pull: each interval between two samples is ω·Δt/4π cycles of the mean swing of its ends.
 *
 * One swing per four-stroke cycle, firing to overlap. Intervals with a missing end are left out and counted as such.
 *
 * @source  cycles of a four-stroke engine; block count: our default
 */
export function pullBlocks(pull: PullLoads): PullBlocks {
  const { times, pieces, engineSpeed, highest, lowest } = pull;
  const n = times.length;
  if (engineSpeed.length !== n || highest.length !== n || lowest.length !== n)
    throw new RangeError('loads of unequal length');
  const scale = pull.notch / pull.area;
  const blocks: StressBlock[] = [];
  let covered = 0;
  let leftOut = 0;
  for (const { from, to } of pieces) {
    for (let i = from + 1; i < to; i++) {
      const step = times[i] - times[i - 1];
      const cycles = ((engineSpeed[i] + engineSpeed[i - 1]) / 2) * (step / (2 * REVOLUTION));
      const high = (scale * (highest[i] + highest[i - 1])) / 2;
      const low = (scale * (lowest[i] + lowest[i - 1])) / 2;
      if (Number.isNaN(cycles + high + low)) {
        leftOut += step;
        continue;
      }
      covered += step;
      blocks.push({ amplitude: (high - low) / 2, mean: (high + low) / 2, cycles });
    }
  }
  return { blocks, covered, leftOut };
}
