import { linearFit, localQuadratic } from '../../../core/numerics/index.ts';
import { answered, type Measured, measured, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { LossFit } from '../result.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';

/** Bandwidth of the deceleration in a coast-down [Hz]. A coast-down is slow: less than in a pull. @source our default */
const COAST_BANDWIDTH = 0.5;

/** Narrowest speed range from which a slope against speed is taken [1, highest over lowest speed]. @source our default */
const LEAST_RANGE = 1.25;

export interface CoastDown {
  readonly side: RollSide;
  readonly segment: Segment;
  /** Mass that is slowed and not already in the force: rolls and wheels, or the wheels alone beside a whole force [kg]. */
  readonly mass: { readonly value: number; readonly standardUncertainty: number };
  readonly forceZero: number;
  readonly clutch: LossFit['clutch'];
}

/**
 * Loss force at the tyre contact from one coast-down:
 *
 *     F0 + F1·v (+ F2·v²) = −m·dv/dt − F_brake
 *
 * by least squares over the stretch; the square term only where it is more than three standard deviations from zero.
 *
 * Refusals: `coast-down-too-short` (fewer than 20 usable values or too narrow a speed range).
 * @source 40 CFR 1066 road-load form; statistics: ordinary least squares, one independent value per 1/(2·bandwidth)
 */
export function coastDownLosses(coast: CoastDown): Outcome<LossFit> {
  const { segment } = coast;
  const forces = lossForces(coast);
  const speeds = forces.map(({ speed }) => speed);
  const range = Math.max(...speeds) / Math.min(...speeds);
  if (forces.length < 20 || !(range >= LEAST_RANGE)) return tooShort(segment, forces.length);
  const independent = Math.max(4, (segment.toTime - segment.fromTime) * 2 * COAST_BANDWIDTH);
  const inflation = Math.sqrt(Math.max(1, forces.length / independent));
  const middle = speeds.reduce((sum, speed) => sum + speed, 0) / speeds.length;
  const square = fitted(forces, middle, 3);
  const useSquare = Math.abs(square.values[2]) > 3 * square.errors[2] * inflation && range > 1.8;
  const fit = useSquare ? square : fitted(forces, middle, 2);
  const [force, slope, bend] = [0, 1, 2].map((k) => measured(fit.values[k] ?? 0, (fit.errors[k] ?? 0) * inflation));
  return answered({
    segment,
    clutch: coast.clutch,
    ...aboutZero(middle, { force, slope, bend }),
    middle: { speed: middle, force },
    mass: measured(coast.mass.value, coast.mass.standardUncertainty),
    residual: fit.residual,
    findings: [],
  });
}

/** The polynomial about the middle speed written about zero speed. Uncertainties: the three parts are nearly uncorrelated about the middle. */
function aboutZero(
  middle: number,
  { force, slope, bend }: Record<'force' | 'slope' | 'bend', Measured>,
): Pick<LossFit, 'f0' | 'f1' | 'f2'> {
  const f1Spread = Math.hypot(slope.standardUncertainty, 2 * middle * bend.standardUncertainty);
  const f0Spread = Math.hypot(
    force.standardUncertainty,
    middle * slope.standardUncertainty,
    middle ** 2 * bend.standardUncertainty,
  );
  return {
    f0: measured(force.value - slope.value * middle + bend.value * middle ** 2, f0Spread),
    f1: measured(slope.value - 2 * bend.value * middle, f1Spread),
    f2: bend,
  };
}

/** Force of the fit at a speed [N]. */
export function lossForce(fit: Pick<LossFit, 'f0' | 'f1' | 'f2'>, speed: number): number {
  return fit.f0.value + fit.f1.value * speed + fit.f2.value * speed * speed;
}

interface Reading {
  readonly speed: number;
  readonly force: number;
}

function lossForces({ side, segment, mass, forceZero }: CoastDown): Reading[] {
  const window = [{ from: segment.from, to: segment.to }];
  const pieces = side.pieces.flatMap((piece) =>
    window.map((w) => ({ from: Math.max(piece.from, w.from), to: Math.min(piece.to, w.to) })),
  );
  const inside = pieces.filter(({ from, to }) => to - from >= 8);
  const smooth = localQuadratic({ times: side.times, samples: side.speed, pieces: inside, bandwidth: COAST_BANDWIDTH });
  const readings: Reading[] = [];
  for (const { from, to } of inside) {
    for (let i = from; i < to; i++) {
      const cell = side.forceKind === 'none' ? 0 : (side.force?.[i] ?? Number.NaN) - forceZero;
      const force = -mass.value * smooth.slope[i] - cell;
      if (Number.isFinite(force) && Number.isFinite(smooth.value[i])) readings.push({ speed: smooth.value[i], force });
    }
  }
  return readings;
}

function fitted(readings: readonly Reading[], middle: number, columns: number): Fitted {
  const values = new Float64Array(readings.length * columns);
  readings.forEach(({ speed }, row) => {
    for (let power = 0; power < columns; power++) values[row * columns + power] = (speed - middle) ** power;
  });
  const fit = linearFit({
    design: { rows: readings.length, columns, values },
    response: readings.map(({ force }) => force),
  });
  return { values: fit.coefficients, errors: fit.standardErrors, residual: fit.residualDeviation };
}

interface Fitted {
  readonly values: Float64Array;
  readonly errors: Float64Array;
  readonly residual: number;
}

function tooShort(segment: Segment, count: number): Outcome<LossFit> {
  return refused({
    kind: 'coast-down-too-short',
    message: `coast-down out of validity: ${count} usable values from ${segment.highSpeed.toFixed(1)} to ${segment.lowSpeed.toFixed(1)} m/s, valid from 20 values over a speed ratio of ${LEAST_RANGE}`,
    place: { from: segment.fromTime, to: segment.toTime },
    numbers: { count, lowSpeed: segment.lowSpeed, highSpeed: segment.highSpeed },
    rule: 'shortest coast-down, our default',
  });
}
