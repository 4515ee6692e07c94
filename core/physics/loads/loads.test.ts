import { describe, expect, it } from 'vitest';
import {
  absolutePressure,
  angle,
  angularSpeed,
  area,
  density,
  force,
  fromSi,
  length,
  mass,
  measured,
  ratio,
  temperature,
  torque,
  toSi,
  unitOf,
} from '../../quantities/index.ts';
import { pistonTravel } from '../cycle/mechanism/slider-crank.ts';
import { bigEndCycle } from './bearing-cycle.ts';
import { filmOrbit, specificLoad } from './bearing-film.ts';
import { jointState, partingForce, preloadOfStretch, preloadOfTorque, threadStressArea } from './bolted-joint.ts';
import { cycleLoads } from './cycle-loads.ts';
import { headMargin, usualPeakPressure } from './head-clamp.ts';
import { measuredRodLoads } from './measured-rod.ts';
import { dynamicViscosity, kinematicViscosity } from './oil-viscosity.ts';
import { columnLimit } from './rod-column.ts';
import { crankForces, reciprocatingForce, rodForceAtTop, speedOfTension } from './rod-forces.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const rpm = (value: number) => angularSpeed(toSi(value, unitOf('rpm')));
const degrees = (value: number) => angle((value * Math.PI) / 180);
const CRANK = { bore: length(0.086), stroke: length(0.09), rodLength: length(0.15) };

