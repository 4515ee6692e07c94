import { type Area, type Force, force, type Length, type Ratio, ratio } from '../../quantities/index.ts';

/** Shank of a rod as a column between its eyes. Stresses in Pa. */
export interface RodColumn {
  readonly length: Length;
  readonly area: Area;
  /** Second moments of area [m⁴]: bending in the plane of the crank's motion, and across it (about the axis of the pins' normal). */
  readonly inPlane: number;
  readonly acrossPlane: number;
  readonly modulus: number;
  readonly yieldStrength: number;
}

/** load: at which the column yields or buckles [N]. kind: which form of the column decides. */
export interface ColumnLimit {
  readonly load: Force;
  readonly plane: 'in plane' | 'across plane';
  readonly kind: 'short' | 'long';
  readonly slenderness: Ratio;
}

/**
 * Load at which the shank fails as a column [N]: the smaller of both planes.
 *
 *     slender (L/k > s1 = √(2π²CE/Sy)):   F = π²·C·E·A/(L/k)²             Euler
 *     else:                               F = A·(Sy − (Sy·L/(2π·k))²/(C·E))   Johnson
 *
 * End condition C: 1 in the plane of motion, where the eyes turn on their pins; 1.2 across it, where the pins hold them. A full
 * clamp would be 4 and is never reached.
 *
 * @valid   straight shank of even section, load along its axis; impact of knock and lateral whip of the rod come on top
 * @source  Shigley, Mechanical Engineering Design, 4-12 to 4-14 and table 4-2 (from memory)
 */
export function columnLimit(column: RodColumn): ColumnLimit {
  const planes = [
    { plane: 'in plane', second: column.inPlane, ends: 1 },
    { plane: 'across plane', second: column.acrossPlane, ends: 1.2 },
  ] as const;
  const [first, second] = planes.map((plane) => planeLimit(column, plane));
  return first.load <= second.load ? first : second;
}

interface Plane {
  readonly plane: ColumnLimit['plane'];
  readonly second: number;
  readonly ends: number;
}

function planeLimit(column: RodColumn, { plane, second, ends }: Plane): ColumnLimit {
  const { area: A, modulus: E, yieldStrength: Sy } = column;
  const slenderness = column.length / Math.sqrt(second / A);
  const border = Math.sqrt((2 * Math.PI ** 2 * ends * E) / Sy);
  const long = slenderness > border;
  const load = long
    ? (Math.PI ** 2 * ends * E * A) / slenderness ** 2
    : A * (Sy - ((Sy * slenderness) / (2 * Math.PI)) ** 2 / (ends * E));
  return { load: force(load), plane, kind: long ? 'long' : 'short', slenderness: ratio(slenderness) };
}
