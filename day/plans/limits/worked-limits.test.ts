import { describe, expect, it } from 'vitest';
import { mapPoint } from '../../../core/physics/index.ts';
import { type Measured, massFlow, measured, REVOLUTION, ratio } from '../../../core/quantities/index.ts';
import type { PredictedLine, Step } from '../model/engine-model.ts';
import { everyLine } from '../model/line-kinds.ts';
import { inventedMap } from '../model/testing/invented-map.ts';
import type { Foresight } from './foresight.ts';
import { beyondFastestLine } from './kinds/map-edge.ts';
import { usualMass } from './kinds/rods.ts';
import type { Limit, LimitName } from './limit.ts';
import { limitOf } from './limits-of.ts';
import { RPM } from './testing/build-sheet.ts';
import { inventedForesight, withoutValues } from './testing/invented-engine.ts';

// Worked with Python 3.13 from the formulas beside each case; engine as stated by our invented build sheet: 83 × 76.4 mm, rod 140 mm, ratio 9.6, six cylinders.

/** Lines of a prediction that is the same at every speed; the others are nought. */
const LINES: Partial<Record<PredictedLine, number>> = {
  'air flow': 0.26,
  'fuel flow': 0.03,
  'charge temperature': 339.15,
  'exhaust temperature': 1153,
  'peak pressure': 120e5,
  'spark voltage': Number.NaN,
  timing: (15 / 360) * REVOLUTION,
};
const STEP: Step = { manifoldPressure: 200e3, ambientPressure: 85.3e3, ambientTemperature: 300.15, lambda: 0.8 };

interface Asked {
  readonly rpm?: number;
  readonly step?: Partial<Step>;
  readonly stated?: Readonly<Record<string, Measured>>;
  readonly unstated?: readonly string[];
  readonly lines?: Partial<Record<PredictedLine, number>>;
  readonly boosted?: boolean;
}

function at(
  name: LimitName,
  { rpm = 6500, step = {}, stated = {}, unstated = [], lines = {}, boosted = true }: Asked = {},
): Limit {
  const { model } = inventedForesight(stated);
  const foresight: Foresight = {
    model: { ...withoutValues(model, unstated), parameters: [], boosted },
    predict: (_, speeds) => {
      const curve = (line: PredictedLine) => ({
        kind: 'ratio' as const,
        value: new Float64Array(speeds.length).fill({ ...LINES, ...lines }[line] ?? 0),
        standardUncertainty: new Float64Array(speeds.length),
      });
      return { speed: speeds, lines: everyLine(curve), missing: [], assumed: [] };
    },
  };
  return limitOf(foresight, name, { step: { ...STEP, ...step }, speeds: Float64Array.of(rpm * RPM) });
}

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe('usual borders where nobody stated one (as docs/physics/limits.md lists them)', () => {
  it.each<[LimitName, readonly string[], number, number]>([
    ['coil heat', ['largestCoilDuty'], 0.65, 0.03],
    ['injector duty', ['largestDuty'], 0.85, 0.02],
    ['knock', ['knockIntegralLimit'], 1, 0.05],
    ['peak pressure', ['headLiftPressure', 'clampForce'], 120e5, 15e5],
    ['exhaust temperature', ['exhaustTemperatureLimit'], 950 + 273.15, 25],
    ['piston speed', ['pistonSpeedLimit'], 22, 1.5],
    ['bearing film', ['bearingLoadLimit'], 75e6, 15e6],
  ])('%s', (...[name, unstated, value, spread]) => {
    const { available, availableUncertainty, assumed } = at(name, { unstated });
    expect(available[0]).toBeCloseTo(value, 6);
    expect(availableUncertainty[0]).toBeCloseTo(spread, 6);
    expect(assumed).not.toEqual([]);
  });

  it('without a compressor 95 ± 12 bar; with compression ignition 165 ± 20 bar and 800 ± 30 °C', () => {
    const unstated = ['headLiftPressure', 'clampForce'];
    const plain = at('peak pressure', { unstated, boosted: false });
    expect([plain.available[0], plain.availableUncertainty[0]]).toEqual([95e5, 12e5]);
    const stated = { halfBurned: measured(0.26, 0.07) };
    const lit = at('peak pressure', { unstated, stated });
    expect([lit.available[0], lit.availableUncertainty[0]]).toEqual([165e5, 20e5]);
    const hot = at('exhaust temperature', { stated });
    expect([hot.available[0], hot.availableUncertainty[0]]).toEqual([1073.15, 30]);
  });

  it('check 5-19 (Heywood 8 … 15 m/s for cars, racing about 25, from memory): the usual piston speed lies between', () => {
    const { available } = at('piston speed', { unstated: ['pistonSpeedLimit'] });
    expect(available[0]).toBeGreaterThan(15);
    expect(available[0]).toBeLessThan(25);
  });

  it('compressor speed: a wheel of 78 mm at 520 m/s, the middle of 480 … 560, less 3 %: 12 933.3 rad/s', () => {
    const { available, availableUncertainty } = at('compressor speed', { unstated: ['turboSpeedLimit'] });
    expect(relative(available[0], 12933.33)).toBeLessThan(1e-6);
    // (560 − 480)/√12 of 520 m/s, and 0.1 % of the wheel
    expect(relative(availableUncertainty[0] / available[0], Math.hypot(80 / Math.sqrt(12) / 520, 0.001))).toBeLessThan(
      1e-6,
    );
  });

  it('traction: grip 0.6 on an axle load of 5482 N and straps of 5000 N holds 6289.2 N', () => {
    expect(at('traction', { unstated: ['grip'] }).available[0]).toBeCloseTo(6289.2, 6);
  });
});

