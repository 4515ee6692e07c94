import { expect, test } from 'vitest';
import { toSi, unitOf } from '../../../core/quantities/index.ts';
import type { PullSignals } from './chain.ts';
import { curveGrid, onGrid } from './grid.ts';

const rpm = (value: number): number => toSi(value, unitOf('rpm'));

function signals(engineSpeed: readonly number[], speed: readonly number[] = engineSpeed): PullSignals {
  const zero = new Float64Array(speed.length);
  return {
    time: Float64Array.from(speed, (_, i) => i),
    speed: Float64Array.from(speed),
    acceleration: zero,
    force: zero,
    engineSpeed: Float64Array.from(engineSpeed),
    engineAcceleration: zero,
    slip: zero,
  };
}

test('points lie at whole 50 rpm and are interpolated', () => {
  const made = signals([rpm(3010), rpm(3090), rpm(3210)]);
  const grid = curveGrid(made, [{ from: 0, to: 3 }]);
  const engine = onGrid(grid, made.engineSpeed);
  expect(grid.axis).toBe('engine-speed');
  expect(Array.from(engine, (w) => Math.round(w / rpm(1)))).toEqual([3050, 3100, 3150, 3200]);
  expect(onGrid(grid, Float64Array.of(0, 80, 200))[0]).toBeCloseTo(40, 9);
});

test('no point lies between two pieces, and the hole is missing', () => {
  const made = signals([rpm(2999), rpm(3060), rpm(3399), rpm(3460)]);
  const grid = curveGrid(made, [
    { from: 0, to: 2 },
    { from: 2, to: 4 },
  ]);
  const engine = onGrid(grid, made.engineSpeed);
  expect(Array.from(engine, Number.isFinite)).toEqual([
    true,
    true,
    false,
    false,
    false,
    false,
    false,
    false,
    true,
    true,
  ]);
});

test('a gear change puts the curve on roll speed', () => {
  const engine = [300, 400, 500, 350, 450, 550, 400, 500];
  const grid = curveGrid(signals(engine, [10, 12, 14, 16, 18, 20, 22, 24]), [{ from: 0, to: 8 }]);
  expect(grid.axis).toBe('roll-speed');
});

test('without any engine speed the curve lies on roll speed', () => {
  const grid = curveGrid(signals([Number.NaN, Number.NaN, Number.NaN], [10, 11, 12]), [{ from: 0, to: 3 }]);
  expect(grid.axis).toBe('roll-speed');
  expect(grid.before.length).toBe(5);
});

test('nothing at all gives an empty grid', () => {
  expect(curveGrid(signals([], []), []).before.length).toBe(0);
});
