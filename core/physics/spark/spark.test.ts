import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  absolutePressure,
  angle,
  angularSpeed,
  gaugePressure,
  length,
  measured,
  pressureDifference,
  ratio,
  temperature,
  toSi,
  unitOf,
} from '../../quantities/index.ts';
import {
  evenFieldVoltage,
  evenFieldVoltageOfDensity,
  paschenMinimum,
  paschenVoltage,
  relativeDensity,
} from './breakdown.ts';
import { chargeAtSpark } from './charge-state.ts';
import { correlationVoltage, ELECTRODE_FACTORS, FORM_SPREAD, mixtureFactor, sparkDemand } from './demand.ts';
import { SPARK_SCATTER, sparkMargin, sparkMarginGrid } from './margin.ts';
import { colderStepsForBoost, colderStepsForOutput, plugReach, usualPlugGap } from './plug-advice.ts';
import { testerVoltage } from './tester-gap.ts';

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);
const rows = (name: string): string[][] =>
  readFileSync(join(import.meta.dirname, 'reference', name), 'utf8')
    .split('\n')
    .filter((line) => /^\d/.test(line))
    .map((line) => line.split(','));
const gas = (kPa: number, T: number, mm: number) => ({
  pressure: absolutePressure(kPa * 1e3),
  temperature: temperature(T),
  gap: length(mm * 1e-3),
});
const rpm = (value: number) => angularSpeed(toSi(value, unitOf('rpm')));
const degrees = (value: number) => angle((value * Math.PI) / 180);

describe('breakdown of a gas gap', () => {
  it('checks 6-01, 6-02 (closed form): minimum of the Paschen curve', () => {
    const found = paschenMinimum();
    expect(relative(found.pressureGap, 0.11151 * 10)).toBeLessThan(1e-4);
    expect(relative(found.voltage, 305.26)).toBeLessThan(1e-4);
    // it is a minimum (identity): the curve is higher on both sides
    const at = (share: number) =>
      paschenVoltage({
        gap: length(1e-3),
        pressure: absolutePressure(found.pressureGap * 1e3 * share),
        temperature: temperature(293.15),
      });
    expect(at(1)).toBeCloseTo(found.voltage, 6);
    expect(at(0.9)).toBeGreaterThan(found.voltage);
    expect(at(1.1)).toBeGreaterThan(found.voltage);
  });

  it('check 6-03 (327 V, measured): is not what these constants give, and the difference is 7 %', () => {
    expect(paschenMinimum().voltage / 327).toBeCloseTo(0.9335, 3);
  });

  it('checks 6-04, 6-05 (constants seen, computed with numpy 2.4.6): Paschen voltages', () => {
    expect(relative(paschenVoltage(gas(101.325, 293.15, 1)), 5034.6)).toBeLessThan(1e-4);
    expect(relative(paschenVoltage(gas(1000, 293.15, 0.7)), 25748.7)).toBeLessThan(1e-4);
    expect(paschenVoltage(gas(0.01, 293.15, 1))).toBeNaN();
  });

  it.each([
    [0.1, 4.561],
    [1, 31.08],
    [5, 136.826],
  ])('check 6-06 (Kuffel & Zaengl, form from memory): pd %f bar·cm', (pd, kV) => {
    expect(Math.abs(evenFieldVoltage(gas(pd * 100, 293.15, 10)) / 1e3 - kV)).toBeLessThan(1e-3);
  });

  it.each([
    [0.1, 4.345],
    [1, 30.3],
  ])('check 6-07 (Kuffel & Abdullah, form from memory): δd %f cm', (product, kV) => {
    expect(Math.abs(evenFieldVoltageOfDensity(length(product * 1e-2), ratio(1)) / 1e3 - kV)).toBeLessThan(1e-3);
  });

  it.each(rows('sphere-gap.csv'))(
    'checks 6-08, 6-09, 6-10, 6-11 (sphere-gap table, seen, ± 3 %%), 6-12 (from memory, ± 5 %%): spheres of %s cm at %s cm break down at %s kV (%s)',
    (...[_, spacing, kV, status]) => {
      const found = evenFieldVoltage(gas(101.325, 293.15, Number(spacing) * 10));
      expect(relative(found / 1e3, Number(kV))).toBeLessThan(status === 'seen' ? 0.03 : 0.05);
    },
  );

  it.each(rows('air-density-correction.csv'))(
    'check 6-15 (density correction table, itself ± 0.01): δ %s gives k %s',
    (delta, k) => {
      // the table follows from the even-field form at a gap of 1 cm, but for its densest row: the form gives 1.134 there, the table 1.12
      const at = (density: number) => evenFieldVoltageOfDensity(length(0.01), ratio(density));
      const densest = delta === '1.15';
      expect(Math.abs(at(Number(delta)) / at(1) - Number(k))).toBeLessThan(densest ? 0.015 : 0.01);
    },
  );

  it('check 6-19 (similarity, computed with numpy 2.4.6): only density counts', () => {
    expect(evenFieldVoltage(gas(2000, 650, 0.7))).toBeCloseTo(evenFieldVoltage(gas(901.54, 293, 0.7)), 0);
    expect(correlationVoltage(gas(2000, 650, 0.7))).toBeCloseTo(correlationVoltage(gas(901.54, 293, 0.7)), 0);
    expect(relativeDensity(absolutePressure(101325), temperature(293))).toBe(1);
  });

  it('check 6-17 (textbook abstract, seen): 0.6 mm at 1 bar takes 2 to 3 kV', () => {
    expect(evenFieldVoltage(gas(100, 293, 0.6))).toBeGreaterThan(2e3);
    expect(evenFieldVoltage(gas(100, 293, 0.6))).toBeLessThan(3.2e3);
  });

  it('check 6-17 (textbook abstract, seen): about 8 kV in an engine of compression ratio 8, up to 20 with more, below what 40 kV systems supply', () => {
    const engine = (compressionRatio: number, kPa: number) =>
      chargeAtSpark(
        {
          cylinder: {
            bore: length(0.086),
            stroke: length(0.086),
            rodLength: length(0.143),
            compressionRatio: ratio(compressionRatio),
          },
          closing: degrees(-130),
          pressure: absolutePressure(kPa * 1e3),
          temperature: temperature(330),
          exponent: 1.32,
        },
        degrees(-20),
      );
    const volts = (state: ReturnType<typeof engine>): number =>
      sparkDemand({ ...state, gap: length(0.6e-3), electrodes: 'new' }).demand.value;
    expect(relative(volts(engine(8, 95)), 8e3)).toBeLessThan(0.25);
    expect(volts(engine(12, 180))).toBeLessThan(20e3);
    expect(volts(engine(12, 180))).toBeGreaterThan(12e3);
  });
});

