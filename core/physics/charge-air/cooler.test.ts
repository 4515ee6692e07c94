import { describe, expect, it } from 'vitest';
import {
  absolutePressure,
  duration,
  mass,
  massFlow,
  measured,
  power,
  pressureDifference,
  ratio,
  temperature,
} from '../../quantities/index.ts';
import { chargeSideEffectiveness, cooledCharge, coolerEffectiveness, measuredEffectiveness } from './charge-cooler.ts';
import { coreConductance } from './core-conductance.ts';
import { approximateCrossFlow, effectiveness, type FlowArrangement, transferUnits } from './effectiveness.ts';
import { dryAirDensity } from './pressure-loss.ts';
import { ICE_MELTING_HEAT, tankAfter, WATER_HEAT_CAPACITY, withIce } from './water-tank.ts';

const eps = (arrangement: FlowArrangement, units: number, capacityRatio: number): number =>
  effectiveness({ arrangement, units, capacityRatio: ratio(capacityRatio) });

describe('effectiveness', () => {
  it.each([
    ['4-55', 1, 0.5, 0.56473, 0.51791, 0.54749, 0.54476],
    ['4-56', 1, 1, 0.5, 0.43233, 0.47622, 0.46854],
    ['4-57', 2, 0.5, 0.7746, 0.63348, 0.73241, 0.73876],
    ['4-58', 3, 1, 0.75, 0.49876, 0.68129, 0.68421],
  ])(
    'check %s (ε–NTU relations, computed with scipy 1.17.1): NTU %f, C %f',
    (...[_, N, C, counter, parallel, cross, near]) => {
      expect(Math.abs(eps('counter-flow', N, C) - counter)).toBeLessThan(1e-5);
      expect(Math.abs(eps('parallel-flow', N, C) - parallel)).toBeLessThan(1e-5);
      expect(Math.abs(eps('cross-flow', N, C) - cross)).toBeLessThan(1e-5);
      expect(Math.abs(approximateCrossFlow(N, ratio(C)) - near)).toBeLessThan(1e-5);
    },
  );

  it('check 4-53, 4-54 (worked example of an equation-solver manual, seen): closed form, exact form, inverse', () => {
    expect(Math.abs(approximateCrossFlow(75 / 30, ratio(0.6)) - 0.7632)).toBeLessThan(2e-4);
    expect(Math.abs(eps('cross-flow', 75 / 30, 0.6) - 0.7557)).toBeLessThan(2e-4);
    // the manual inverts its closed form; the exact form needs a little more
    const found = transferUnits('cross-flow', { effectiveness: ratio(0.61), capacityRatio: ratio(0.6) });
    expect(Math.abs(found - 1.341)).toBeLessThan(0.02);
    expect(eps('cross-flow', found, 0.6)).toBeCloseTo(0.61, 10);
    expect(Math.abs(approximateCrossFlow(1.341, ratio(0.6)) - 0.61)).toBeLessThan(2e-4);
    expect(Math.abs(approximateCrossFlow(40.23 / 30, ratio(0.6)) - 0.61)).toBeLessThan(2e-4);
  });

  it('lies at its borders for no core, an endless core, an endless coolant', () => {
    for (const kind of ['counter-flow', 'parallel-flow', 'cross-flow'] as const) {
      expect(eps(kind, 0, 0.5)).toBe(0);
      expect(eps(kind, 2, 0)).toBeCloseTo(1 - Math.exp(-2), 12);
      expect(eps(kind, -1, 0.5)).toBeNaN();
      expect(eps(kind, 1, 1.2)).toBeNaN();
      expect(eps(kind, 2, 1e-6)).toBeCloseTo(1 - Math.exp(-2), 5);
    }
    expect(eps('counter-flow', 1e3, 0.8)).toBeCloseTo(1, 9);
    expect(eps('parallel-flow', 1e3, 0.8)).toBeCloseTo(1 / 1.8, 9);
    expect(transferUnits('parallel-flow', { effectiveness: ratio(0.7), capacityRatio: ratio(0.8) })).toBeNaN();
  });

  it('is best in counter-flow and worst in parallel flow, cross-flow between', () => {
    for (const N of [0.3, 1, 3, 8]) {
      for (const C of [0.2, 0.7, 1]) {
        expect(eps('cross-flow', N, C)).toBeLessThan(eps('counter-flow', N, C));
        expect(eps('cross-flow', N, C)).toBeGreaterThan(eps('parallel-flow', N, C));
      }
    }
  });
});