describe('forces in the crank mechanism', () => {
  const train = {
    crank: CRANK,
    reciprocating: mass(0.52),
    rotating: mass(0.45),
    crankcasePressure: absolutePressure(100e3),
  };

  it('check 7-01 (two-term form, computed with numpy 2.4.6): inertia at both dead centres', () => {
    expect(relative(reciprocatingForce(train, degrees(0), rpm(7500)), 18764.59)).toBeLessThan(1e-6);
    expect(relative(reciprocatingForce(train, degrees(180), rpm(7500)), -10104.01)).toBeLessThan(1e-6);
  });

  it('checks 7-02, 7-03 (force balance, computed with numpy 2.4.6): rod at overlap and at firing', () => {
    const overlap = rodForceAtTop(train, absolutePressure(105e3), rpm(7500));
    expect(relative(overlap, -18735.54)).toBeLessThan(1e-6);
    const casePressure = { ...train, crankcasePressure: absolutePressure(0.1e6) };
    expect(relative(rodForceAtTop(casePressure, absolutePressure(11e6), rpm(7500)), 44551.39)).toBeLessThan(1e-6);
    const whole = crankForces(train, absolutePressure(105e3), { angle: degrees(360), rotation: rpm(7500) });
    expect(whole.rod).toBeCloseTo(overlap, 6);
  });

  it('of an invented engine (83 × 76.4 mm, rod 140 mm, 0.58 kg): worked figures of tension and gas force', () => {
    const own = {
      ...train,
      crank: { bore: length(0.083), stroke: length(0.0764), rodLength: length(0.14) },
      reciprocating: mass(0.58),
    };
    const tension = (speed: number) => -rodForceAtTop(own, absolutePressure(100e3), rpm(speed));
    expect(Math.abs(tension(7000) - 15.2e3)).toBeLessThan(60);
    expect(Math.abs(tension(7400) - 16.9e3)).toBeLessThan(60);
    expect(Math.abs(rodForceAtTop(own, absolutePressure(110.9e5), rpm(7000)) - 44e3)).toBeLessThan(600);
    expect(Math.abs(rodForceAtTop(own, absolutePressure(121e5), rpm(3500)) - 61e3)).toBeLessThan(600);
    expect(relative(speedOfTension(own.crank, own.reciprocating, force(tension(7000))), rpm(7000))).toBeLessThan(1e-9);
  });

  it('do the work of the gas over a turn, whatever the masses (energy identity)', () => {
    const n = 7200;
    let turned = 0;
    let pushed = 0;
    const pressure = (theta: number) =>
      absolutePressure(2e6 + 1.5e6 * Math.cos(theta - 0.4) + 4e5 * Math.sin(2 * theta));
    for (let i = 0; i < n; i++) {
      const theta = ((i + 0.5) / n) * 2 * Math.PI;
      const found = crankForces(train, pressure(theta), { angle: angle(theta), rotation: rpm(5000) });
      turned += found.torque * ((2 * Math.PI) / n);
      const travel = (at: number) => pistonTravel(CRANK, angle((at / n) * 2 * Math.PI));
      pushed += (pressure(theta) - 100e3) * (Math.PI / 4) * 0.086 ** 2 * (travel(i + 1) - travel(i));
    }
    expect(relative(turned, pushed)).toBeLessThan(1e-6);
  });

  it('balance the piston: the rod carries the piston force and the wall the rest', () => {
    for (const at of [10, 60, 120, 200, 300]) {
      const found = crankForces(train, absolutePressure(3e6), { angle: degrees(at), rotation: rpm(6000) });
      expect(Math.hypot(found.piston, found.side)).toBeCloseTo(Math.abs(found.rod), 6);
    }
  });

  describe('over a cycle', () => {
    const n = 720;
    const angles = Float64Array.from({ length: n }, (_, i) => (i / n) * 4 * Math.PI);
    const pressures = angles.map((theta) => 1.2e5 + 110e5 * Math.exp(-(((theta - 0.25) / 0.3) ** 2)));

    it('compression peaks after firing, tension at overlap', () => {
      const found = cycleLoads(train, { angles, pressures }, rpm(7000));
      expect(found.compression.angle).toBeGreaterThan(0.1);
      expect(found.compression.angle).toBeLessThan(0.6);
      expect(found.tension.angle).toBeCloseTo(2 * Math.PI, 6);
      expect(found.tension.force).toBeCloseTo(-rodForceAtTop(train, absolutePressure(pressures[n / 2]), rpm(7000)), 6);
      expect(found.largestSide.force).toBeGreaterThan(0);
      expect(found.missing).toBe(0);
    });

    it('leaves out missing pressure and counts it', () => {
      const holed = pressures.map((p, i) => (i >= 0 && i < 40 ? Number.NaN : p));
      const found = cycleLoads(train, { angles, pressures: holed }, rpm(7000));
      expect(found.missing).toBe(40);
      expect(found.rod[10]).toBeNaN();
      expect(found.compression.force).toBeGreaterThan(0);
      const none = cycleLoads(train, { angles, pressures: pressures.map(() => Number.NaN) }, rpm(7000));
      expect(none.tension.force).toBeNaN();
      expect(() => bigEndCycle(found, ratio(0.3), rpm(7000))).toThrow('missing load');
    });

    it('the big-end film is dragged by half the sum of crank and rod turning: 0.65 and 0.35 of the crank at the dead centres', () => {
      const rotation = rpm(7000);
      const loads = cycleLoads(train, { angles, pressures }, rotation);
      const found = bigEndCycle(loads, ratio(0.3), rotation);
      expect(found.period).toBeCloseTo((2 * 60) / 7000, 12);
      if (typeof found.entrainment === 'number') throw new Error('one speed for all');
      // (ω + ω·0.3·cos θ/cos β)/2 at θ = 0 and π, by hand
      expect(found.entrainment[0] / rotation).toBeCloseTo(0.65, 12);
      expect(found.entrainment[180] / rotation).toBeCloseTo(0.35, 12);
      // along the rod at top dead centre the film carries what the throw bears radially
      expect(found.x[0]).toBeCloseTo(loads.bearingRadial[0], 6);
    });

    it('big-end film thins under firing, where the pin is pressed towards the piston', () => {
      const bearing = { diameter: length(0.052), width: length(0.02), radialClearance: length(25e-6), viscosity: 8e-3 };
      const film = (speed: number, peak: number) => {
        const shaped = angles.map((theta) => 1.2e5 + peak * Math.exp(-(((theta - 0.25) / 0.3) ** 2)));
        const loads = cycleLoads(train, { angles, pressures: shaped }, rpm(speed));
        return filmOrbit(bearing, bigEndCycle(loads, ratio(0.3), rpm(speed)));
      };
      const slow = film(2500, 120e5);
      expect(slow.settled).toBe(true);
      expect(slow.thinnest.at).toBeGreaterThan(0);
      expect(slow.thinnest.at).toBeLessThan(0.2);
      // towards the piston is ± π from the rod axis, some way on in the sense of rotation
      expect(Math.abs(slow.thinnest.direction)).toBeGreaterThan(Math.PI / 2);
      expect(film(2500, 60e5).thinnest.film).toBeGreaterThan(slow.thinnest.film);
      expect(film(5000, 120e5).thinnest.film).toBeGreaterThan(slow.thinnest.film);
    });
  });
});

