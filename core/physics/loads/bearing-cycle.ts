import type { AngularSpeed, Ratio } from '../../quantities/index.ts';
import type { BearingCycle } from './bearing-film.ts';
import type { CycleLoads } from './cycle-loads.ts';

/**
 * Big-end loads of a cycle in the frame of the rod, ready for {@link filmOrbit}: x along the rod away from the piston, y a quarter
 * turn further in the sense of the crank.
 *
 * In that frame the shell stands still and the pin turns by ω + dβ/dt, β the lean of the rod, so the entrainment is half of that.
 * The load is what presses the pin against the shell: the opposite of the rod's force on the pin. Firing presses it towards the piston.
 *
 * Throws when a load is missing or the angles are not evenly spaced over 4π: the film is never carried over a gap.
 *
 * @param rodRatio half stroke over rod length [1]
 * @source  kinematics of the slider-crank; frame: Booker (1965)
 */
export function bigEndCycle(loads: CycleLoads, rodRatio: Ratio, rotation: AngularSpeed): BearingCycle {
  const n = loads.angles.length;
  const step = (4 * Math.PI) / n;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  const entrainment = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const theta = loads.angles[i];
    if (Math.abs(theta - loads.angles[0] - i * step) > 1e-6) throw new RangeError(`angles not even at index ${i}`);
    if (Number.isNaN(loads.rod[i])) throw new RangeError(`missing load at index ${i}`);
    const lean = Math.asin(rodRatio * Math.sin(theta));
    const leanRate = (rotation * rodRatio * Math.cos(theta)) / Math.cos(lean);
    // from the throw's radial and tangential directions to the rod's axis
    const turn = theta + lean;
    const radial = loads.bearingRadial[i];
    const tangential = loads.bearingTangential[i];
    // the film carries what the rod puts on the pin; the pin presses back with the opposite
    x[i] = radial * Math.cos(turn) - tangential * Math.sin(turn);
    y[i] = radial * Math.sin(turn) + tangential * Math.cos(turn);
    entrainment[i] = (rotation + leanRate) / 2;
  }
  return { x, y, period: (4 * Math.PI) / rotation, entrainment };
}
