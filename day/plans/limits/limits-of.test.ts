import { describe, expect, it } from 'vitest';
import { length, type Measured, measured } from '../../../core/quantities/index.ts';
import type { PredictedLine, Prediction } from '../model/engine-model.ts';
import { priorModel } from '../model/prior-model.ts';
import { inventedMap } from '../model/testing/invented-map.ts';
import { limitsAt } from './at.ts';
import type { Foresight } from './foresight.ts';
import type { LimitName } from './limit.ts';
import { LIMIT_NAMES, limitOf, limitsOf } from './limits-of.ts';
import { BUILD_SHEET, RPM } from './testing/build-sheet.ts';
import { inventedForesight, withoutValues, withValues } from './testing/invented-engine.ts';

const SPEEDS = Float64Array.from([3500, 4500, 5500, 6500, 7000], (rpm) => rpm * RPM);
const foresight = inventedForesight();
const at = (name: LimitName, step: object = {}, from: Foresight = foresight) =>
  limitOf(from, name, { step: { manifoldPressure: 200e3, ...step }, speeds: SPEEDS });

/** The same prediction with one line put to a constant. */
function lineAt(line: PredictedLine, value: number, values: Readonly<Record<string, Measured>> = {}): Foresight {
  const { model, predict } = inventedForesight(values);
  return {
    model,
    predict: (step, speeds): Prediction => {
      const found = predict(step, speeds);
      const flat = {
        kind: 'ratio' as const,
        value: new Float64Array(speeds.length).fill(value),
        standardUncertainty: new Float64Array(speeds.length).fill(Math.abs(value) * 0.02),
      };
      return { ...found, lines: { ...found.lines, [line]: flat } };
    },
  };
}

describe('every limit', () => {
  it('is there, in a fixed order, known or with a reason and the fact that would tell', () => {
    const limits = limitsOf(foresight, { manifoldPressure: 200e3 }, SPEEDS);
    expect(limits.map(({ name }) => name)).toEqual([...LIMIT_NAMES]);
    for (const limit of limits) {
      expect(limit.margin).toHaveLength(SPEEDS.length);
      if (limit.why === undefined) expect(limit.over.some((chance) => chance >= 0 && chance <= 1)).toBe(true);
      else expect(limit.over.every(Number.isNaN)).toBe(true);
    }
    const silent = limits.filter(({ why }) => why !== undefined);
    for (const { missing } of silent) expect(missing.length).toBeGreaterThan(0);
  });

  it('margin and probability agree: half where required equals available, 0.16 one standard deviation below', () => {
    const even = at('peak pressure', {}, lineAt('peak pressure', 120e5, { peakPressureLimit: measured(120e5, 1e5) }));
    expect(even.margin[0]).toBeCloseTo(0, 12);
    expect(even.over[0]).toBeCloseTo(0.5, 12);
    const spread = Math.hypot(2.4e5, 1e5);
    const below = at(
      'peak pressure',
      {},
      lineAt('peak pressure', 120e5, { peakPressureLimit: measured(120e5 + spread, 1e5) }),
    );
    expect(below.over[0]).toBeCloseTo(0.158655, 5);
  });

  it('missing predictions leave NaN, and the reason names what is missing', () => {
    const limit = at('traction', {}, lineAt('wheel force', Number.NaN));
    expect(limit.over.every(Number.isNaN)).toBe(true);
    expect(limit.why).toContain('not predicted');
  });

  it('an empty list of speeds gives empty limits', () => {
    for (const limit of limitsOf(foresight, { manifoldPressure: 200e3 }, new Float64Array(0)))
      expect(limit.margin).toHaveLength(0);
  });
});