describe('a spark tester', () => {
  const at = (kind: 'needle' | 'sphere', cm: number) => testerVoltage(kind, length(cm * 1e-2), ratio(1));

  it.each([
    ['6-13', 'needle', 0.42, 5, 0.08],
    ['6-13', 'needle', 0.85, 10, 0.08],
    ['6-13', 'needle', 1.75, 20, 0.08],
    ['6-14', 'sphere', 0.13, 5, 0.03],
    ['6-14', 'sphere', 0.27, 10, 0.03],
    ['6-14', 'sphere', 0.42, 15, 0.03],
    ['6-14', 'sphere', 0.58, 20, 0.03],
  ] as const)('check %s (AIEE table, seen): %s points at %f cm jump at %f kV', (...[_, kind, cm, kV, tolerance]) => {
    const found = at(kind, cm);
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(relative(found.value.value, kV * 1e3)).toBeLessThan(tolerance);
    expect(found.value.standardUncertainty / found.value.value).toBeCloseTo(tolerance, 9);
  });

  it('holds every row of the AIEE table between 5 and 50 kV, and needles far below even fields', () => {
    for (const [kV, needle, sphere] of rows('needle-and-sphere-gap.csv').filter(([volts]) => Number(volts) <= 50)) {
      for (const [kind, cm] of [
        ['needle', needle],
        ['sphere', sphere],
      ] as const) {
        if (cm === '') continue;
        const found = at(kind, Number(cm));
        expect(found.ok && found.value.value).toBeCloseTo(Number(kV) * 1e3, 3);
      }
      if (needle !== '') {
        expect(evenFieldVoltage(gas(101.325, 298.15, Number(needle) * 10))).toBeGreaterThan(2 * Number(kV) * 1e3);
      }
      // its first row (5 kV) is rounded too coarsely, and beyond 25 kV the field of 2.5 cm spheres is no longer even
      if (sphere !== '' && Number(kV) >= 10 && Number(kV) <= 25) {
        expect(relative(evenFieldVoltage(gas(101.325, 298.15, Number(sphere) * 10)), Number(kV) * 1e3)).toBeLessThan(
          0.06,
        );
      }
    }
  });

  it('falls with thin air and is refused outside its table', () => {
    const thin = testerVoltage('sphere', length(0.0058), ratio(0.85));
    expect(thin.ok && thin.value.value).toBeCloseTo(17e3, 6);
    expect(at('needle', 0.2)).toMatchObject({
      refusal: { kind: 'tester-gap-out-of-table', numbers: { value: 0.002 } },
    });
  });
});

