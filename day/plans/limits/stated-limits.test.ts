import { describe, expect, it } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { Step } from '../model/engine-model.ts';
import { knownValues } from '../model/known-values.ts';
import type { Limit, LimitName } from './limit.ts';
import { limitOf } from './limits-of.ts';
import { nextLimitsOf } from './next-limits.ts';
import { BUILD_SHEET, RPM } from './testing/build-sheet.ts';
import { inventedForesight, withoutValues } from './testing/invented-engine.ts';

const SPEEDS = Float64Array.of(3500 * RPM, 6500 * RPM);
const STEP: Step = { manifoldPressure: 200e3 };

function at(name: LimitName, stated: Parameters<typeof inventedForesight>[0] = {}, step: Step = STEP): Limit {
  return limitOf(inventedForesight(stated), name, { step, speeds: SPEEDS });
}

describe('a limit that a person states', () => {
  it.each([
    ['turboSpeedLimit', { engine: { turboSpeedLimit: measured(14357, 0) } }],
    ['maxPower', { roller: { maxPower: measured(400e3, 0) } }],
    ['maxForce', { roller: { maxForce: measured(9000, 0) } }],
    ['headLiftPressure', { parts: { headLiftPressure: measured(123e5, 0) } }],
    ['peakPressureLimit', { parts: { peakPressureLimit: measured(120e5, 0) } }],
    ['exhaustTemperatureLimit', { parts: { exhaustTemperatureLimit: measured(1223, 0) } }],
    ['chargeTemperatureLimit', { parts: { chargeTemperatureLimit: measured(343, 0) } }],
  ])('%s has no spread of ours', (name, facts) => {
    const value = knownValues({ ...BUILD_SHEET, ...facts }).get(name);
    expect(value?.standardUncertainty).toBe(0);
    expect(value?.origin).toBe('stated');
  });

  it('keeps the ± that was stated with it', () => {
    const facts = { ...BUILD_SHEET, roller: { maxPower: measured(400e3, 5e3) } };
    expect(knownValues(facts).get('maxPower')?.standardUncertainty).toBe(5e3);
  });

  it('is passed for certain or not at all where nothing else is uncertain', () => {
    const { over } = at('engine speed');
    expect([...over]).toEqual([0, 0]);
  });
});

describe('limits that only their owner knows', () => {
  it('valves and belts are judged where a speed is stated, and unknown where none is', () => {
    expect(at('valve float', { valveFloatSpeed: measured(6000 * RPM, 0) }).over).toEqual(Float64Array.of(0, 1));
    expect(at('belt speed', { beltSpeedLimit: measured(7000 * RPM, 0) }).over).toEqual(Float64Array.of(0, 0));
    expect(at('valve float').why).toMatch(/valveFloatSpeed/);
  });

  it('shells, pistons and coils are held against what is stated', () => {
    expect(at('bearing film', { bearingLoadLimit: measured(90e6, 0) }).available[0]).toBe(90e6);
    expect(at('piston speed', { pistonSpeedLimit: measured(25, 0) }).available[0]).toBe(25);
    expect(at('coil heat', { largestCoilDuty: measured(0.5, 0) }).available[0]).toBe(0.5);
    const twice = at('coil heat', { sparksPerCycle: measured(2, 0) }).required[1];
    expect(twice / at('coil heat').required[1]).toBeCloseTo(2, 9);
  });

  it('ballast adds its weight to the tyres, a hot tread takes grip away', () => {
    const grip = { gripKnee: measured(328, 0), gripPerKelvin: measured(0.0015, 0) };
    const [bare] = at('traction', grip).available;
    const [loaded] = at('traction', grip, { ...STEP, ballast: 100 }).available;
    const [hot] = at('traction', grip, { ...STEP, treadTemperature: 348 }).available;
    expect(loaded).toBeGreaterThan(bare + 0.4 * 980);
    expect(hot).toBeLessThan(bare);
  });
});

describe('fuel pumps', () => {
  const flow = measured(0.048, 0.001);
  const stated = {
    fuelPumpFlow: flow,
    fuelPumpPressure: measured(500e3, 0),
    fuelPumpVoltage: measured(13.5, 0),
    fuelPumpFreeFlow: measured(0.068, 0.001),
    coilVoltage: measured(13.5, 0),
    injectorPressure: measured(350e3, 0),
  };
  const bare: Step = { manifoldPressure: 200e3, ambientPressure: 100e3 };

  it('bring what was stated when nothing is said of pressure and voltage', () => {
    expect(at('fuel supply', { fuelPumpFlow: flow }).available[0]).toBeCloseTo(0.048, 9);
  });

  it('bring more against the 450 kPa of the rail than against 500, along the straight line to no pressure', () => {
    // 0.048 + (0.068 − 0.048)·0.1
    expect(at('fuel supply', stated, bare).available[0]).toBeCloseTo(0.05, 9);
  });

  it('bring less at less voltage, by the share of the free flow', () => {
    const low = at('fuel supply', stated, { ...bare, coilVoltage: 12.15 });
    // less a tenth of 0.068
    expect(low.available[0]).toBeCloseTo(0.05 - 0.0068, 9);
  });

  it('take a usual free flow where nobody stated one, and say so', () => {
    const { fuelPumpFreeFlow: _free, ...rest } = stated;
    const found = at('fuel supply', rest, bare);
    expect(found.available[0]).toBeCloseTo(0.048 + 0.4 * 0.048 * 0.1, 9);
    expect(found.assumed).toContain('fuelPumpFreeFlow');
  });

  it('are unknown when nobody stated a flow', () => {
    const found = at('fuel supply');
    expect(found.why).toMatch(/fuelPumpFlow/);
    expect(found.missing).toEqual(['fuelPumpFlow']);
  });
});

