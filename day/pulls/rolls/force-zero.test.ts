import { expect, test } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import { forceZero } from './force-zero.ts';
import type { RollSide } from './roll-side.ts';

function side(seconds: number, options: { setting?: (t: number) => number; force: (t: number) => number }): RollSide {
  const count = seconds * 50;
  const times = Float64Array.from({ length: count }, (_, i) => i / 50);
  const { setting } = options;
  return {
    times,
    pieces: [{ from: 0, to: count }],
    speed: new Float64Array(count).fill(20),
    force: times.map(options.force),
    forceKind: 'brake',
    setting: setting && times.map(setting),
    mass: measured(450, 4.5),
    massOrigin: 'test',
    refreshRate: 50,
    findings: [],
  };
}

const random = randomSource(3);
const noisy = (level: number): number => level + 14 * random.normal();

test('the mean with the brake off is the zero, and settling is left out', () => {
  const found = forceZero(
    side(10, { setting: (t) => (t < 4 ? 0.5 : 0), force: (t) => (t < 4.5 ? 3000 : noisy(-22)) }),
    {},
  );
  expect(Math.abs(found.zero.value + 22)).toBeLessThan(3);
  expect(found.own).toBe(true);
  expect(found.zero.standardUncertainty).toBeGreaterThan(0.5);
  expect(found.findings[0]?.kind).toBe('force-zero');
});

test('a brake that is never off leaves the zero as read, 0.2 % of the largest force uncertain', () => {
  const found = forceZero(side(10, { setting: () => 0.4, force: () => 3000 }), {});
  expect(found.zero.value).toBe(0);
  expect(found.zero.standardUncertainty).toBeCloseTo(6, 9);
  expect(found.own).toBe(false);
});

test('a stated zero uncertainty goes before the default', () => {
  expect(forceZero(side(10, { force: () => 3000 }), { forceZero: 15 }).zero.standardUncertainty).toBe(15);
});

test('a whole force is never zeroed on a brake setting', () => {
  const whole = { ...side(10, { setting: () => 0, force: () => -400 }), forceKind: 'whole' as const };
  expect(forceZero(whole, {}).zero.value).toBe(0);
});

test('half a second with the brake off is too little', () => {
  expect(forceZero(side(10, { setting: (t) => (t < 9 ? 0.5 : 0), force: () => 30 }), {}).own).toBe(false);
});

/** A roll-out in the second half: the rolls lose 2 m/s each second. */
function slowingDown(level: number): RollSide {
  const made = side(10, { force: (t) => (t < 5 ? 3000 : level) });
  return { ...made, speed: made.times.map((t) => (t < 5 ? 20 + 3 * t : 35 - 2 * (t - 5))) };
}

test('150 N while the rolls slow down by themselves make the zero doubtful and its uncertainty wide', () => {
  const found = forceZero(slowingDown(150), {});
  expect(found.findings.map(({ kind }) => kind)).toEqual(['force-zero-suspect']);
  expect(found.zero.standardUncertainty).toBeGreaterThan(80);
});

test('10 N while the rolls slow down are nothing', () => {
  expect(forceZero(slowingDown(10), {}).findings).toEqual([]);
});
