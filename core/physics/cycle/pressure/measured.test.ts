import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { householderQr, leastSquaresSolution } from '../../../numerics/index.ts';
import { angle, length, ratio } from '../../../quantities/index.ts';
import { cycleSolver } from '../engine/solver.ts';
import { petrol } from '../gas/fuels.ts';
import { gasModel } from '../gas/gas-model.ts';
import { cylinderVolume } from '../mechanism/cylinder.ts';
import { DEGREE, INVENTED_ENGINE, stateAt } from '../testing/invented-engine.ts';
import { crankPhaseFinding, LOSS_ANGLE, mechanicalEfficiencyFinding } from './plausibility.ts';
import { apparentHeatRelease, type CylinderTrace, indicatedPressure, peakOf, polytropicExponent } from './trace.ts';

const DATA = join(import.meta.dirname, '../../../../../shared/data');
const BOOSTED = join(DATA, 'cylinder-pressure-boosted-loads');
const SINGLE = join(DATA, 'cylinder-pressure-single-diesel');

function rowsOf(file: string): readonly (readonly number[])[] {
  const [, ...lines] = readFileSync(file, 'utf8').trim().split('\n');
  return lines.map((line) => line.split(',').map(Number));
}

const BENCH = join(DATA, 'gasoline-engine-bench-standardised');

// Data: repository boschresearch/Bosch-Engine-Datasets, CC BY-SA 4.0, standardised; kept outside this repository
describe.skipIf(!existsSync(BENCH))(
  'exhaust temperature of two measured petrol engines (skipped where the data folder is absent)',
  () => {
    /** Slopes of exhaust temperature with speed, load and ignition angle, all in standard deviations, over means of 10 s. */
    const slopesOf = (file: string): readonly number[] => {
      const path = join(BENCH, `${file}.csv`);
      const header = readFileSync(path, 'utf8').split('\n', 1)[0].split(',');
      const columns = ['speed', 'load', 'ignition_angle', 'T_exhaust_manifold'].map((name) => header.indexOf(name));
      const cutOff = header.indexOf('fuel_cutoff');
      const rows = rowsOf(path).filter((row) => cutOff < 0 || row[cutOff] < 0);
      const blocks = Math.floor(rows.length / 100);
      const values = new Float64Array(blocks * 4);
      const target = new Float64Array(blocks);
      for (let block = 0; block < blocks; block++) {
        const mean = (column: number): number =>
          rows.slice(100 * block, 100 * block + 100).reduce((sum, row) => sum + row[column] / 100, 0);
        values.set([mean(columns[0]), mean(columns[1]), mean(columns[2]), 1], 4 * block);
        target[block] = mean(columns[3]);
      }
      return [...leastSquaresSolution(householderQr({ rows: blocks, columns: 4, values }), target)];
    };

    it.each(['gengine1-run10', 'gengine2-run01'])(
      '%s: rises with speed and load, falls with earlier ignition; so does the model',
      (file) => {
        const [bySpeed, byLoad, byIgnition] = slopesOf(file);
        const solver = cycleSolver(INVENTED_ENGINE, gasModel(petrol(95)));
        const model = (rpm: number, bar: number, degrees: number): number => {
          const phasing = { kind: 'spark', advance: angle(degrees * DEGREE) } as const;
          const found = solver.solve({ ...stateAt({ rpm, bar, lambda: 1 }), phasing });
          return found.ok ? found.value.exhaustTemperature : Number.NaN;
        };
        expect(Math.sign(model(3500, 0.7, 22) - model(2000, 0.7, 22))).toBe(Math.sign(bySpeed));
        expect(Math.sign(model(2500, 0.9, 22) - model(2500, 0.5, 22))).toBe(Math.sign(byLoad));
        expect(Math.sign(model(2500, 0.7, 26) - model(2500, 0.7, 16))).toBe(Math.sign(byIgnition));
        expect([bySpeed > 0, byLoad > 0, byIgnition < 0]).toEqual([true, true, true]);
      },
    );
  },
);

const SMALL = { bore: length(0.086), stroke: length(0.075), rodLength: length(0.118), compressionRatio: ratio(21.2) };

