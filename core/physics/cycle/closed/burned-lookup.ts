import { CELL, GRID, ROOT_CENTRE, ROOT_HALF } from '../gas/burned-table.ts';
import { G } from './workspace.ts';

const LAST_CELL = GRID.cells - 1;
const PER_STEP = 1 / GRID.enthalpyStep;
const PER_HALF = 1 / ROOT_HALF;
const ZERO = -GRID.firstEnthalpy / GRID.enthalpyStep;

/**
 * Burned gas at an enthalpy above its reference [J/kg] and p^(−1/4): R·T [J/kg], its slopes with h and with ln p, T [K].
 *
 * Written out, since it is the innermost part: cubics in u, then a polynomial in v, with both slopes.
 *
 * @param out    places of {@link G}
 * @param cells  as gas/burned-table.ts makes them
 * @param at     enthalpy, p^(−1/4)
 */
export function burnedInto(out: Float64Array, cells: Float64Array, at: Float64Array): void {
  const place = at[0] * PER_STEP + ZERO;
  const cell = place < 1 ? 0 : place >= LAST_CELL ? LAST_CELL : place | 0;
  const u = place - cell;
  const v = (at[1] - ROOT_CENTRE) * PER_HALF;
  const b = cell * CELL;
  const a1 = cells[b + 1];
  const a2 = cells[b + 2];
  const a3 = cells[b + 3];
  const b1 = cells[b + 5];
  const b2 = cells[b + 6];
  const b3 = cells[b + 7];
  const c1 = cells[b + 9];
  const c2 = cells[b + 10];
  const c3 = cells[b + 11];
  const d1 = cells[b + 13];
  const d2 = cells[b + 14];
  const d3 = cells[b + 15];
  const g0 = cells[b] + u * (a1 + u * (a2 + u * a3));
  const g1 = cells[b + 4] + u * (b1 + u * (b2 + u * b3));
  const g2 = cells[b + 8] + u * (c1 + u * (c2 + u * c3));
  const g3 = cells[b + 12] + u * (d1 + u * (d2 + u * d3));
  const twice = 2 * u;
  const thrice = 3 * u * u;
  const s0 = a1 + twice * a2 + thrice * a3;
  const s1 = b1 + twice * b2 + thrice * b3;
  const s2 = c1 + twice * c2 + thrice * c3;
  const s3 = d1 + twice * d2 + thrice * d3;
  const t0 = cells[b + 16] + u * (cells[b + 17] + u * (cells[b + 18] + u * cells[b + 19]));
  const t1 = cells[b + 20] + u * (cells[b + 21] + u * (cells[b + 22] + u * cells[b + 23]));
  const t2 = cells[b + 24] + u * (cells[b + 25] + u * (cells[b + 26] + u * cells[b + 27]));
  out[G.energy] = g0 + v * (g1 + v * (g2 + v * g3));
  out[G.byEnthalpy] = (s0 + v * (s1 + v * (s2 + v * s3))) * PER_STEP;
  // d(p^−¼)/d(ln p) = −p^−¼/4
  out[G.byLogPressure] = (g1 + v * (2 * g2 + v * 3 * g3)) * (-0.25 * PER_HALF) * at[1];
  out[G.temperature] = t0 + v * (t1 + v * t2);
}