describe('spark', () => {
  it('demand from the trapped air: 0.833 g in 57.0 cm³ at 15° before top dead centre take 22.73 kV at a worn plug of 0.55 mm', () => {
    // m = 0.26·4π/(ω·6·(1 − 0.04)); p/T = m·287.05/V = 4196.6 Pa/K; (4.3 + 136·0.041966 + 324·0.041966·0.55) kV·1.3
    expect(relative(at('spark voltage').required[0], 22731.5)).toBeLessThan(2e-5);
  });

  it('supply from the coil: 12.52 A after 3 ms at 13.5 V are 195.9 mJ, of which 0.65 into 70 pF make 60.3 kV', () => {
    // i = 13.5/0.45·(1 − e^(−0.45·3/2.5)); V = √(2·0.65·E/70 pF)
    expect(relative(at('spark voltage', { unstated: ['sparkVoltage'] }).available[0], 60311.1)).toBeLessThan(1e-6);
  });

  it('a gap that nobody stated is 0.7 mm, a dwell 3 ms, a supply 13.5 V', () => {
    const usual = at('spark voltage', { unstated: ['plugGap', 'sparkVoltage', 'dwell', 'coilVoltage'] });
    expect(usual.available[0]).toBeCloseTo(at('spark voltage', { unstated: ['sparkVoltage'] }).available[0], 6);
    expect(usual.required[0]).toBeCloseTo(at('spark voltage', { step: { plugGap: 0.7e-3 } }).required[0], 6);
    // 3 ms of 120/6500 s
    expect(at('coil heat', { unstated: ['dwell'] }).required[0]).toBeCloseTo((3e-3 * 6500) / 120, 12);
  });
});

describe('rods and bearings', () => {
  const stated = { rodCompression: measured(90e3, 0), rodTension: measured(25e3, 0) };

  it('120 bar at 15° after top dead centre press a rod with 60.95 kN at 3500 rpm and 50.18 kN at 7000 (0.58 kg, 100 kPa outside)', () => {
    const pressed = (rpm: number) =>
      at('rod compression', { rpm, stated, step: { ambientPressure: 100e3 } }).required[0];
    expect(relative(pressed(3500), 60954.6)).toBeLessThan(1e-6);
    expect(relative(pressed(7000), 50176.2)).toBeLessThan(1e-6);
    expect(relative(at('rod tension', { rpm: 3500, stated }).required[0], 3788.474)).toBeLessThan(1e-6);
  });

  const shank = {
    shankDepth: measured(24e-3, 0),
    shankWidth: measured(17e-3, 0),
    shankFlange: measured(4.5e-3, 0),
    shankWeb: measured(4e-3, 0),
    shankYield: measured(900e6, 0),
  };

  it('where no limit is stated half of the shank as a column is taken: 86.0 kN for an I of 24 by 17 mm, 140 mm long', () => {
    // A 213 mm², I 15928 and 3765 mm⁴; across the plane L/k = 33.3 < 73.5, Johnson: 213·(900 − (900·33.3/2π)²/(1.2·205000)) = 172.0 kN
    const unstated = ['rodCompression'];
    expect(relative(at('rod compression', { stated: shank, unstated }).available[0], 85999.93)).toBeLessThan(1e-6);
    const impossible = { ...shank, shankFlange: measured(13e-3, 0) };
    expect(at('rod compression', { stated: impossible, unstated }).why).toContain('section of the shank');
    expect(at('rod compression', { stated: { ...shank, ...stated } }).available[0]).toBe(90e3);
  });

  it('and what two bolts of 40 kN hold before rod and cap part: 2·40/(0.8·1.3) = 76.9 kN', () => {
    const bolts = { rodBoltPreload: measured(40e3, 0) };
    const found = at('rod tension', { stated: bolts, unstated: ['rodTension'] });
    expect(relative(found.available[0], 76923.077)).toBeLessThan(1e-6);
    expect(at('rod tension', { unstated: ['rodTension'] }).why).toContain('preload of a bolt');
  });

  it('that is 54.6 MPa on a big end of 0.60 by 0.27 of the bore', () => {
    expect(
      relative(at('bearing film', { rpm: 3500, step: { ambientPressure: 100e3 } }).required[0], 54.61794e6),
    ).toBeLessThan(1e-6);
  });

  it('piston and pin that nobody weighed are 1.4 kg a litre: 578.7 g of 413.4 cm³', () => {
    expect(usualMass(0.083, 0.0764).value).toBeCloseTo(0.578719, 6);
  });

  it('a gasket keeps 0.3 in reserve: 120 kN round 93 mm are tight up to 136.74 bar above 85.3 kPa outside', () => {
    const clamp = { clampForce: measured(120e3, 0), sealDiameter: measured(0.093, 0) };
    // 120 kN/(1.3·π/4·0.093²) = 13.58881 MPa
    const { available } = at('head clamp', { stated: clamp, unstated: ['headLiftPressure'] });
    expect(relative(available[0], 120e3 / (1.3 * (Math.PI / 4) * 0.093 ** 2) + 85.3e3)).toBeLessThan(1e-6);
  });
});

