import { expect, test } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { ChainInputs, PullSignals } from './chain.ts';
import { effects, type UncertainInputs } from './influences.ts';

const one = (value: number): Float64Array => Float64Array.of(value);
const signals: PullSignals = {
  time: one(0),
  speed: one(40),
  acceleration: one(3),
  force: one(3000),
  engineSpeed: one(550),
  engineAcceleration: one(42),
  slip: one(0.02),
};
const inputs: ChainInputs = {
  rollMass: 450,
  wheelMass: 24,
  rollingLoss: () => 300,
  loadLoss: 0,
  torqueLoss: 0.05,
  engineInertia: 0.16,
  forceGain: 1,
  forceShift: 0,
  speedGain: 1,
  slipShift: 0,
};
const none = { value: measured(1, 0), origin: 'test' };
const exact: UncertainInputs = {
  forceCalibration: none,
  forceZero: { ...none, own: true },
  speedCalibration: none,
  rollMass: none,
  wheelMass: none,
  engineInertia: none,
  loadLoss: none,
  torqueLoss: none,
  slip: none,
  coastMass: 474,
  lossSpread: undefined,
};

function effectOf(name: string, known: Partial<UncertainInputs>): { roll: number; tyre: number; engine: number } {
  const found = effects(signals, inputs, { ...exact, ...known }).find(({ influence }) => influence.name === name);
  return {
    roll: found?.roll[0] ?? Number.NaN,
    tyre: found?.tyre[0] ?? Number.NaN,
    engine: found?.engine[0] ?? Number.NaN,
  };
}

// By hand from roll = F·v + m·a·v, tyre = roll·1.02, engine = (tyre + …)/0.95.
test('0.5 % of force calibration is 0.5 % of the brake part alone', () => {
  const effect = effectOf('force calibration', { forceCalibration: { value: measured(1, 0.005), origin: 'test' } });
  expect(effect.roll).toBeCloseTo(0.005 * 3000 * 40, 6);
  expect(effect.engine).toBeCloseTo((0.005 * 3000 * 40 * 1.02) / 0.95, 6);
});

test('a heavier roll counts in the acceleration and in the loss that was found with it', () => {
  const effect = effectOf('equivalent mass of the rolls', { rollMass: { value: measured(450, 4.5), origin: 'test' } });
  expect(effect.roll).toBeCloseTo(4.5 * 3 * 40, 6);
  const loss = 300 * (4.5 / 474) * 40 * 1.02;
  expect(effect.engine).toBeCloseTo((4.5 * 3 * 40 * 1.02 + loss) / 0.95, 6);
});

test('a faster speed scale counts once in the brake part and twice where the rolls accelerate', () => {
  const effect = effectOf('speed calibration', { speedCalibration: { value: measured(1, 0.001), origin: 'test' } });
  const brake = 3000 * 40;
  const inertia = 450 * 3 * 40;
  expect(effect.roll).toBeCloseTo(brake * 0.001 + inertia * (1.001 ** 2 - 1), 6);
});

test('a zero that was read in the pull itself is random, one that was stated is shared', () => {
  const sharing = (own: boolean): string | undefined =>
    effects(signals, inputs, { ...exact, forceZero: { value: measured(0, 5), origin: 'test', own } }).find(
      ({ influence }) => influence.name === 'force zero',
    )?.influence.sharing;
  expect(sharing(true)).toBe('random');
  expect(sharing(false)).toBe('shared');
});

test('what is known exactly has no effect', () => {
  for (const { roll, tyre, engine } of effects(signals, inputs, exact)) {
    expect([roll[0], tyre[0], engine[0]]).toEqual([0, 0, 0]);
  }
});
