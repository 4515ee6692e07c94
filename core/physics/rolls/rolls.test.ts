import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  acceleration,
  angularAcceleration,
  angularSpeed,
  fromSi,
  inertia,
  length,
  mass,
  STANDARD_GRAVITY,
  speed,
  torque,
  toSi,
  unitOf,
} from '../../quantities/index.ts';
import { coastDownTime } from './coast-down.ts';
import { roadForce, roadLoadForce } from './road-load.ts';
import {
  equivalentMass,
  inertiaPower,
  inertiaTorque,
  rotationEnergy,
  shaftPower,
  shaftTorque,
  surfacePower,
  tangentialForce,
} from './roll-power.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const ROW_OF_MASS = new Map([
  [100, '3-15'],
  [150, '3-16'],
  [170, '3-17'],
  [250, '3-18'],
  [340, '3-19'],
]);
const rows = readFileSync(join(import.meta.dirname, 'reference/road-load-40cfr86-529.csv'), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(',').slice(1).map(Number))
  .map(([M, A, C, at65, target, longest, shortest]) => {
    return { row: ROW_OF_MASS.get(M) ?? 'of the table', M, A, C, at65, target, longest, shortest };
  });

describe('units that the trade uses', () => {
  it.each([
    ['3-01', 'hp', 745.699871582],
    ['3-02', 'PS', 735.49875],
    ['3-03', 'lbf·ft', 1.35581794833],
    ['3-04', 'psi', 6894.75729317],
    ['3-05', 'inHg', 3386.38864034],
    ['3-06', 'mmHg', 133.322387415],
    ['3-07', 'Torr', 133.322368421],
    ['3-08', 'lbf', 4.44822161526],
    ['3-09', 'lb', 0.45359237],
    ['3-10', 'mph', 0.44704],
  ])('check %s (exact definitions of NIST SP 811, from memory): 1 %s', (_row, symbol, wanted) => {
    expect(relative(toSi(1, unitOf(symbol)), wanted)).toBeLessThan(1e-10);
  });
});

describe('power of shafts and rolls', () => {
  it('check 3-11 (definition): horsepower from lbf·ft and rpm', () => {
    const found = shaftPower(torque(toSi(1, unitOf('lbf·ft'))), angularSpeed(toSi(1, unitOf('rpm'))));
    expect(relative(1 / fromSi(found, unitOf('hp')), 5252.113122)).toBeLessThan(1e-8);
  });

  it('check 3-12 (definition): 400 N·m at 6000 rpm', () => {
    const rotation = angularSpeed(toSi(6000, unitOf('rpm')));
    const found = shaftPower(torque(400), rotation);
    expect(relative(found, 251327.4)).toBeLessThan(1e-6);
    expect(Math.abs(fromSi(found, unitOf('hp')) - 337.036)).toBeLessThan(5e-4);
    expect(shaftTorque(found, rotation)).toBeCloseTo(400, 12);
  });

  it('check 3-13 (P = I·ω·α integrated): inertia roller', () => {
    const gained =
      rotationEnergy(inertia(25), angularSpeed(40 / 0.3)) - rotationEnergy(inertia(25), angularSpeed(20 / 0.3));
    expect(relative(gained, 166666.7)).toBeLessThan(1e-6);
    expect(relative(gained / 5, 33333.3)).toBeLessThan(2e-6);
    expect(relative(equivalentMass(inertia(25), length(0.3)), 277.778)).toBeLessThan(1e-6);
  });

  it('check 3-14 (P = I·ω·α): torque, power, force', () => {
    const found = inertiaTorque(inertia(25), angularAcceleration(30));
    expect(found).toBe(750);
    expect(
      inertiaPower({ inertia: inertia(25), speed: angularSpeed(100), acceleration: angularAcceleration(30) }),
    ).toBe(75e3);
    expect(relative(tangentialForce(found, length(0.3)), 2500)).toBeLessThan(1e-9);
  });

  it('is the same at the shaft and at the surface (identity)', () => {
    const atShaft = shaftPower(torque(750), angularSpeed(100));
    const atSurface = surfacePower(tangentialForce(torque(750), length(0.3)), speed(30));
    expect(atSurface).toBeCloseTo(atShaft, 6);
  });
});

describe('road load', () => {
  it.each(rows)(
    'check $row (40 CFR 86.529-98 Figure F98-9, seen in source): $M kg',
    ({ M, A, C, at65, target, longest, shortest }) => {
      const load = { constant: A, linear: 0, square: toSi(C, unitOf('N/(km/h)²')) };
      const kmh = (v: number) => speed(toSi(v, unitOf('km/h')));
      expect(Math.abs(roadLoadForce(load, kmh(65)) - at65)).toBeLessThanOrEqual(0.3);
      const t = coastDownTime({ mass: mass(M), load, from: kmh(70), to: kmh(60) });
      expect(relative(t, target)).toBeLessThan(0.03);
      expect(t).toBeGreaterThan(shortest);
      expect(t).toBeLessThan(longest);
    },
  );

  it('check 3-20 (40 CFR 1066.210(d), layout from memory): force and power', () => {
    const state = {
      load: { constant: 130, linear: 2, square: 0.42 },
      speed: speed(25),
      acceleration: acceleration(0.5),
      mass: mass(1560),
      effectiveMass: mass(1600),
      grade: 0,
    };
    expect(relative(roadForce(state), 1242.5)).toBeLessThan(1e-6);
    expect(relative(surfacePower(roadForce(state), speed(25)), 31062.5)).toBeLessThan(1e-6);
    const uphill = roadForce({ ...state, grade: 0.1 }) - roadForce(state);
    expect(uphill).toBeCloseTo(
      1560 * STANDARD_GRAVITY * Math.sin(Math.atan(0.1)) - 130 * (1 - Math.cos(Math.atan(0.1))),
      9,
    );
  });

  it('check 3-21 (M·∫dv/(A + Bv + Cv²), computed with scipy 1.17.1): coast-down time', () => {
    const load = { constant: 120, linear: 1.5, square: 0.4 };
    const t = coastDownTime({ mass: mass(1500), load, from: speed(30), to: speed(20) });
    expect(Math.abs(t - 37.36487)).toBeLessThan(1e-4);
  });

  it('check 3-22 (40 CFR 1066.805(c), seen in source): 20 °C and 98.21 kPa are near 1.17 kg/m³', () => {
    expect(98210 / (287.05 * 293.15)).toBeCloseTo(1.17, 2);
  });

  it('a coast-down with constant force is linear, and never ends where the force does not brake', () => {
    const drag = { constant: 100, linear: 0, square: 0 };
    expect(coastDownTime({ mass: mass(1000), load: drag, from: speed(30), to: speed(20) })).toBeCloseTo(100, 9);
    expect(coastDownTime({ mass: mass(1000), load: drag, from: speed(20), to: speed(20) })).toBe(0);
    expect(coastDownTime({ mass: mass(1000), load: drag, from: speed(20), to: speed(30) })).toBeNaN();
    const pushed = { constant: 100, linear: -20, square: 0.5 };
    expect(coastDownTime({ mass: mass(1000), load: pushed, from: speed(30), to: speed(10) })).toBeNaN();
  });

  it('takes the time of its parts (identity)', () => {
    const load = { constant: 120, linear: 1.5, square: 0.4 };
    const t = (from: number, to: number) => coastDownTime({ mass: mass(900), load, from: speed(from), to: speed(to) });
    expect(t(40, 25) + t(25, 5)).toBeCloseTo(t(40, 5), 7);
  });
});
