import { curveValue, monotoneCurve } from '../../numerics/index.ts';
import {
  answered,
  type Length,
  type Measured,
  measured,
  type Outcome,
  type Ratio,
  refused,
} from '../../quantities/index.ts';

/** Electrodes of a spark tester: two needle points, or two spheres of 25 mm. */
export type TesterKind = 'needle' | 'sphere';

/**
 * Gap [m] that breaks down at a peak voltage [V] in air of 25 °C and 760 mmHg.
 *
 * @source AIEE needle-point and sphere-gap table as a public page prints it (seen); cells that could not be read are left out
 */
const TABLES: Record<TesterKind, readonly (readonly [number, number])[]> = {
  needle: [
    [0.42e-2, 5e3],
    [0.85e-2, 10e3],
    [1.75e-2, 20e3],
    [2.2e-2, 25e3],
    [3.2e-2, 35e3],
    [3.81e-2, 40e3],
    [4.49e-2, 45e3],
    [5.2e-2, 50e3],
  ],
  sphere: [
    [0.13e-2, 5e3],
    [0.27e-2, 10e3],
    [0.42e-2, 15e3],
    [0.58e-2, 20e3],
    [0.76e-2, 25e3],
    [0.95e-2, 30e3],
    [1.17e-2, 35e3],
    [1.41e-2, 40e3],
    [1.68e-2, 45e3],
    [2e-2, 50e3],
  ],
};

/** Relative standard uncertainty of one reading [1]: needles scatter by about 8 %, spheres by 3 %. @source as the table's page states */
const SCATTER: Record<TesterKind, number> = { needle: 0.08, sphere: 0.03 };

/**
 * Peak voltage that a coil reaches when it just jumps a gap in open air [V], with its standard uncertainty.
 *
 * Scaled by relative density. Refuses a gap outside the table.
 *
 * @param density relative to 25 °C and 101.325 kPa [1]; needles follow it less exactly than spheres
 * @valid   steady or slow voltage; a coil's rise of some tens of microseconds jumps needles up to 10 % higher (from memory).
 *          High voltage: only with the tester earthed and nobody near it
 * @source  AIEE table, joined by a curve without overshoot
 */
export function testerVoltage(kind: TesterKind, gap: Length, density: Ratio): Outcome<Measured> {
  const rows = TABLES[kind];
  const gaps = Float64Array.from(rows, ([d]) => d);
  const last = gaps[gaps.length - 1];
  // 5.2 cm may arrive as 0.05200000000000001 m
  const rounded = Math.abs(gap / last - 1) < 1e-9 ? last : gap;
  const found = curveValue(
    monotoneCurve(
      gaps,
      Float64Array.from(rows, ([, volts]) => volts),
    ),
    rounded,
  );
  if (Number.isNaN(found)) {
    const numbers = { value: gap, lowest: gaps[0], highest: last };
    return refused({ kind: 'tester-gap-out-of-table', message: 'gap out of validity', numbers });
  }
  return answered(measured(found * density, found * density * SCATTER[kind]));
}