describe('more manifold pressure costs every margin that feels it', () => {
  const names: readonly LimitName[] = [
    'spark voltage',
    'compressor speed',
    'injector duty',
    'peak pressure',
    'head clamp',
    'rod compression',
    'bearing film',
    'exhaust temperature',
    'traction',
    'roller force',
    'roller power',
    'charge temperature',
  ];
  const all = inventedForesight({
    peakPressureLimit: measured(130e5, 1e5),
    rodCompression: measured(90e3, 2e3),
    rodTension: measured(25e3, 1e3),
    bigEndDiameter: measured(0.05, 0),
    bigEndWidth: measured(0.022, 0),
    maxForce: measured(8e3, 50),
    maxPower: measured(400e3, 1e3),
    chargeTemperatureLimit: measured(350, 1),
  });
  it.each(names)('%s', (name) => {
    const [low, high] = [190e3, 215e3].map((manifoldPressure) => at(name, { manifoldPressure }, all));
    for (let i = 0; i < SPEEDS.length; i++) {
      expect(high.margin[i]).toBeLessThan(low.margin[i]);
      expect(high.over[i]).toBeGreaterThanOrEqual(low.over[i]);
    }
  });
});

describe('spark', () => {
  it('a narrower gap, a longer dwell and more voltage add margin; retard takes it', () => {
    const base = at('spark voltage').margin[2];
    expect(at('spark voltage', { plugGap: 0.5e-3 }).margin[2]).toBeGreaterThan(base);
    expect(at('spark voltage', { dwell: 3.5e-3 }).margin[2]).toBeGreaterThan(base);
    expect(at('spark voltage', { coilVoltage: 12.9 }).margin[2]).toBeLessThan(base);
    expect(at('spark voltage', { timing: -0.1 }).margin[2]).toBeLessThan(base);
  });

  it('available voltage goes with the supply: 25.9 kV at 13.5 V is 25.1 kV at 13.1 V (current is in proportion)', () => {
    expect(at('spark voltage', { coilVoltage: 13.1 }).available[0]).toBeCloseTo((25.9e3 * 13.1) / 13.5, 0);
  });

  it('without a predicted demand it follows from the trapped air, within 8 % of polytropic compression', () => {
    const told = at('spark voltage');
    const own = at('spark voltage', {}, lineAt('spark voltage', Number.NaN));
    for (let i = 0; i < SPEEDS.length; i++) expect(Math.abs(own.required[i] / told.required[i] - 1)).toBeLessThan(0.08);
  });

  it('reference: 60 mJ into 40 pF without loss is 54.772 kV (½·C·V²)', () => {
    // R so small that the current is V·t/L: 60 mJ = ½·V²·t²/L
    const L = 1e-3;
    const volts = Math.sqrt((2 * 60e-3 * L) / 3e-3 ** 2);
    const model = withValues(withoutValues(foresight.model, ['sparkVoltage']), {
      coilResistance: measured(1e-9, 0),
      coilInductance: measured(L, 0),
      coilCapacitance: measured(40e-12, 0),
      coilTransfer: measured(1, 0),
      coilVoltage: measured(volts, 0),
      dwell: measured(3e-3, 0),
    });
    expect(at('spark voltage', {}, { ...foresight, model }).available[0]).toBeCloseTo(54772, -1);
  });

  it('says which fact would tell when nothing is known of the coil', () => {
    const model = withoutValues(foresight.model, ['sparkVoltage', 'coilResistance']);
    const limit = at('spark voltage', {}, { ...foresight, model });
    expect(limit.why).toContain('coil unknown');
    expect(limit.missing).toContain('coilResistance');
  });

  it('coil duty: 3 ms of 17.14 ms at 7 000 rpm (cycle time 120/n)', () => {
    expect(at('coil heat').required[4]).toBeCloseTo(3 / (120_000 / 7000), 10);
  });
});

