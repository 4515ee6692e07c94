import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { savitzkyGolay } from './savitzky-golay.ts';

const reference = JSON.parse(readFileSync(join(import.meta.dirname, '../reference/scipy.json'), 'utf8'));

const ROWS = [
  { row: '8-18', halfWidth: 2, orders: [2, 3], derivative: 0, wanted: [-3, 12, 17, 12, -3], over: 35 },
  { row: '8-19', halfWidth: 3, orders: [2, 3], derivative: 0, wanted: [-2, 3, 6, 7, 6, 3, -2], over: 21 },
  { row: '8-20', halfWidth: 2, orders: [2], derivative: 1, wanted: [-2, -1, 0, 1, 2], over: 10 },
  { row: '8-20', halfWidth: 3, orders: [2], derivative: 1, wanted: [-3, -2, -1, 0, 1, 2, 3], over: 28 },
  // the table's second derivative is the polynomial's own: 2·c2, so 2/7 at the ends
  { row: '8-21', halfWidth: 2, orders: [2], derivative: 2, wanted: [2, -1, -2, -1, 2], over: 7 },
];

describe('Savitzky–Golay coefficients', () => {
  it.each(ROWS)('check $row (Savitzky & Golay table, computed with scipy 1.17.1): $wanted / $over', (row) => {
    for (const order of row.orders) {
      const found = savitzkyGolay({ halfWidth: row.halfWidth, order, derivative: row.derivative });
      row.wanted.forEach((value, i) => {
        expect(found[i] * row.over).toBeCloseTo(value, 12);
      });
    }
  });

  it('agree with scipy 1.17.1 savgol_coeffs for wider filters and higher orders (computed reference)', () => {
    for (const [halfWidth, order, derivative, wanted] of reference.savitzkyGolay) {
      const found = savitzkyGolay({ halfWidth, order, derivative });
      for (let i = 0; i < wanted.length; i++) expect(found[i]).toBeCloseTo(wanted[i], 10);
    }
  });

  it('reproduce a polynomial of their order and its derivatives exactly', () => {
    const y = (x: number) => 2 - 3 * x + 0.5 * x ** 2 + 0.25 * x ** 3 - 0.01 * x ** 4;
    const wanted = [2, -3, 1, 1.5, -0.24];
    wanted.forEach((value, derivative) => {
      const c = savitzkyGolay({ halfWidth: 20, order: 4, derivative });
      expect(c.reduce((sum, ci, i) => sum + ci * y(i - 20), 0)).toBeCloseTo(value, 8);
    });
  });

  it('are zero for a derivative above the order, and refuse an order the points cannot carry', () => {
    expect(savitzkyGolay({ halfWidth: 2, order: 1, derivative: 2 }).every((c) => c === 0)).toBe(true);
    expect(() => savitzkyGolay({ halfWidth: 2, order: 5 })).toThrow('invalid order: 5');
  });
});