describe('pressure traces', () => {
  const invented = (exponent: number): CylinderTrace => {
    const angles = Float64Array.from({ length: 721 }, (_, i) => (i / 2 - 180) * DEGREE);
    const pressure = angles.map((at) => 1e5 * (cylinderVolume(SMALL, Math.PI) / cylinderVolume(SMALL, at)) ** exponent);
    return { angle: angles, pressure };
  };
  const range = { from: -110 * DEGREE, to: -25 * DEGREE };

  it('finds the exponent of a polytropic trace, leaving out what is missing', () => {
    const trace = invented(1.33);
    expect(polytropicExponent(trace, SMALL, range).exponent).toBeCloseTo(1.33, 10);
    trace.pressure[200] = Number.NaN;
    expect(polytropicExponent(trace, SMALL, range).exponent).toBeCloseTo(1.33, 10);
    trace.pressure.fill(Number.NaN);
    expect(polytropicExponent(trace, SMALL, range).exponent).toBeNaN();
    expect(peakOf(trace).pressure).toBeNaN();
  });

  it('a trace that goes back the way it came does no work; a gap in it leaves the work unknown', () => {
    const trace = invented(1.3);
    expect(Math.abs(indicatedPressure(trace, SMALL, { from: -Math.PI, to: Math.PI }))).toBeLessThan(1);
    trace.pressure[300] = Number.NaN;
    expect(indicatedPressure(trace, SMALL, { from: -Math.PI, to: Math.PI })).toBeNaN();
  });

  it('nothing is released along an isentrope, and its peak is at top dead centre', () => {
    const trace = invented(1.35);
    const release = apparentHeatRelease(trace, SMALL, { from: -60 * DEGREE, to: 60 * DEGREE, ratio: ratio(1.35) });
    const most = Math.max(...release.filter((value) => !Number.isNaN(value)).map(Math.abs));
    expect(most).toBeLessThan(0.05);
    expect(release[0]).toBeNaN();
    expect(Math.abs(peakOf(trace).angle)).toBeLessThan(1e-9);
  });

  it('the loss angle is accepted at its limits and doubted just beyond, with the shift that would mend it', () => {
    expect(crankPhaseFinding(-LOSS_ANGLE.most)).toBeUndefined();
    expect(crankPhaseFinding(-LOSS_ANGLE.least)).toBeUndefined();
    expect(crankPhaseFinding(-LOSS_ANGLE.most - 1e-6)?.kind).toBe('crank phase doubtful');
    expect(crankPhaseFinding(0.01)?.numbers?.['shift']).toBeCloseTo(-0.01 - LOSS_ANGLE.least, 12);
    expect(mechanicalEfficiencyFinding(10e5, 9.9e5)).toBeUndefined();
    expect(mechanicalEfficiencyFinding(10e5, 10e5)?.weight).toBe('fault');
    expect(mechanicalEfficiencyFinding(-1e5, -2e5)?.weight).toBe('fault');
  });
});