describe('usual values where nobody stated a limit', () => {
  it('big ends have shares of the bore, and the answer says so', () => {
    const found = at('bearing film');
    expect(found.assumed).toEqual(expect.arrayContaining(['bigEndDiameter', 'bigEndWidth', 'bearingLoadLimit']));
    // the largest rod force over 0.60 by 0.27 of 83 mm
    expect(found.required[0]).toBeGreaterThan(40e6);
    expect(found.required[0]).toBeLessThan(65e6);
    expect(found.requiredUncertainty[0] / found.required[0]).toBeGreaterThan(0.1);
    const stated = at('bearing film', { bigEndDiameter: measured(0.05, 0), bigEndWidth: measured(0.022, 0) });
    expect(stated.assumed).not.toContain('bigEndDiameter');
  });

  it('peak pressure has a usual limit only where the clamp is unknown too', () => {
    expect(at('peak pressure').why).toMatch(/peakPressureLimit/);
    const foresight = inventedForesight();
    const blind = { ...foresight, model: withoutValues(foresight.model, ['headLiftPressure', 'clampForce']) };
    const found = limitOf(blind, 'peak pressure', { step: STEP, speeds: SPEEDS });
    expect(found.available[0]).toBe(120e5);
    expect(found.assumed).toContain('peakPressureLimit');
  });
});

describe('which limit comes next', () => {
  it('the gate is no limit while some engine speed holds the pressure, and is one where none does', () => {
    const names = nextLimitsOf(inventedForesight(), STEP).map(({ name }) => name);
    expect(names).not.toContain('wastegate authority');
    const weak = nextLimitsOf(inventedForesight({ turbineEfficiency: measured(0.32, 0.01) }), STEP);
    const gate = weak.find(({ name }) => name === 'wastegate authority');
    expect(gate?.everywhere).toBeUndefined();
    expect(Math.abs((gate?.manifoldPressure ?? 0) - 212e3)).toBeLessThan(5e3);
  });

  it('below the speeds at which pulls had the pressure the gate is not judged', () => {
    const foresight = inventedForesight();
    const model = { ...foresight.model, held: [{ pressure: 200e3, from: 4000 * RPM }] };
    const found = limitOf({ ...foresight, model }, 'wastegate authority', { step: STEP, speeds: SPEEDS });
    expect([...found.over].map(Number.isNaN)).toEqual([true, false]);
  });

  it('nor is surge, but choke is', () => {
    const foresight = inventedForesight();
    const model = { ...foresight.model, held: [{ pressure: 200e3, from: 4000 * RPM }] };
    const judged = (name: LimitName) =>
      [...limitOf({ ...foresight, model }, name, { step: STEP, speeds: SPEEDS }).over].map(Number.isNaN);
    const before = [...at('compressor surge').over].map(Number.isNaN);
    expect(judged('compressor surge')).toEqual([true, before[1]]);
    expect(judged('compressor choke')).toEqual([...at('compressor choke').over].map(Number.isNaN));
  });

  it('what pulls of the day held is no end of the gate, whatever the balance says', () => {
    const weak = inventedForesight({ turbineEfficiency: measured(0.32, 0.01) });
    const held = { ...weak, model: { ...weak.model, held: [{ pressure: 320e3, from: 300 }] } };
    expect(nextLimitsOf(held, STEP).map(({ name }) => name)).not.toContain('wastegate authority');
  });

  it('an engine speed at which the pulls did not yet have the pressure is no worst case', () => {
    const speeds = Float64Array.from([2500, 3500, 4500, 5500, 6500], (rpm) => rpm * RPM);
    const foresight = inventedForesight();
    const clamp = (from: number): number => {
      const model = { ...foresight.model, held: [{ pressure: 200e3, from: from * RPM }] };
      const next = nextLimitsOf({ ...foresight, model }, STEP, { speeds });
      return (next.find(({ name }) => name === 'head clamp')?.speed ?? Number.NaN) / RPM;
    };
    expect(clamp(2000)).toBeLessThan(clamp(4600));
    expect(clamp(4600)).toBeGreaterThanOrEqual(4500);
  });
});

it('mean piston speed reads in metres per second', () => {
  expect(at('piston speed').kind).toBe('piston-speed');
});
