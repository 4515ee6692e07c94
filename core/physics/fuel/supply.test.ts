import { describe, expect, it } from 'vitest';
import {
  angularSpeed,
  density,
  duration,
  gaugePressure,
  massFlow,
  measured,
  pressureDifference,
  ratio,
  specificEnergy,
  toSi,
  unitOf,
  voltage,
} from '../../quantities/index.ts';
import { blendOf } from './blend.ts';
import { deadTime, deadTimeOf } from './dead-time.ts';
import { injectorUse, leastDifference, measuredInjectorDuty, mostFuel, pressureMargin } from './injector-load.ts';
import { pumpFlow, pumpOf } from './pump.ts';
import { railState, supplyMargin } from './rail.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe('blend', () => {
  it('check 4-38 (mass-weighted mixing, computed with numpy 2.4.6): 85 % ethanol by volume', () => {
    const ethanol = {
      volumeShare: ratio(0.85),
      density: density(794),
      heatingValue: specificEnergy(26.95e6),
      stoichiometric: ratio(9),
    };
    const petrol = {
      volumeShare: ratio(0.15),
      density: density(745),
      heatingValue: specificEnergy(43.44e6),
      stoichiometric: ratio(14.6),
    };
    const found = blendOf([ethanol, petrol]);
    expect(relative(found.massShares[0], 0.85794)).toBeLessThan(1e-4);
    expect(relative(found.stoichiometric, 9.7955)).toBeLessThan(1e-4);
    expect(relative(found.heatingValue, 29.2925e6)).toBeLessThan(1e-4);
    expect(blendOf([petrol]).heatingValue).toBeCloseTo(43.44e6, 3);
  });
});

describe('dead time', () => {
  const rows = [
    { voltage: voltage(14), time: duration(0.8e-3) },
    { voltage: voltage(10), time: duration(1.6e-3) },
    { voltage: voltage(12), time: duration(1.1e-3) },
  ];

  it('passes its rows, falls with voltage between, and is not guessed outside', () => {
    const found = deadTimeOf(rows);
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(deadTime(found.value, voltage(12))).toBeCloseTo(1.1e-3, 12);
    expect(deadTime(found.value, voltage(11))).toBeLessThan(1.6e-3);
    expect(deadTime(found.value, voltage(11))).toBeGreaterThan(1.1e-3);
    expect(deadTime(found.value, voltage(9.9))).toBeNaN();
  });

  it('that grows with voltage is refused with its numbers', () => {
    const turned = [...rows, { voltage: voltage(16), time: duration(0.9e-3) }];
    expect(deadTimeOf(turned)).toMatchObject({ refusal: { kind: 'dead-time-invalid', numbers: { voltage: 16 } } });
    expect(deadTimeOf(rows.slice(0, 1))).toMatchObject({ refusal: { kind: 'dead-time-too-few' } });
    expect(deadTimeOf([rows[0], rows[0]])).toMatchObject({ refusal: { kind: 'dead-time-invalid' } });
  });
});

describe('injectors under load', () => {
  const load = {
    rating: { flow: massFlow(6.4e-3), at: pressureDifference(350e3) },
    fuelFlow: massFlow(31e-3),
    injectors: 6,
    difference: pressureDifference(350e3),
    deadTime: duration(0),
    engineSpeed: angularSpeed(toSi(6500, unitOf('rpm'))),
  };

  it('without dead time use their share of static flow', () => {
    expect(injectorUse(load).duty).toBeCloseTo(31e-3 / (6 * 6.4e-3), 12);
  });

  it('our invented engine at 6 500 rpm and 200 kPa: 31 g/s of air over 8.48 make 81 % duty (rounded table of our demonstration)', () => {
    const fuelFlow = massFlow(0.2636 / (0.8 * 10.6));
    expect(Math.abs(injectorUse({ ...load, fuelFlow }).duty - 0.81)).toBeLessThan(0.01);
  });

  it('dead time counts more at high speed, and fills the cycle in the end', () => {
    const dead = duration(1e-3);
    const slow = { ...load, deadTime: dead, engineSpeed: angularSpeed(200) };
    expect(injectorUse(slow).duty - injectorUse({ ...slow, deadTime: duration(0) }).duty).toBeCloseTo(
      1e-3 * (200 / (4 * Math.PI)),
      12,
    );
    expect(leastDifference({ ...load, deadTime: duration(0.1) }, ratio(0.85))).toBe(Number.POSITIVE_INFINITY);
    expect(mostFuel({ ...load, deadTime: duration(0.1) }, ratio(0.85))).toBe(0);
  });

  it('at their least difference are just at the limit, as with the most fuel (identity)', () => {
    const real = { ...load, deadTime: duration(0.9e-3) };
    const difference = leastDifference(real, ratio(0.85));
    expect(injectorUse({ ...real, difference }).duty).toBeCloseTo(0.85, 12);
    expect(injectorUse({ ...real, fuelFlow: mostFuel(real, ratio(0.85)) }).duty).toBeCloseTo(0.85, 12);
  });

  it('pressure margin is nothing at the limit and below nothing beyond it', () => {
    const least = leastDifference(load, ratio(0.85));
    expect(pressureMargin({ ...load, difference: least }, ratio(0.85))).toBeCloseTo(0, 12);
    expect(pressureMargin({ ...load, difference: pressureDifference(least * 0.9) }, ratio(0.85))).toBeCloseTo(-0.1, 12);
  });

  it('carry uncertainty: half the relative part of pressure, the whole of flow', () => {
    const found = measuredInjectorDuty({
      rated: measured(6.4e-3, 0.128e-3),
      ratedAt: pressureDifference(350e3),
      fuelFlow: measured(31e-3, 0),
      injectors: 6,
      difference: measured(350e3, 14e3),
      deadTime: measured(0, 0),
      engineSpeed: load.engineSpeed,
    });
    expect(found.duty.standardUncertainty / found.duty.value).toBeCloseTo(Math.hypot(0.02, 0.02), 4);
  });
});

