import { describe, expect, test } from 'vitest';
import { at } from '../interpolate.ts';
import { fillingOf, GAS } from './air.ts';
import { drawNature, type Nature, rehearse } from './nature.ts';
import { fullLoad, type VirtualRun } from './run.ts';
import type { Signal } from './signals.ts';
import { compression } from './turbo.ts';

type Row = ReturnType<typeof fullLoad>[number];
const days = [3, 11, 14, 29].map((seed): { nature: Nature; run: VirtualRun; rows: readonly Row[] } => {
  const nature = drawNature(seed, { engine: { boosted: true, ignition: 'spark' } });
  const run = rehearse(nature, []);
  return { nature, run, rows: fullLoad(run, 1) };
});
const each = (check: (row: Row, nature: Nature) => void): void => {
  for (const { nature, rows } of days) for (const row of rows) check(row, nature);
};

describe('an engine of a virtual day', () => {
  test('breathes by the gas law: mass per cycle over displaced mass is its filling, a little off for back pressure and cams', () => {
    each(({ at: of }, { engine }) => {
      const displaced = (of('map') * engine.displacement * of('engineSpeed')) / (4 * Math.PI * GAS * of('charge'));
      expect(of('airFlow') / displaced / fillingOf(engine, of('engineSpeed'))).toBeGreaterThan(0.9);
      expect(of('airFlow') / displaced / fillingOf(engine, of('engineSpeed'))).toBeLessThan(1.03);
    });
  });

  test('has the lambda of its air and fuel', () => {
    each(({ at: of }, { engine }) => {
      expect(of('airFlow') / of('fuelFlow') / engine.stoichiometric / of('lambda')).toBeCloseTo(1, 6);
    });
  });

  test('makes power from heat: brake efficiency between a fifth and two fifths of what the air can burn', () => {
    each(({ at: of }) => {
      const share = (of('engineTorque') * of('engineSpeed')) / (of('airFlow') * 2.95e6);
      expect(share).toBeGreaterThan(0.2);
      expect(share).toBeLessThan(0.42);
    });
  });

  test('reaches its target and holds it within 3 %', () => {
    for (const { rows, nature } of days) {
      const late = rows.filter(({ share }) => share > 0.85);
      expect(late.length).toBeGreaterThan(20);
      for (const { at: of } of late) expect(Math.abs(of('map') / nature.engine.target - 1)).toBeLessThan(0.03);
    }
  });

  test('compresses hotter than an ideal compressor would', () => {
    each(({ at: of }, { place }) => {
      const ideal = place.temperature * (of('boost') / of('inlet')) ** (0.4 / 1.4);
      if (of('boost') > 1.2 * of('inlet')) expect(of('outlet')).toBeGreaterThan(ideal - 3);
    });
  });

  test('charges its coil by the first-order law', () => {
    each(({ at: of }, { engine }) => {
      const { resistance, inductance, dwell } = engine.coil;
      const current = ((of('volts') - 0.5) / resistance) * (1 - Math.exp((-dwell * resistance) / inductance));
      expect(of('coilCurrent')).toBeCloseTo(current, 9);
    });
  });

  test('turns the roll through the stated gear: slip is creep by force', () => {
    for (const { run, nature } of days) {
      for (const { row } of fullLoad(run, 1.5)) {
        expect(at(run.run.slip, row)).toBeCloseTo(nature.stated.creep * at(run.run.tyreForce, row), 2);
      }
    }
  });

  test('makes more torque with more pressure, air with air: torque per air spreads by less than a tenth above mid speed', () => {
    for (const { rows } of days) {
      const per = rows
        .filter(({ share }) => share > 0.7 && share < 0.9)
        .map(({ at: of }) => (of('engineTorque') * of('engineSpeed')) / of('airFlow'));
      const mean = per.reduce((sum, value) => sum + value / per.length, 0);
      for (const value of per) expect(Math.abs(value / mean - 1)).toBeLessThan(0.12);
    }
  });
});

describe('the compressor', () => {
  const wheel = { tip: 0.03, best: 0.11 };
  const at = (speed: number, flow: number): ReturnType<typeof compression> =>
    compression(wheel, { speed, flow, temperature: 300, pressure: 1e5 });

  test('presses more the faster it turns, less the more flows, and is best in the middle', () => {
    expect(at(13e3, 0.12).ratio).toBeGreaterThan(at(11e3, 0.12).ratio);
    expect(at(12e3, 0.2).ratio).toBeLessThan(at(12e3, 0.1).ratio);
    expect(at(12e3, 0.13).efficiency).toBeGreaterThan(at(12e3, 0.22).efficiency);
  });

  test('takes the power that heats the air', () => {
    const { power, outlet } = at(12e3, 0.12);
    expect(power).toBeCloseTo(0.12 * 1005 * (outlet - 300), 0);
  });
});

test('a clean engine neither knocks nor misfires', () => {
  for (const { rows } of days) {
    const sum = (name: Signal): number => rows.reduce((total, { at: of }) => total + of(name), 0);
    expect(sum('missed')).toBe(0);
    expect(rows.at(-1)?.at('knockCount')).toBeLessThan(4);
  }
});
