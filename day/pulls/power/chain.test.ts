import { describe, expect, test } from 'vitest';
import { type ChainInputs, type PullSignals, powerChain } from './chain.ts';

const nominal: ChainInputs = {
  rollMass: 450,
  wheelMass: 24,
  rollingLoss: (speed) => 180 + 3.2 * speed,
  loadLoss: 0,
  torqueLoss: 0.055,
  engineInertia: 0.16,
  forceGain: 1,
  forceShift: 0,
  speedGain: 1,
  slipShift: 0,
};

/** Forward: from crank torque to what the cell of a brake would read, by Newton at each part; nothing of the chain is used. */
function forward(torque: number, { omega, alpha, slip }: { omega: number; alpha: number; slip: number }): PullSignals {
  const ratio = 4.402;
  const radius = 0.33;
  const surface = (omega / ratio) * radius;
  const surfaceAcceleration = (alpha / ratio) * radius;
  const speed = surface / (1 + slip);
  const acceleration = surfaceAcceleration / (1 + slip);
  const axleTorque = (torque - 0.16 * alpha) * (1 - 0.055) * ratio;
  const wheelForce = axleTorque / radius - nominal.wheelMass * surfaceAcceleration - (180 + 3.2 * speed);
  const one = (value: number): Float64Array => Float64Array.of(value);
  return {
    time: one(0),
    speed: one(speed),
    acceleration: one(acceleration),
    force: one(wheelForce - 450 * acceleration),
    engineSpeed: one(omega),
    engineAcceleration: one(alpha),
    slip: one(slip),
  };
}

describe('the chain undoes a car that was computed forwards', () => {
  test.each([
    ['steady, no slip', 400, { omega: 500, alpha: 0, slip: 0 }],
    ['400 rpm/s, no slip', 423, { omega: 366.5, alpha: 41.9, slip: 0 }],
    ['400 rpm/s, 2.7 % slip', 423, { omega: 366.5, alpha: 41.9, slip: 0.027 }],
    ['1000 rpm/s, 8 % slip', 300, { omega: 680, alpha: 104.7, slip: 0.08 }],
  ])('%s', (_what, torque, state) => {
    const lines = powerChain(forward(torque, state), nominal);
    expect(lines.engine[0] / (torque * state.omega)).toBeCloseTo(1, 10);
  });

  test('the lines add up to engine power', () => {
    const lines = powerChain(forward(423, { omega: 366.5, alpha: 41.9, slip: 0.027 }), nominal);
    const sum =
      lines.tyre[0] + lines.rollingLoss[0] + lines.wheelInertia[0] + lines.torqueLoss[0] + lines.engineInertia[0];
    expect(sum / lines.engine[0]).toBeCloseTo(1, 12);
    expect(lines.brake[0] + lines.rollInertia[0]).toBeCloseTo(lines.roll[0], 9);
  });
});

test('3-14 (P = I·ω·α, computed with numpy 2.4.6): a drum of 25 kg·m² at 100 rad/s and 30 rad/s² takes 75.000 kW', () => {
  const radius = 0.3;
  const one = (value: number): Float64Array => Float64Array.of(value);
  const signals: PullSignals = {
    time: one(0),
    speed: one(100 * radius),
    acceleration: one(30 * radius),
    force: one(0),
    engineSpeed: one(Number.NaN),
    engineAcceleration: one(Number.NaN),
    slip: one(Number.NaN),
  };
  const lines = powerChain(signals, { ...nominal, rollMass: 25 / radius ** 2 });
  expect(lines.roll[0]).toBeCloseTo(75_000, 6);
});

test('without losses, roll and wheel power are known and engine power is not', () => {
  const lines = powerChain(forward(423, { omega: 366.5, alpha: 41.9, slip: 0.01 }), {
    ...nominal,
    rollingLoss: undefined,
  });
  expect(lines.tyre[0]).toBeGreaterThan(lines.roll[0]);
  expect(lines.engine[0]).toBeNaN();
});

test('without slip, only roll power is known', () => {
  const signals = { ...forward(423, { omega: 366.5, alpha: 41.9, slip: 0.01 }), slip: Float64Array.of(Number.NaN) };
  const lines = powerChain(signals, nominal);
  expect(lines.roll[0]).toBeGreaterThan(0);
  expect(lines.tyre[0]).toBeNaN();
});