describe('demand of a plug', () => {
  it('check 6-18 (SAE 2000-01-0245 as remembered): correlation', () => {
    expect(Math.abs(correlationVoltage(gas(1000, 600, 0.7)) - 10347)).toBeLessThan(0.5);
    expect(Math.abs(correlationVoltage(gas(2000, 650, 0.6)) - 14466)).toBeLessThan(0.5);
  });

  it('the two forms agree within their uncertainty at engine densities', () => {
    for (const [kPa, T, mm] of [
      [1000, 600, 0.7],
      [2000, 650, 0.6],
      [3000, 700, 0.5],
    ]) {
      const input = { ...gas(kPa, T, mm), electrodes: 'new' } as const;
      const [one, other] = [sparkDemand(input).demand, sparkDemand({ ...input, form: 'even-field' }).demand];
      expect(Math.abs(one.value - other.value)).toBeLessThan(
        2 * Math.hypot(one.standardUncertainty, other.standardUncertainty),
      );
    }
  });

  it.each([
    [160, 19, 15, 20],
    [200, 15, 19, 25],
    [230, 12, 22.5, 29],
  ])(
    'of our invented engine: %i kPa, %i° before TDC, gap 0.70 mm: about %f kV new, %f kV worn',
    (...[MAP, advance, fresh, worn]) => {
      const charge = {
        cylinder: {
          bore: length(0.083),
          stroke: length(0.0764),
          rodLength: length(0.14),
          compressionRatio: ratio(9.6),
        },
        closing: degrees(-130),
        pressure: absolutePressure(MAP * 1e3),
        temperature: temperature(345),
        exponent: 1.32,
      };
      const state = { ...chargeAtSpark(charge, degrees(-advance)), gap: length(0.7e-3) };
      expect(relative(sparkDemand({ ...state, electrodes: 'new' }).demand.value, fresh * 1e3)).toBeLessThan(0.04);
      expect(relative(sparkDemand({ ...state, electrodes: 'worn' }).demand.value, worn * 1e3)).toBeLessThan(0.04);
      // retard meets denser gas
      const later = chargeAtSpark(charge, degrees(-advance + 5));
      expect(later.pressure / later.temperature).toBeGreaterThan(state.pressure / state.temperature);
    },
  );

  it('spreads as its table says: electrodes by their factor, the form by ± 25 % as limits of an even distribution', () => {
    expect(ELECTRODE_FACTORS).toEqual({
      new: measured(1, 0.05),
      'fine wire': measured(0.88, 0.06),
      worn: measured(1.3, 0.1),
    });
    expect(FORM_SPREAD).toBeCloseTo(0.1443376, 7);
    // 14.466 kV (check 6-18) worn: 18.806 kV ± √(0.1443376² + (0.1/1.3)²) = 16.355 %, by hand
    const { demand } = sparkDemand({ ...gas(2000, 650, 0.6), electrodes: 'worn' });
    expect(demand.value).toBeCloseTo(18806, -1);
    expect(demand.standardUncertainty / demand.value).toBeCloseTo(0.16355, 4);
  });

  it('rises for lean and very rich mixtures only', () => {
    expect(mixtureFactor(undefined)).toBe(1);
    expect(mixtureFactor(ratio(0.85))).toBe(1);
    expect(mixtureFactor(ratio(1.2))).toBeCloseTo(1.1, 12);
    expect(mixtureFactor(ratio(0.7))).toBeCloseTo(1.03, 12);
  });
});

