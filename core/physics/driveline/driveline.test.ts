import { describe, expect, it } from 'vitest';
import {
  angularAcceleration,
  angularSpeed,
  inertia,
  length,
  mass,
  power,
  ratio,
  speed,
  torque,
} from '../../quantities/index.ts';
import { equivalentMass } from '../rolls/roll-power.ts';
import { effectiveMass, surfaceAcceleration } from './effective-mass.ts';
import { engineSpeedPerSurfaceSpeed, overallRatio, overallRatioOfMeshes } from './overall-ratio.ts';
import { enginePower } from './torque-loss.ts';

const PARTS = {
  overallRatio: 4.1,
  engineInertia: inertia(0.18),
  wheelInertia: inertia(3),
  tyreRadius: length(0.32),
  rollMass: equivalentMass(inertia(25), length(0.3)),
};

describe('everything that turns', () => {
  it('check 3-23 (rigid-body reduction, computed with numpy 2.4.6): effective mass and acceleration', () => {
    expect(Math.abs(effectiveMass(PARTS) / 336.6235 - 1)).toBeLessThan(1e-6);
    expect(Math.abs(surfaceAcceleration(torque(350), PARTS) / 13.32163 - 1)).toBeLessThan(1e-6);
  });

  it('has the same kinetic energy as its parts (identity)', () => {
    const v = 30;
    const wheel = v / 0.32;
    const parts = (25 * (v / 0.3) ** 2 + 3 * wheel ** 2 + 0.18 * (4.1 * wheel) ** 2) / 2;
    expect((effectiveMass(PARTS) * v * v) / 2).toBeCloseTo(parts, 6);
    expect(effectiveMass({ ...PARTS, rollMass: mass(0) })).toBeCloseTo(effectiveMass(PARTS) - PARTS.rollMass, 9);
  });

  it('balances power: engine power is what the surface takes, without losses (identity)', () => {
    const a = surfaceAcceleration(torque(350), PARTS);
    const wheel = 30 / 0.32;
    const alpha = (a / 0.32) * 4.1;
    const tyrePower = PARTS.rollMass * a * 30;
    const found = enginePower({
      tyrePower: power(tyrePower),
      rollingLoss: power(0),
      wheelInertiaPower: power(3 * wheel * (a / 0.32)),
      torqueLoss: ratio(0),
      engine: { inertia: inertia(0.18), speed: angularSpeed(wheel * 4.1), acceleration: angularAcceleration(alpha) },
    });
    expect(found.enginePower / (350 * wheel * 4.1)).toBeCloseTo(1, 12);
  });
});

describe('losses on the way from the tyre to the crankshaft', () => {
  const at = (torqueLoss: number) =>
    enginePower({
      tyrePower: power(200e3),
      rollingLoss: power(8e3),
      wheelInertiaPower: power(2e3),
      torqueLoss: ratio(torqueLoss),
      engine: { inertia: inertia(0.2), speed: angularSpeed(600), acceleration: angularAcceleration(40) },
    });

  it('adds the mesh loss before the engine inertia, and each line is visible', () => {
    const found = at(0.05);
    expect(found.torqueLossPower).toBeCloseTo(210e3 / 0.95 - 210e3, 6);
    expect(found.engineInertiaPower).toBeCloseTo(4800, 9);
    expect(found.enginePower).toBeCloseTo(210e3 / 0.95 + 4800, 6);
    expect(at(0).torqueLossPower).toBe(0);
  });
});

describe('the overall ratio', () => {
  it('comes from speeds or from the meshes', () => {
    const input = { engineSpeed: angularSpeed(512.5), surfaceSpeed: speed(40), tyreRadius: length(0.32) };
    expect(overallRatio(input)).toBeCloseTo(4.1, 12);
    expect(overallRatioOfMeshes([1.025, 4])).toBeCloseTo(4.1, 12);
    expect(engineSpeedPerSurfaceSpeed(angularSpeed(512.5), speed(40))).toBeCloseTo(4.1 / 0.32, 12);
  });

  it('is unknown at standstill', () => {
    expect(overallRatio({ engineSpeed: angularSpeed(100), surfaceSpeed: speed(0), tyreRadius: length(0.3) })).toBeNaN();
    expect(engineSpeedPerSurfaceSpeed(angularSpeed(100), speed(0))).toBeNaN();
  });
});