describe('compressor and turbine', () => {
  it('200 kPa with 0.26 kg/s take 0.3108 kg/s corrected at a pressure ratio of 2.4914', () => {
    // p1 = 85.3 kPa − 1.2 kPa·ρ(95 kPa, 298 K)/ρ(85.3 kPa, 300.15 K) = 83.9539 kPa; p2 = 200 kPa + 9 kPa·ρ(333 K)/ρ(339.15 K) = 209.166 kPa
    expect(relative(at('compressor choke').required[0], 0.310809)).toBeLessThan(3e-4);
  });

  it('that takes 23.371 kW over the efficiency that the map has there', () => {
    // 0.26·1005·300.15·(2.491441^(2/7) − 1) = 23 371.2 W
    const point = mapPoint(inventedMap(), massFlow(0.310809), ratio(2.491441));
    if (point.kind === 'outside') throw new Error(point.border);
    expect(relative(at('wastegate authority').required[0] * point.efficiency, 23371.2)).toBeLessThan(3e-4);
  });

  it('beyond the fastest line similarity carries on: 5 % more speed is 5 % more flow and 10.25 % more head', () => {
    // from 0.281 kg/s and 4.49 at 132 krpm: head 4.49^(2/7) − 1 = 0.535876, times 1.1025 is a pressure ratio of 5.077588
    const found = beyondFastestLine(inventedMap(), { flow: 0.281 * 1.05, pressureRatio: 5.077588 });
    expect(Math.abs((found?.beyond ?? 0) - 0.05)).toBeLessThan(2e-5);
    expect(relative(found?.speed ?? 0, 138_600 * RPM)).toBeLessThan(2e-5);
    expect(beyondFastestLine(inventedMap(), { flow: 0.281, pressureRatio: 4 })).toBeUndefined();
  });

  it('usual losses are 2 kPa before the compressor, 10 between and 15 behind the turbine, and exhaust is 8 % more than air', () => {
    const usual = {
      unstated: ['inletLoss', 'coolerLoss', 'exhaustLoss'],
      lines: { 'fuel flow': Number.NaN },
    };
    // p1 = 83.0565 kPa, p2 = 210.185 kPa: 0.314167 kg/s corrected, 23.826 kW over the efficiency
    expect(relative(at('compressor choke', usual).required[0], 0.314167)).toBeLessThan(3e-4);
    const point = mapPoint(inventedMap(), massFlow(0.314167), ratio(2.530623));
    if (point.kind === 'outside') throw new Error(point.border);
    expect(relative(at('wastegate authority', usual).required[0] * point.efficiency, 23826.1)).toBeLessThan(3e-4);
    // 100.3 kPa behind the turbine, 0.2808 kg/s
    expect(relative(at('wastegate authority', usual).available[0], 63131.4)).toBeLessThan(1e-5);
  });

  it('a turbine of 6.6 cm² and 0.64 gives 69.87 kW of 0.29 kg/s at 1153 K with the gate shut, 374.7 kPa before it', () => {
    // 92.8 kPa behind it; ṁ = A·p3/√(R·T)·Ψ; 0.97·0.64·ṁ·1150·T·(1 − (p4/p3)^(0.33/1.33))
    expect(relative(at('wastegate authority').available[0], 69869.8)).toBeLessThan(1e-5);
  });
});