describe('margin of the spark', () => {
  it('is available over demand less one, with relative parts in squares', () => {
    const found = sparkMargin(measured(30e3, 3e3), measured(25e3, 2.5e3));
    expect(found.margin.value).toBeCloseTo(0.2, 12);
    expect(found.margin.standardUncertainty).toBeCloseTo(1.2 * Math.hypot(0.1, 0.1), 12);
  });

  it('of nothing fails every second spark, of three scatters one in 740', () => {
    const even = sparkMargin(measured(25e3, 0), measured(25e3, 0), 0.08);
    expect(even.failing.likely).toBeCloseTo(0.5, 9);
    const ample = sparkMargin(measured(25e3 * 1.24, 0), measured(25e3, 0), 0.08);
    expect(1 / ample.failing.likely).toBeCloseTo(740.8, 0);
    expect(SPARK_SCATTER).toBe(0.08);
    expect(sparkMargin(measured(31e3, 3e3), measured(25e3, 2e3)).failing.upper).toBeGreaterThan(ample.failing.likely);
  });

  it('over speed, pressure and timing names its tightest point', () => {
    const grid = sparkMarginGrid({
      engineSpeeds: [rpm(4000), rpm(6000)],
      manifoldPressures: [absolutePressure(150e3), absolutePressure(220e3), absolutePressure(180e3)],
      sparks: [degrees(-20), degrees(-8)],
      available: (speed) => measured(32e3 - 2 * speed, 1e3),
      demand: (_, manifold, spark) => measured(manifold / 10 + 5e3 * Math.cos(spark), 1e3),
    });
    expect(grid.margin).toHaveLength(12);
    expect(grid.tightest.engineSpeed).toBe(rpm(6000));
    expect(grid.tightest.manifoldPressure).toBe(220e3);
    expect(grid.tightest.spark).toBe(degrees(-8));
    expect(grid.tightest.margin.value).toBeCloseTo(grid.margin[(1 * 3 + 1) * 2 + 1], 12);
    expect(() =>
      sparkMarginGrid({
        engineSpeeds: [],
        manifoldPressures: [],
        sparks: [],
        available: () => measured(1, 0),
        demand: () => measured(1, 0),
      }),
    ).toThrow('empty');
  });
});

describe('advice on plugs', () => {
  it.each([
    [60, 0.7, 0.8],
    [100, 0.7, 0.8],
    [101, 0.6, 0.6],
    [150, 0.6, 0.6],
    [200, 0.5, 0.5],
    [230, 0.45, 0.5],
    [251, 0.4, 0.45],
    [300, 0.4, 0.45],
  ])('gap to begin with at %i kPa of boost: %f to %f mm (common practice, no source)', (kPa, low, high) => {
    const found = usualPlugGap(gaugePressure(kPa * 1e3));
    expect([found.low * 1e3, found.high * 1e3]).toEqual([low, high]);
  });

  it.each([
    [120, 1.5, 2],
    [60, 0.75, 1],
    [0, 0, 0],
    [-30, 0, 0],
  ])(
    '%i kPa of added boost ask for %f to %f colder steps: one for each 60 to 80 kPa (common practice, no source)',
    (...row) => {
      const [kPa, low, high] = row;
      const found = colderStepsForBoost(pressureDifference(kPa * 1e3));
      expect([found.low, found.high]).toEqual([low, high]);
    },
  );

  it('one step for each 40 to 50 % of added cylinder output (common practice, no source)', () => {
    const twice = colderStepsForOutput(ratio(2));
    expect([twice.low, twice.high]).toEqual([2, 2.5]);
    expect(colderStepsForOutput(ratio(0.9))).toEqual({ low: 0, high: 0 });
  });

  it.each([
    [100, 0.7, 0.8],
    [101, 0.6, 0.6],
    [150, 0.6, 0.6],
    [151, 0.5, 0.5],
    [200, 0.5, 0.5],
    [251, 0.4, 0.45],
  ])('begins at %i kPa of boost with a gap of %f to %f mm', (kPa, low, high) => {
    const gap = usualPlugGap(gaugePressure(kPa * 1e3));
    expect([gap.low, gap.high].map((metres) => Number((metres * 1e3).toFixed(6)))).toEqual([low, high]);
  });

  it('warns of a thread that is too long or too short', () => {
    expect(plugReach(length(19e-3), length(19e-3))).toBe('right');
    expect(plugReach(length(26.5e-3), length(19e-3))).toBe('too long');
    expect(plugReach(length(12.7e-3), length(19e-3))).toBe('too short');
  });
});
