import { describe, expect, it } from 'vitest';
import { quadrature } from '../../../numerics/index.ts';
import { STANDARD_ATMOSPHERE } from '../../../quantities/index.ts';
import { laminarFlameSpeed } from '../burn/flame-speed.ts';
import { wiebePlace, wiebeRate, wiebeShare } from '../burn/wiebe.ts';
import { frictionPressure } from '../engine/friction.ts';
import { freshTemperature } from '../exchange/filling.ts';
import { fifthRoot } from './fifth-root.ts';
import { idealEfficiency } from './ideal-cycles.ts';
import { ignitionDelay, knockIntegral } from './ignition-delay.ts';
import { WOSCHNI, woschniCoefficient, woschniSpeed } from './woschni.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe('Wiebe burning', () => {
  const wiebe = { start: -20, duration: 60 };

  it('checks 5-01, 5-02, 5-03 (numpy 2.4.6; here in degrees): shares, places, rate', () => {
    expect(Math.abs(wiebeShare(wiebe, 40) - 0.993262)).toBeLessThan(1e-6);
    expect(Math.abs(-20 + 60 * wiebePlace(0.1) + 3.4275)).toBeLessThan(1e-4);
    expect(Math.abs(-20 + 60 * wiebePlace(0.5) - 11.053)).toBeLessThan(1e-4);
    expect(Math.abs(-20 + 60 * wiebePlace(0.9) - 26.334)).toBeLessThan(1e-4);
    expect(Math.abs(wiebeShare(wiebe, 5) - 0.303502)).toBeLessThan(1e-6);
    expect(Math.abs(wiebeRate(wiebe, 5) - 0.03023)).toBeLessThan(1e-6);
  });

  it('nothing burns before the start', () => {
    expect(wiebeShare(wiebe, -20)).toBe(0);
    expect(wiebeRate(wiebe, -25)).toBe(0);
  });
});

describe('Woschni', () => {
  it('checks 5-04, 5-05, 5-06 (C₁ seen, the rest from memory; numpy 2.4.6)', () => {
    expect([WOSCHNI.motion, WOSCHNI.burning, WOSCHNI.scale]).toEqual([2.28, 3.24e-3, 3.26]);
    const compression = { bore: 0.086, pressure: 1.5e6, temperature: 650, gasSpeed: 2.28 * 12 };
    expect(relative(woschniCoefficient(compression), 740.94)).toBeLessThan(1e-4);
    const gasSpeed = woschniSpeed({
      meanPistonSpeed: 12,
      displacement: 500e-6,
      reference: { temperature: 380, pressure: 150e3, volume: 550e-6 },
      pressure: 4e6,
      motoredPressure: 1.5e6,
    });
    expect(relative(gasSpeed, 46.0145)).toBeLessThan(1e-4);
    expect(
      relative(woschniCoefficient({ bore: 0.086, pressure: 4e6, temperature: 2200, gasSpeed }), 1258.78),
    ).toBeLessThan(1e-4);
  });
});

describe('fifth root', () => {
  it('twin: within 1e-6 of the library over its range, and the library itself beyond', () => {
    for (let z = 0.05; z < 60; z *= 1.01) expect(relative(fifthRoot(z), z ** 0.2)).toBeLessThan(1e-6);
    expect(fifthRoot(0.3)).toBe(0.3 ** 0.2);
    expect(fifthRoot(30)).toBe(30 ** 0.2);
  });
});