describe('rod as a column', () => {
  const steel = { modulus: 207e9, yieldStrength: 850e6 };

  it('is Euler’s when long and Johnson’s when short, and both meet with equal slope between', () => {
    const second = 3e-9;
    const shank = { ...steel, area: area(180e-6), inPlane: second, acrossPlane: 1, length: length(0.3) };
    const long = columnLimit(shank);
    expect(long.kind).toBe('long');
    expect(long.load).toBeCloseTo((Math.PI ** 2 * 207e9 * second) / 0.3 ** 2, 6);
    const border = Math.sqrt((2 * Math.PI ** 2 * 207e9) / 850e6) * Math.sqrt(second / 180e-6);
    const [short, just] = [-1e-6, 1e-6].map((shift) => columnLimit({ ...shank, length: length(border + shift) }));
    expect(short.kind).toBe('short');
    expect(just.kind).toBe('long');
    // half of the yield load at the border (closed form)
    expect(short.load).toBeCloseTo((180e-6 * 850e6) / 2, -2);
    expect(relative(just.load, short.load)).toBeLessThan(1e-4);
    expect(columnLimit({ ...shank, length: length(1e-6) }).load).toBeCloseTo(180e-6 * 850e6, 0);
  });

  it('fails in the weaker plane', () => {
    const shank = { ...steel, area: area(180e-6), inPlane: 6e-9, acrossPlane: 1.5e-9, length: length(0.14) };
    expect(columnLimit(shank).plane).toBe('across plane');
    expect(columnLimit({ ...shank, acrossPlane: 6e-9 }).plane).toBe('in plane');
    // across the plane the pins hold the eyes: π²·1.2·207 GPa·10⁻⁹ m⁴/0.3² m² = 27.240 kN, by hand
    const thin = columnLimit({ ...shank, acrossPlane: 1e-9, length: length(0.3) });
    expect(thin.plane).toBe('across plane');
    expect(relative(thin.load, 27240.1)).toBeLessThan(1e-5);
  });
});

