import { type Angle, type AngularSpeed, absolutePressure, angle, type Force, force } from '../../quantities/index.ts';
import { type CrankTrain, crankForces } from './rod-forces.ts';

export interface PressureTrace {
  /** After firing top dead centre, rising over one four-stroke cycle of 4π [rad]. */
  readonly angles: Float64Array;
  /** Cylinder pressure, absolute [Pa]; NaN where missing. */
  readonly pressures: Float64Array;
}

/**
 * Loads over one cycle, as long as the trace. rod: compression positive [N]. NaN where the pressure is missing.
 * bearingRadial, bearingTangential: of the big end on the crank pin, away from the crank centre and with the rotation [N].
 */
export interface CycleLoads {
  readonly angles: Float64Array;
  readonly rod: Float64Array;
  readonly side: Float64Array;
  readonly bearingRadial: Float64Array;
  readonly bearingTangential: Float64Array;
  readonly torque: Float64Array;
  readonly compression: ExtremeLoad;
  /** Largest tension, as a positive number. */
  readonly tension: ExtremeLoad;
  readonly largestSide: ExtremeLoad;
  /** Samples without pressure. */
  readonly missing: number;
}

export interface ExtremeLoad {
  readonly force: Force;
  readonly angle: Angle;
}

/**
 * Every force of the crank mechanism over a cycle, from a cylinder-pressure trace.
 *
 * @valid   as {@link crankForces}; extremes are those of the samples that have a pressure: NaN when none has
 * @source  {@link crankForces}
 */
export function cycleLoads(train: CrankTrain, trace: PressureTrace, rotation: AngularSpeed): CycleLoads {
  const n = trace.angles.length;
  if (trace.pressures.length !== n) throw new RangeError('angles and pressures of unequal length');
  const column = () => new Float64Array(n).fill(Number.NaN);
  const rod = column();
  const side = column();
  const bearingRadial = column();
  const bearingTangential = column();
  const torque = column();
  let missing = 0;
  for (let i = 0; i < n; i++) {
    if (Number.isNaN(trace.pressures[i])) {
      missing++;
      continue;
    }
    const at = { angle: angle(trace.angles[i]), rotation };
    const found = crankForces(train, absolutePressure(trace.pressures[i]), at);
    rod[i] = found.rod;
    side[i] = found.side;
    bearingRadial[i] = found.bearing.radial;
    bearingTangential[i] = found.bearing.tangential;
    torque[i] = found.torque;
  }
  const extreme = (values: Float64Array, sign: (value: number) => number): ExtremeLoad => {
    let best = -1;
    for (let i = 0; i < n; i++) {
      if (!Number.isNaN(values[i]) && (best < 0 || sign(values[i]) > sign(values[best]))) best = i;
    }
    return {
      force: force(best < 0 ? Number.NaN : sign(values[best])),
      angle: angle(best < 0 ? Number.NaN : trace.angles[best]),
    };
  };
  return {
    angles: trace.angles,
    rod,
    side,
    bearingRadial,
    bearingTangential,
    torque,
    compression: extreme(rod, (value) => value),
    tension: extreme(rod, (value) => -value),
    largestSide: extreme(side, Math.abs),
    missing,
  };
}