describe('rods and head against worked values', () => {
  // m 0.520 kg, r 45 mm, l 150 mm, bore 86 mm, 7 500 rpm: force balance at the dead centres, 18 764.59 N of inertia
  const model = withValues(foresight.model, {
    reciprocatingMass: measured(0.52, 0),
    rodTension: measured(30e3, 0),
    ambientPressure: measured(100e3, 0),
  });
  const engine = { ...model.engine, bore: 0.086, stroke: 0.09, rodLength: 0.15 };
  it('reference: tension at overlap with no gas force is the inertia force, 18 764.59 N', () => {
    const limit = limitOf(
      { predict: foresight.predict, model: { ...model, engine: { ...model.engine, ...branded(engine) } } },
      'rod tension',
      { step: { manifoldPressure: 200e3 }, speeds: Float64Array.of(7500 * RPM) },
    );
    expect(limit.required[0]).toBeCloseTo(18764.59, 1);
  });

  it('low speed is worst for compression, high speed for tension', () => {
    const stated = inventedForesight({ rodCompression: measured(90e3, 1e3), rodTension: measured(25e3, 1e3) });
    const press = at('rod compression', {}, stated).required;
    const pull = at('rod tension', {}, stated).required;
    expect(press[0]).toBeGreaterThan(press[4]);
    expect(pull[4]).toBeGreaterThan(pull[0]);
    // 83 × 76.4 mm, rod 140 mm, 0.58 kg: 15.2 kN at 7 000 rpm by hand
    expect(pull[4] / 1e3).toBeCloseTo(15.2, 1);
  });

  it('head: 97.1 kN round a 93 mm seal hold 110 bar with the reserve of 0.3 (force balance by hand)', () => {
    const clamped = withValues(withoutValues(foresight.model, ['headLiftPressure']), {
      clampForce: measured(1.3 * 110e5 * (Math.PI / 4) * 0.093 ** 2, 0),
      sealDiameter: measured(0.093, 0),
    });
    const limit = at('head clamp', { ambientPressure: 100e3 }, { ...foresight, model: clamped });
    expect(limit.available[0]).toBeCloseTo(111e5, 0);
    expect(limit.availableUncertainty[0]).toBeGreaterThan(3e5);
  });

  it('mean piston speed: 76.4 mm at 7 000 rpm is 17.83 m/s', () => {
    expect(at('piston speed').required[4]).toBeCloseTo(17.827, 3);
  });
});

describe('traction and roller', () => {
  it('reference: µ 1.1 on 12 433.93 N holds 13 677.32 N (Coulomb)', () => {
    const stated = inventedForesight({ axleLoad: measured(7845.32, 0), grip: measured(1.1, 0) });
    const limit = at('traction', { strapForce: 12433.93 - 7845.32 }, stated);
    expect(limit.available[0]).toBeCloseTo(13677.32, 1);
  });

  it('5.0 kN at 5.5 kN axle load needs 0.94 without straps; with 5 kN of straps half of that is enough', () => {
    const stated = inventedForesight({ grip: measured(0.6, 0), axleLoad: measured(5500, 0) });
    expect(at('traction', { strapForce: 0 }, stated).over[0]).toBeGreaterThan(0.99);
    expect(at('traction', { strapForce: 5000 }, stated).over[0]).toBeLessThan(0.05);
  });

  it('a hot tread holds less where its effect is known', () => {
    const hot = { gripKnee: measured(328, 0), gripPerKelvin: measured(0.0015, 0), treadTemperature: measured(358, 0) };
    const warm = inventedForesight({ grip: measured(0.62, 0.01), ...hot });
    const cold = inventedForesight({ grip: measured(0.62, 0.01) });
    const ratio = at('traction', {}, warm).available[0] / at('traction', {}, cold).available[0];
    expect(ratio).toBeCloseTo((0.62 - 0.045) / 0.62, 10);
  });

  it('roller speed is engine speed over ratio times radius, and a longer gear turns it faster', () => {
    const stated = inventedForesight({ maxSpeed: measured(55, 0) });
    expect(at('roller speed', {}, stated).required[3]).toBeCloseTo(51.0, 0);
    expect(at('roller speed', { overallRatio: 3.8 }, stated).over[4]).toBe(1);
  });
});