describe('bolts and head', () => {
  const joint = { preload: force(40e3), stiffnessShare: ratio(0.2), stressArea: area(60e-6) };

  it('feel a fifth of the load until the parts open, then all of it', () => {
    expect(jointState(joint, force(10e3)).bolt).toBe(42e3);
    expect(jointState(joint, force(10e3)).clamp).toBe(32e3);
    expect(partingForce(joint)).toBe(50e3);
    const [before, after] = [49.999e3, 50.001e3].map((outer) => jointState(joint, force(outer)));
    expect(before.parted).toBe(false);
    expect(after.parted).toBe(true);
    expect(after.bolt).toBeCloseTo(before.bolt, -1);
    expect(jointState(joint, force(60e3))).toMatchObject({ bolt: 60e3, clamp: 0, stress: 60e3 / 60e-6 });
  });

  it('stress area of M10 × 1.5 is 58.0 mm² and of M8 × 1.25 is 36.6 mm² (ISO 898-1 table, from memory)', () => {
    expect(Math.abs(threadStressArea(length(10e-3), length(1.5e-3)) * 1e6 - 58)).toBeLessThan(0.05);
    expect(Math.abs(threadStressArea(length(8e-3), length(1.25e-3)) * 1e6 - 36.6)).toBeLessThan(0.05);
  });

  it('get their preload from torque or from stretch', () => {
    expect(preloadOfTorque(torque(80), ratio(0.2), length(10e-3))).toBeCloseTo(40e3, 9);
    expect(preloadOfStretch({ modulus: 207e9, area: area(58e-6), length: length(0.06) }, length(0.15e-3))).toBeCloseTo(
      30015,
      6,
    );
  });

  it.each([
    [110, 75],
    [125, 85],
    [140, 95],
  ])('gas force of %i bar on a ring of 93 mm is %i kN (worked figures)', (bar, kN) => {
    const found = headMargin({ clamp: measured(120e3, 0), sealedDiameter: length(0.093) }, measured(bar * 1e5, 0));
    expect(Math.abs(found.gasForce / 1e3 - kN)).toBeLessThan(0.5);
  });

  it('margin is nothing at the tight pressure, and carries both uncertainties', () => {
    const clamp = { clamp: measured(120e3, 12e3), sealedDiameter: length(0.093) };
    const tight = headMargin(clamp, measured(100e5, 0)).tightUpTo;
    const found = headMargin(clamp, measured(tight, 0.05 * tight));
    expect(found.margin.value).toBeCloseTo(0, 9);
    expect(found.margin.standardUncertainty).toBeCloseTo(Math.hypot(0.1, 0.05), 6);
    expect(found.liftsAt / found.tightUpTo).toBeCloseTo(1.3, 9);
    expect(usualPeakPressure(absolutePressure(200e3)).value).toBe(115e5);
    // 50 … 65 times as limits of an even distribution: 7.5·200 kPa/√3 (JCGM 100:2008, 4.3.7)
    expect(usualPeakPressure(absolutePressure(200e3)).standardUncertainty).toBeCloseTo(866025.4, 0);
  });
});