describe('pump and rail', () => {
  const litresPerHour = (value: number): number => toSi(value, unitOf('L/h'));
  const line = {
    voltage: voltage(13.5),
    pressure: [200e3, 300e3, 400e3, 500e3, 600e3],
    flow: [300, 280, 255, 225, 190].map(litresPerHour),
  };
  const built = pumpOf([line]);
  if (!built.ok) throw new Error(built.refusal.kind);
  const pump = built.value;
  const supply = {
    pump,
    voltage: voltage(13.5),
    loss: { linear: 0, square: 0 },
    density: density(780),
    base: gaugePressure(350e3),
    reference: ratio(1),
  };
  const stateOf = (input: typeof supply, demand: number, manifold: number) => {
    const found = railState(input, massFlow(demand), gaugePressure(manifold));
    if (!found.ok) throw new Error(found.refusal.kind);
    return found.value;
  };

  it('gives its line at its voltage, less at less, nothing beyond the measured pressures', () => {
    expect(pumpFlow(pump, 400e3, voltage(13.5))).toBeCloseTo(litresPerHour(255), 12);
    // 340 L/h free flow · 1.5/13.5 less
    expect(pumpFlow(pump, 400e3, voltage(12))).toBeCloseTo(litresPerHour(255 - (340 * 1.5) / 13.5), 12);
    expect(pumpFlow(pump, 700e3, voltage(13.5))).toBeNaN();
    expect(pumpFlow(pump, 600e3, voltage(2))).toBe(0);
  });

  it('between two measured voltages lies between their lines', () => {
    const both = pumpOf([line, { ...line, voltage: voltage(12), flow: line.flow.map((flow) => flow * 0.85) }]);
    if (!both.ok) throw new Error(both.refusal.kind);
    expect(pumpFlow(both.value, 300e3, voltage(12.75))).toBeCloseTo(litresPerHour(280 * 0.925), 12);
  });

  it('holds the rail while it can: difference is the base with a manifold reference, less without', () => {
    const held = stateOf(supply, 0.03, 100e3);
    expect(held.kind).toBe('held');
    expect(held.difference).toBe(350e3);
    const bare = stateOf({ ...supply, reference: ratio(0) }, 0.03, 100e3);
    expect(bare.difference).toBe(250e3);
    expect(held.margin).toBeCloseTo((pumpFlow(pump, 450e3, voltage(13.5)) * 780) / 0.03 - 1, 9);
  });

  it('lets the rail fall to where the pump brings the demand', () => {
    const demand = 780 * litresPerHour(255);
    const short = stateOf(supply, demand, 100e3);
    expect(short.kind).toBe('short');
    expect(short.rail).toBeCloseTo(400e3, 0);
    expect(short.difference).toBeCloseTo(300e3, 0);
    expect(short.margin).toBeLessThan(0);
  });

  it('loses capacity in a filter', () => {
    const drop = 40e3;
    const square = drop / litresPerHour(250) ** 2;
    const clogged = stateOf({ ...supply, loss: { linear: 0, square } }, 0.03, 0);
    const clean = stateOf(supply, 0.03, 0);
    expect(clogged.capacity).toBeLessThan(clean.capacity);
    const volume = clogged.capacity / 780;
    expect(pumpFlow(pump, 350e3 + square * volume * volume, voltage(13.5))).toBeCloseTo(volume, 12);
  });

  it('refuses pressures and demands off the line, and lines that are none', () => {
    expect(railState(supply, massFlow(0.03), gaugePressure(300e3))).toMatchObject({
      refusal: { kind: 'pump-line-passed', numbers: { value: 650e3, limit: 600e3 } },
    });
    expect(railState(supply, massFlow(0.2), gaugePressure(0))).toMatchObject({ refusal: { kind: 'pump-too-small' } });
    expect(pumpOf([])).toMatchObject({ refusal: { kind: 'pump-without-lines' } });
    expect(pumpOf([{ ...line, flow: [1, 2, 3, 4, 5] }])).toMatchObject({ refusal: { kind: 'pump-line-invalid' } });
    expect(pumpOf([line, line])).toMatchObject({ refusal: { kind: 'pump-line-invalid', numbers: { voltage: 13.5 } } });
  });
});

describe('margin of the supply', () => {
  it('is capacity over demand less one, relative parts in squares', () => {
    const found = supplyMargin(measured(0.05, 0.0025), measured(0.04, 0.0012));
    expect(found.value).toBeCloseTo(0.25, 12);
    expect(found.standardUncertainty).toBeCloseTo(1.25 * Math.hypot(0.05, 0.03), 12);
  });
});
