import type { Ratio } from '../../../quantities/index.ts';
import { type CylinderShape, cylinderSize, cylinderVolume } from '../mechanism/cylinder.ts';

/** Pressure in one cylinder over crank angle. Missing is NaN. */
export interface CylinderTrace {
  /** After firing top dead centre [rad], rising. */
  readonly angle: Float64Array;
  /** Absolute [Pa], as long as `angle`. */
  readonly pressure: Float64Array;
}

/** A range of crank angle after firing top dead centre [rad], ends included. */
export interface AngleRange {
  readonly from: number;
  readonly to: number;
}

/** Volumes at the angles of a trace [m³]. @source slider-crank */
export function volumesOf(trace: CylinderTrace, shape: CylinderShape): Float64Array {
  return trace.angle.map((angle) => cylinderVolume(shape, angle));
}

/** Exponent, and standard deviation of ln p about the line [1]. */
export interface Polytrope {
  readonly exponent: number;
  readonly deviation: number;
  readonly samples: number;
}

/**
 * Exponent n of p·Vⁿ = const over a range: minus the slope of ln p over ln V.
 *
 * Missing or non-positive pressures are left out; fewer than three samples give NaN.
 *
 * @valid   closed valves, no burning, no gross leak
 * @source  least squares on the logarithms
 */
export function polytropicExponent(trace: CylinderTrace, shape: CylinderShape, range: AngleRange): Polytrope {
  const x: number[] = [];
  const y: number[] = [];
  for (let i = 0; i < trace.angle.length; i++) {
    const angle = trace.angle[i];
    if (angle < range.from || angle > range.to || !(trace.pressure[i] > 0)) continue;
    x.push(Math.log(cylinderVolume(shape, angle)));
    y.push(Math.log(trace.pressure[i]));
  }
  const n = x.length;
  if (n < 3) return { exponent: Number.NaN, deviation: Number.NaN, samples: n };
  const meanX = x.reduce((sum, value) => sum + value, 0) / n;
  const meanY = y.reduce((sum, value) => sum + value, 0) / n;
  let square = 0;
  let product = 0;
  for (let i = 0; i < n; i++) {
    square += (x[i] - meanX) ** 2;
    product += (x[i] - meanX) * (y[i] - meanY);
  }
  const slope = product / square;
  let left = 0;
  for (let i = 0; i < n; i++) left += (y[i] - meanY - slope * (x[i] - meanX)) ** 2;
  return { exponent: -slope, deviation: Math.sqrt(left / (n - 2)), samples: n };
}

/**
 * Indicated mean effective pressure over a range of angle [Pa]: ∫ p dV / displacement.
 *
 * A missing sample inside the range makes the answer NaN: work is not guessed across a gap.
 *
 * @source  definition; trapezoidal rule over volume
 */
export function indicatedPressure(trace: CylinderTrace, shape: CylinderShape, range: AngleRange): number {
  const volume = volumesOf(trace, shape);
  let work = 0;
  for (let i = 1; i < volume.length; i++) {
    if (trace.angle[i - 1] < range.from - 1e-9 || trace.angle[i] > range.to + 1e-9) continue;
    work += ((trace.pressure[i] + trace.pressure[i - 1]) / 2) * (volume[i] - volume[i - 1]);
  }
  return work / cylinderSize(shape).displacement;
}

/**
 * Apparent heat release [J] at the angles of a trace, from the start of the range, NaN outside it.
 *
 *     dQ = (k·p·dV + V·dp)/(k − 1)
 *
 * Net of heat lost to the walls, so it falls again after burning.
 *
 * @param ratio  k, ratio of heat capacities, one for the whole range
 * @source  first law with one zone of constant heat capacities: Heywood (1988), ch. 9 (from memory)
 */
export function apparentHeatRelease(
  trace: CylinderTrace,
  shape: CylinderShape,
  how: AngleRange & { readonly ratio: Ratio },
): Float64Array {
  const volume = volumesOf(trace, shape);
  const release = new Float64Array(volume.length).fill(Number.NaN);
  let sum = 0;
  let last = -1;
  for (let i = 0; i < volume.length; i++) {
    if (trace.angle[i] < how.from || trace.angle[i] > how.to) continue;
    if (last >= 0) {
      const p = (trace.pressure[i] + trace.pressure[last]) / 2;
      const V = (volume[i] + volume[last]) / 2;
      const dp = trace.pressure[i] - trace.pressure[last];
      sum += (how.ratio * p * (volume[i] - volume[last]) + V * dp) / (how.ratio - 1);
    }
    release[i] = sum;
    last = i;
  }
  return release;
}

/** Highest pressure [Pa] and its angle [rad], by a parabola through the three samples around it; NaN when all are missing. */
export function peakOf({ angle, pressure }: CylinderTrace): { readonly pressure: number; readonly angle: number } {
  let top = -1;
  for (let i = 0; i < pressure.length; i++)
    if (pressure[i] > (top < 0 ? Number.NEGATIVE_INFINITY : pressure[top])) top = i;
  if (top < 0) return { pressure: Number.NaN, angle: Number.NaN };
  const plain = { pressure: pressure[top], angle: angle[top] };
  if (top === 0 || top === pressure.length - 1) return plain;
  const [a, b, c] = [pressure[top - 1], pressure[top], pressure[top + 1]];
  const bend = a - 2 * b + c;
  if (!(bend < 0)) return plain;
  const shift = (0.5 * (a - c)) / bend;
  return { pressure: b - 0.25 * (a - c) * shift, angle: angle[top] + (shift * (angle[top + 1] - angle[top - 1])) / 2 };
}