describe('compressor', () => {
  it('3 % are kept in hand unless somebody says otherwise', () => {
    expect(at('compressor speed').available[0] / RPM).toBeCloseTo(133_000, -2);
    const more = inventedForesight({ compressorSpeedMargin: measured(0.1, 0) });
    expect(at('compressor speed', {}, more).available[0] / RPM).toBeCloseTo(123_390, -1);
  });

  it('without a stated limit the wheel gives one, wide: 78 mm at 480 … 560 m/s (from memory)', () => {
    const model = withoutValues(foresight.model, ['turboSpeedLimit']);
    const limit = at('compressor speed', {}, { ...foresight, model });
    expect(limit.available[0] / 0.97 / RPM).toBeCloseTo((520 * 60) / (Math.PI * 0.078), -1);
    expect(limit.assumed).toContain('compressorTipLimit');
  });

  it('height takes margin from the shaft and the choke side', () => {
    const high = { altitude: 3200, ambientTemperature: 285 };
    expect(at('compressor speed', high).margin[3]).toBeLessThan(at('compressor speed').margin[3]);
    expect(at('compressor choke', high).available.length).toBe(SPEEDS.length);
  });

  it('without a map choke, surge and the gate are unknown and say so', () => {
    const model = { ...foresight.model, map: undefined };
    for (const name of ['compressor choke', 'compressor surge', 'wastegate authority'] as const) {
      expect(at(name, {}, { ...foresight, model }).why).toContain('compressor map');
    }
  });

  it('the turbine has power to spare at speed; half its efficiency takes half of it', () => {
    const full = at('wastegate authority');
    const weak = at('wastegate authority', {}, inventedForesight({ turbineEfficiency: measured(0.32, 0.01) }));
    expect(full.margin[3]).toBeGreaterThan(0);
    expect(weak.available[3] / full.available[3]).toBeCloseTo(0.5, 6);
  });
});

describe('with the engine model before any pull', () => {
  const losses = new Map([
    ['lossConstant', measured(180, 5)],
    ['lossSlope', measured(3.2, 0.2)],
    ['lossSquare', measured(0, 0.01)],
  ]);
  const model = priorModel(BUILD_SHEET, inventedMap(), losses);

  it('every limit of the build sheet can be told, with wide bands', () => {
    const known = limitsAt(model, { manifoldPressure: 200e3 }, SPEEDS).filter(({ why }) => why === undefined);
    const names = known.map(({ name }) => name);
    for (const name of ['spark voltage', 'compressor speed', 'injector duty', 'knock', 'head clamp', 'traction'])
      expect(names).toContain(name);
    for (const { name, marginUncertainty } of known) {
      if (name === 'head clamp') expect(marginUncertainty[0]).toBeGreaterThan(0.05);
    }
  });

  it('says what it assumed: nothing of the lift pressure that was stated, the octane that was not', () => {
    const limits = limitsAt(model, { manifoldPressure: 200e3 }, SPEEDS);
    const assumedBy = (name: string) => limits.find((limit) => limit.name === name)?.assumed ?? [];
    expect(assumedBy('knock')).toContain('octane');
    expect(assumedBy('head clamp')).not.toContain('headLiftPressure');
  });

  it('nobody stated anything: nothing is claimed of parts that no trade can guess', () => {
    const bare = priorModel({
      ...BUILD_SHEET,
      parts: {},
      vehicle: {},
      roller: {},
      engine: { displacement: measured(2e-3, 0) },
    });
    const limits = limitsAt(bare, { manifoldPressure: 180e3 }, SPEEDS);
    for (const name of [
      'head clamp',
      'rod compression',
      'traction',
      'compressor speed',
      'roller force',
      'engine speed',
    ]) {
      expect(limits.find((limit) => limit.name === name)?.why, name).toBeDefined();
    }
  });
});

/** Lengths of another engine, kept in the types of the engine. */
function branded({ bore, stroke, rodLength }: Readonly<Record<'bore' | 'stroke' | 'rodLength', number>>) {
  return { bore: length(bore), stroke: length(stroke), rodLength: length(rodLength) };
}