describe('charge cooler', () => {
  it('check 4-59 (definition): temperature and density', () => {
    const found = cooledCharge({
      inletTemperature: temperature(410),
      inletPressure: absolutePressure(250e3),
      coolantTemperature: temperature(300),
      effectiveness: ratio(0.7),
      loss: pressureDifference(8e3),
    });
    expect(found.temperature).toBeCloseTo(333, 9);
    expect(found.density).toBeCloseTo(2.5317, 4);
    expect(dryAirDensity(absolutePressure(250e3), temperature(410))).toBeCloseTo(2.1242, 4);
  });

  it('reads its effectiveness from temperatures, with uncertainty, and not from a cold charge', () => {
    const reading = {
      inletTemperature: temperature(410),
      outletTemperature: temperature(333),
      coolantTemperature: temperature(300),
    };
    expect(coolerEffectiveness(reading)).toBeCloseTo(0.7, 12);
    expect(coolerEffectiveness({ ...reading, inletTemperature: temperature(300) })).toBeNaN();
    const found = measuredEffectiveness({
      inletTemperature: measured(410, 2),
      outletTemperature: measured(333, 1),
      coolantTemperature: measured(300, 1.5),
    });
    // ∂ε/∂T2 = (1−ε)/110, ∂ε/∂T3 = −1/110, ∂ε/∂Tc = ε/110, by hand
    expect(found.effectiveness.standardUncertainty).toBeCloseTo(Math.hypot(0.3 * 2, 1, 0.7 * 1.5) / 110, 6);
  });

  it('with little coolant cannot cool, however large the core', () => {
    const core = {
      arrangement: 'counter-flow',
      conductance: 1e6,
      chargeFlow: massFlow(0.25),
      coolantCapacity: 100,
    } as const;
    expect(chargeSideEffectiveness(core)).toBeCloseTo(100 / (0.25 * 1005), 9);
    const plenty = chargeSideEffectiveness({ ...core, conductance: 400, coolantCapacity: 1e9 });
    expect(plenty).toBeCloseTo(1 - Math.exp(-400 / (0.25 * 1005)), 6);
  });
});

describe('water tank', () => {
  const tank = { water: mass(20), temperature: temperature(293.15), ice: mass(0) };

  it('melts ice until the water is at the melting point, and keeps the rest', () => {
    const little = withIce(tank, mass(2));
    expect(little.ice).toBe(0);
    expect(little.water).toBe(22);
    // 20 kg · 4186 · 20 K − 2 kg · 333.6 kJ/kg over 22 kg, by hand
    expect(little.temperature - 273.15).toBeCloseTo((20 * 4186 * 20 - 2 * 333.6e3) / (22 * 4186), 9);
    const much = withIce(tank, mass(10));
    expect(much.temperature).toBeCloseTo(273.15, 9);
    expect(much.water + much.ice).toBeCloseTo(30, 12);
  });

  it('stays at the melting point while ice lasts, then warms', () => {
    const iced = { ...tank, temperature: temperature(273.15), ice: mass(1) };
    const lasts = ICE_MELTING_HEAT / 10e3;
    const load = (time: number) => ({ heat: power(10e3), ambient: temperature(300), time: duration(time) });
    expect(tankAfter(iced, load(lasts * 0.5))).toMatchObject({ temperature: 273.15 });
    expect(tankAfter(iced, load(lasts * 0.5)).ice).toBeCloseTo(0.5, 9);
    const after = tankAfter(iced, load(lasts + 21));
    expect(after.ice).toBe(0);
    expect(after.temperature - 273.15).toBeCloseTo((21 * 10e3) / (21 * WATER_HEAT_CAPACITY), 9);
  });

  it('settles where its own cooling carries the load', () => {
    const cooled = { ...tank, conductance: 200 };
    const found = tankAfter(cooled, { heat: power(4e3), ambient: temperature(300), time: duration(1e6) });
    expect(found.temperature).toBeCloseTo(320, 6);
  });

  it('gives the same in one step and in two (identity)', () => {
    const iced = { ...tank, temperature: temperature(273.15), ice: mass(0.5), conductance: 50 };
    const load = (time: number) => ({ heat: power(8e3), ambient: temperature(305), time: duration(time) });
    const once = tankAfter(iced, load(60));
    const twice = tankAfter(tankAfter(iced, load(17)), load(43));
    expect(twice.temperature).toBeCloseTo(once.temperature, 9);
    expect(twice.water).toBeCloseTo(once.water, 9);
  });
});

describe('conductance of a core', () => {
  const known = { conductance: 400, chargeFlow: massFlow(0.26), coolantFlow: massFlow(1) };

  it('grows with both flows, and with one of them only as far as the other side lets it', () => {
    expect(coreConductance(known, massFlow(0.26), massFlow(1))).toBeCloseTo(400, 9);
    expect(coreConductance(known, massFlow(0.52), massFlow(2))).toBeCloseTo(400 * 2 ** 0.8, 9);
    expect(coreConductance(known, massFlow(1e6), massFlow(1))).toBeLessThan(800);
    expect(coreConductance({ ...known, chargeSide: ratio(1) }, massFlow(0.26), massFlow(9))).toBeCloseTo(400, 9);
  });

  it('lets effectiveness fall as charge flow grows', () => {
    const at = (flow: number) =>
      chargeSideEffectiveness({
        arrangement: 'cross-flow',
        conductance: coreConductance(known, massFlow(flow), massFlow(1)),
        chargeFlow: massFlow(flow),
        coolantCapacity: 1005,
      });
    expect(at(0.2)).toBeGreaterThan(at(0.26));
    expect(at(0.26)).toBeGreaterThan(at(0.32));
  });
});