describe('oil film', () => {
  it('oil thins between its two known points and beyond as ASTM D341 says: 100 and 14.4 mm²/s give 30.4 at 72 °C (worked by hand)', () => {
    const oil = [
      { temperature: temperature(313.15), kinematic: 100e-6 },
      { temperature: temperature(373.15), kinematic: 14.4e-6 },
    ] as const;
    expect(kinematicViscosity(oil, temperature(313.15))).toBeCloseTo(100e-6, 12);
    expect(kinematicViscosity(oil, temperature(373.15))).toBeCloseTo(14.4e-6, 12);
    // log log: 0.301687 at log T 2.495752, 0.071505 at 2.571883; at 345.15 K, 2.538008: 0.173926 → 10^1.492539 − 0.7
    expect(Math.abs(kinematicViscosity(oil, temperature(345.15)) * 1e6 - 30.38)).toBeLessThan(0.02);
    expect(kinematicViscosity(oil, temperature(423.15))).toBeLessThan(7e-6);
    expect(dynamicViscosity(10e-6, density(850))).toBeCloseTo(8.5e-3, 12);
  });

  it.each([0.3, 0.5, 0.7, 0.85, 0.95])(
    'under a steady load settles where Ocvirk’s short bearing does: eccentricity %f',
    (e) => {
      const bearing = { diameter: length(0.05), width: length(0.02), radialClearance: length(25e-6), viscosity: 0.01 };
      const omega = 600;
      const speed = omega * 0.025;
      // Ocvirk, NACA TN 2808 (1952): W = μ·U·L³/(4c²)·ε/(1 − ε²)²·√(π²(1 − ε²) + 16ε²)
      const load =
        ((0.01 * speed * 0.02 ** 3) / (4 * 25e-6 ** 2)) *
        (e / (1 - e * e) ** 2) *
        Math.sqrt(Math.PI ** 2 * (1 - e * e) + 16 * e * e);
      const n = 64;
      const x = new Float64Array(n).fill(load);
      const y = new Float64Array(n);
      const found = filmOrbit(bearing, { x, y, period: 0.05, entrainment: angularSpeed(omega / 2) });
      expect(found.settled).toBe(true);
      expect(relative(1 - found.largestEccentricity, 1 - e)).toBeLessThan(0.02);
      const attitude = Math.atan2(found.eccentricityY[n - 1], found.eccentricityX[n - 1]);
      expect(Math.abs(attitude - Math.atan((Math.PI * Math.sqrt(1 - e * e)) / (4 * e)))).toBeLessThan(0.015);
    },
  );

  it('squeezed without rotation closes as the exact short bearing does', () => {
    // exact: dε/dt = F·c²/(μ·L³·R·I(ε)), I = ∫ cos²θ/(1 + ε cos θ)³ over the thin half; time from 0 to ε by quadrature
    const bearing = { diameter: length(0.05), width: length(0.02), radialClearance: length(25e-6), viscosity: 0.01 };
    const integral = (e: number): number => {
      let sum = 0;
      for (let k = 0; k < 2000; k++) {
        const theta = Math.PI / 2 + (Math.PI * (k + 0.5)) / 2000;
        sum += (Math.cos(theta) ** 2 / (1 + e * Math.cos(theta)) ** 3) * (Math.PI / 2000);
      }
      return sum;
    };
    const F = 5000;
    let time = 0;
    for (let k = 0; k < 900; k++)
      time += ((0.01 * 0.02 ** 3 * 0.025 * integral((k + 0.5) / 1000)) / (F * 25e-6 ** 2)) * 1e-3;
    const n = 400;
    const found = filmOrbit(
      bearing,
      {
        x: new Float64Array(n).fill(F),
        y: new Float64Array(n),
        period: (time * n) / (n - 1),
        entrainment: angularSpeed(0),
      },
      1,
    );
    expect(Math.abs(found.eccentricityX[n - 1] - 0.9)).toBeLessThan(0.01);
  });

  it('needs loads without holes', () => {
    const bearing = { diameter: length(0.05), width: length(0.02), radialClearance: length(25e-6), viscosity: 0.01 };
    const x = new Float64Array(10).fill(Number.NaN);
    expect(() => filmOrbit(bearing, { x, y: new Float64Array(10), period: 1, entrainment: angularSpeed(1) })).toThrow(
      'missing',
    );
    expect(() =>
      filmOrbit(bearing, { x: x.slice(0, 4), y: x.slice(0, 4), period: 1, entrainment: angularSpeed(1) }),
    ).toThrow('8');
    expect(specificLoad(bearing, force(20e3))).toBe(20e6);
    expect(fromSi(rpm(7000), unitOf('rpm'))).toBeCloseTo(7000, 9);
  });
});

describe('measured rod loads', () => {
  it('tension carries mass once and speed twice, compression the pressure too', () => {
    const state = {
      crank: CRANK,
      reciprocating: measured(0.52, 0.0052),
      rotation: measured(rpm(7500), 0.005 * rpm(7500)),
      peakPressure: measured(11e6, 5.5e5),
      overlapPressure: absolutePressure(100e3),
      crankcasePressure: absolutePressure(100e3),
    };
    const found = measuredRodLoads(state);
    expect(relative(found.tension.value, 18764.59)).toBeLessThan(1e-6);
    expect(found.tension.standardUncertainty / found.tension.value).toBeCloseTo(Math.hypot(0.01, 0.01), 5);
    const byPressure = 5.5e5 * (Math.PI / 4) * 0.086 ** 2;
    expect(found.contributions.compression[2].contribution).toBeCloseTo(byPressure, 3);
  });
});