describe('ignition delay', () => {
  const atm = (value: number): number => value * STANDARD_ATMOSPHERE;

  it('checks 5-08, 5-09, 5-10 (constants from memory; numpy 2.4.6)', () => {
    expect(relative(ignitionDelay(95, { pressure: atm(40), temperature: 800 }), 3.2441e-3)).toBeLessThan(1e-5);
    expect(relative(ignitionDelay(98, { pressure: atm(60), temperature: 850 }), 1.36876e-3)).toBeLessThan(1e-5);
  });

  it('check 5-11 (Livengood and Wu): at constant state it lights after one delay', () => {
    const rate = 1 / ignitionDelay(95, { pressure: atm(40), temperature: 800 });
    expect(relative(knockIntegral([0, 3.2441e-3], [rate, rate]), 1)).toBeLessThan(1e-5);
  });

  it('check 5-12 (numerical quadrature, scipy 1.17.1): rising pressure', () => {
    const rate = (t: number): number => {
      const p = 20 + 15e3 * t;
      return 1 / ignitionDelay(98, { pressure: atm(p), temperature: 700 * (p / 20) ** (0.32 / 1.32) });
    };
    expect(relative(quadrature(rate, { from: 0, to: 3e-3 }), 1.414127)).toBeLessThan(1e-5);
    const times = Array.from({ length: 3001 }, (_, i) => i * 1e-6);
    expect(relative(knockIntegral(times, times.map(rate)), 1.414127)).toBeLessThan(1e-5);
  });
});

describe('friction and charge', () => {
  it('check 5-07 (form SAE 650733, constants from memory and doubtful; numpy 2.4.6)', () => {
    const law = { constant: 0.137e5, peak: 0.005, linear: 0.162e5, square: 0 };
    expect(Math.abs(frictionPressure(law, { peakPressure: 90e5, meanPistonSpeed: 15 }) / 1e5 - 3.017)).toBeLessThan(
      1e-4,
    );
  });

  it.each([
    ['petrol', 349e3, 11.7, 29.681],
    ['ethanol', 921e3, 7.2, 127.28],
    ['methanol', 1177e3, 5.2, 225.22],
  ])(
    'check 10-11 (latent heats seen in the AFDC table): all fuel evaporated from the charge, %s',
    (...[, latentHeat, afr, wanted]) => {
      const input = { temperature: 380, latentHeat, fuelRatio: 1 / afr };
      const cooled =
        freshTemperature({ ...input, evaporationShare: 0 }) - freshTemperature({ ...input, evaporationShare: 1 });
      expect(relative(cooled, wanted)).toBeLessThan(1e-4);
    },
  );
});

describe('ideal cycles', () => {
  const otto = (r: number): number =>
    idealEfficiency({ compressionRatio: r, heatCapacityRatio: 1.4, pressureRatio: 2, cutOffRatio: 1 });

  it('checks 4-40, 4-41 (textbook, numpy 2.4.6)', () => {
    expect(Math.abs(otto(8) - 0.564725)).toBeLessThan(1e-6);
    expect(Math.abs(otto(10) - 0.601893)).toBeLessThan(1e-6);
    expect(Math.abs(otto(12) - 0.629893)).toBeLessThan(1e-6);
    const dual = { compressionRatio: 10, heatCapacityRatio: 1.4, pressureRatio: 1.6, cutOffRatio: 1.3 };
    expect(Math.abs(idealEfficiency(dual) - 0.589952)).toBeLessThan(1e-6);
  });
});

describe('flame', () => {
  it('is fastest on the rich side, faster hot, slower with residual gas, and never stands still', () => {
    const at = (equivalenceRatio: number, temperature = 298, residualShare = 0): number =>
      laminarFlameSpeed([{ name: 'petrol', share: 1 }], {
        temperature,
        pressure: 101325,
        equivalenceRatio,
        residualShare,
      });
    expect(at(1.21)).toBeCloseTo(0.305, 2);
    expect(at(1.21)).toBeGreaterThan(at(1));
    expect(at(1)).toBeGreaterThan(at(0.8));
    expect(at(1, 600)).toBeGreaterThan(2 * at(1));
    expect(at(1, 298, 0.1)).toBeLessThan(0.75 * at(1));
    expect(at(0.5, 298, 0.6)).toBeGreaterThan(0);
  });
});
