import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { toSi, unitOf } from '../../../core/quantities/index.ts';
import { gearOfRatio, gearTable } from './gears.ts';

describe('gearTable', () => {
  it('is empty without speeds', () => {
    const none = new Float64Array(0);
    expect(gearTable({ step: 1, speed: none, engineSpeed: none, acceleration: none }).gears).toEqual([]);
  });

  it('finds a made table through noise, shifts and open-clutch stretches', () => {
    const random = randomSource(11);
    const truth = [42, 25.5, 17.2, 12.9, 10.1, 8.3];
    const rows: { v: number; w: number; a: number }[] = [];
    for (let k = 0; k < 60; k++) {
      const gear = truth[k % 6];
      const a = 0.4 * random.normal();
      const start = 250 / gear;
      for (let i = 0; i < 80; i++) {
        const v = start + a * i * 0.05;
        const open = i < 8;
        rows.push({ v, w: open ? 100 + 4 * i : gear * v * (1 + 0.004 * random.normal()), a });
      }
    }
    const table = gearTable({
      step: 0.05,
      speed: Float64Array.from(rows, ({ v }) => v),
      engineSpeed: Float64Array.from(rows, ({ w }) => w),
      acceleration: Float64Array.from(rows, ({ a }) => a),
    });
    expect(table.gears).toHaveLength(6);
    for (const [k, ratio] of truth.entries()) expect(Math.abs(table.gears[k].ratio / ratio - 1)).toBeLessThan(0.003);
    expect(gearOfRatio(table, 17.4)).toBe(3);
    expect(gearOfRatio(table, 14.9)).toBe(0);
  });
});

const FOLDER = new URL('../../../../shared/data/regulation-vehicles-full-load/', import.meta.url);

describe('measured drives of six-speed cars at 1 Hz (JRC, European Commission)', () => {
  // km/h per rpm of gears 2-6 as the source's own gear find gives them
  const published: readonly (readonly [number, readonly number[]])[] = [
    [1, [0.01414, 0.0204, 0.02705, 0.03361, 0.03914]],
    [2, [0.01431, 0.0204, 0.02715, 0.03378, 0.03948]],
    [3, [0.01429, 0.0204, 0.02713, 0.03377, 0.03951]],
  ];
  it.skipIf(!existsSync(FOLDER)).each(published)(
    'drive %d: gears 2 to 6 within 1 % (skipped where the data are absent)',
    (drive, expected) => {
      const lines = readFileSync(new URL(`speed-rpm-${drive}.csv`, FOLDER), 'utf8')
        .trim()
        .split(/\r?\n/)
        .slice(1);
      const rows = lines.map((line) => line.split(',').map(Number));
      const speed = Float64Array.from(rows, (row) => toSi(row[0], unitOf('km/h')));
      const engineSpeed = Float64Array.from(rows, (row) => toSi(row[1], unitOf('rpm')));
      const acceleration = speed.map((v, i) => ((speed[i + 1] ?? v) - (speed[i - 1] ?? v)) / 2);
      const { gears } = gearTable({ step: 1, speed, engineSpeed, acceleration });
      const unit = toSi(1, unitOf('rpm')) / toSi(1, unitOf('km/h'));
      for (const want of expected) {
        const apart = gears.map(({ ratio }) => Math.abs(unit / ratio / want - 1));
        expect(Math.min(...apart)).toBeLessThan(0.01);
      }
      expect(gears.length).toBeLessThanOrEqual(7);
    },
  );
});