// Data: repository RamogninoF/LibICE-post, MIT; kept outside this repository
describe.skipIf(!existsSync(BOOSTED))(
  'measured traces of a boosted heavy engine (skipped where the data folder is absent)',
  () => {
    const shape = {
      bore: length(0.128),
      stroke: length(0.144),
      rodLength: length(0.2415),
      compressionRatio: ratio(20.3),
    };
    const traceOf = (load: number): CylinderTrace => {
      const rows = rowsOf(join(BOOSTED, `load${load}.csv`));
      return { angle: Float64Array.from(rows, ([at]) => at * DEGREE), pressure: Float64Array.from(rows, ([, p]) => p) };
    };

    it.each([
      [25, 126.5, 6, 1.375],
      [50, 183.5, 8, 1.376],
      [100, 233.2, 10, 1.371],
    ])('load %i %%: peak, its angle and the exponent of compression', (...[load, bar, degrees, exponent]) => {
      const trace = traceOf(load);
      const peak = peakOf(trace);
      expect(Math.abs(peak.pressure / 1e5 - bar)).toBeLessThan(0.5);
      expect(Math.abs(peak.angle / DEGREE - degrees)).toBeLessThan(0.6);
      const range = { from: -110 * DEGREE, to: -25 * DEGREE };
      const found = polytropicExponent(trace, shape, range);
      expect(Math.abs(found.exponent - exponent)).toBeLessThan(0.001);
      const wrong = polytropicExponent(trace, { ...shape, compressionRatio: ratio(12) }, range);
      expect(wrong.deviation).toBeGreaterThan(4 * found.deviation);
    });

    it.each([25, 50, 100])(
      'load %i %%: expansion falls off slower than compression rose, as hot burned gas does',
      (load) => {
        const { exponent } = polytropicExponent(traceOf(load), shape, { from: 70 * DEGREE, to: 115 * DEGREE });
        expect(exponent).toBeGreaterThan(1.25);
        expect(exponent).toBeLessThan(1.36);
      },
    );

    it('indicated work and heat grow with load; heat is released once, and 90 % of it before 45° after top dead centre', () => {
      const works: number[] = [];
      const heats: number[] = [];
      for (const load of [25, 50, 100]) {
        const trace = traceOf(load);
        works.push(indicatedPressure(trace, shape, { from: -143 * DEGREE, to: 123 * DEGREE }));
        const release = apparentHeatRelease(trace, shape, { from: -20 * DEGREE, to: 90 * DEGREE, ratio: ratio(1.32) });
        const most = Math.max(...release.filter((value) => !Number.isNaN(value)));
        heats.push(most);
        const place = (share: number): number =>
          trace.angle[release.findIndex((value) => value > share * most)] / DEGREE;
        expect(place(0.1)).toBeGreaterThan(-5);
        expect(place(0.5)).toBeLessThan(20);
        expect(place(0.9)).toBeLessThan(45);
        expect(place(0.9) - place(0.1)).toBeGreaterThan(10);
      }
      expect(works[2]).toBeGreaterThan(1.8 * works[1]);
      expect(heats[1]).toBeGreaterThan(1.8 * heats[0]);
    });
  },
);

// Data: repository depcik/heat-release, GPL-3.0; kept outside this repository
describe.skipIf(!existsSync(SINGLE))(
  'measured single-cylinder diesel (skipped where the data folder is absent)',
  () => {
    const traceOf = (name: string): CylinderTrace => {
      const rows = rowsOf(join(SINGLE, `${name}.csv`));
      return {
        angle: Float64Array.from(rows, ([at]) => at * DEGREE),
        pressure: Float64Array.from(
          rows,
          ([, ...cycles]) => (1e5 * cycles.reduce((sum, p) => sum + p, 0)) / cycles.length,
        ),
      };
    };
    const shifted = (trace: CylinderTrace, degrees: number): CylinderTrace => ({
      ...trace,
      angle: trace.angle.map((at) => at + degrees * DEGREE),
    });
    const whole = { from: -181 * DEGREE, to: 542 * DEGREE };
    /** 18 N·m by 436 cm³. */
    const brake = (18 * 4 * Math.PI) / ((Math.PI / 4) * 0.086 ** 2 * 0.075);

    it('peak and indicated work as published', () => {
      const trace = traceOf('fired-18Nm');
      const peak = peakOf(trace);
      expect(Math.abs(peak.pressure / 1e5 - 66.01)).toBeLessThan(0.6);
      expect(Math.abs(peak.angle / DEGREE - 9.6)).toBeLessThan(0.2);
      expect(Math.abs(indicatedPressure(trace, SMALL, whole) / 1e5 - 4.765)).toBeLessThan(0.05);
    });

    it('the crank phase as published is wrong: the motored peak is too early, and the brake does more work than the gas', () => {
      const motored = peakOf(traceOf('motored')).angle;
      expect(Math.abs(motored / DEGREE + 2.6)).toBeLessThan(0.05);
      expect(crankPhaseFinding(motored)?.weight).toBe('fault');
      expect(Math.abs(brake / 1e5 - 5.19)).toBeLessThan(0.01);
      const indicated = indicatedPressure(traceOf('fired-18Nm'), SMALL, whole);
      expect(mechanicalEfficiencyFinding(indicated, brake)?.kind).toBe('more work at the crank than in the cylinder');
    });

    it('moved by 1.5° both doubts are gone', () => {
      expect(crankPhaseFinding(peakOf(shifted(traceOf('motored'), 1.5)).angle)).toBeUndefined();
      const indicated = indicatedPressure(shifted(traceOf('fired-18Nm'), 1.5), SMALL, whole);
      expect(Math.abs(indicated / 1e5 - 5.64)).toBeLessThan(0.15);
      expect(mechanicalEfficiencyFinding(indicated, brake)).toBeUndefined();
    });
  },
);
