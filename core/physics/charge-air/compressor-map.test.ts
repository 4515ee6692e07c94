import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../numerics/index.ts';
import {
  absolutePressure,
  fromSi,
  massFlow,
  measured,
  ratio,
  temperature,
  toSi,
  unitOf,
} from '../../quantities/index.ts';
import { type CompressorMap, compressorMap } from './compressor-map.ts';
import { mapGrid } from './map-grid.ts';
import { flowMargins, mapPoint, mapPointsInto, measuredMapSpeed } from './map-point.ts';

// our own invented compressor; no published map is free to be copied
const ROWS = readFileSync(join(import.meta.dirname, 'fixtures/invented-compressor.csv'), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(',').map(Number));
const REFERENCE = { temperature: temperature(298.15), pressure: absolutePressure(100e3) };

const columnsOf = (rows: readonly (readonly number[])[]) => ({
  speed: { values: rows.map((row) => row[0]), unit: 'krpm' },
  flow: { values: rows.map((row) => row[1]), unit: 'kg/s' },
  pressureRatio: { values: rows.map((row) => row[2]), unit: '' },
  efficiency: { values: rows.map((row) => row[3]), unit: '' },
});
const mapOf = (rows: readonly (readonly number[])[]): CompressorMap => {
  const found = compressorMap({ columns: columnsOf(rows), reference: REFERENCE });
  if (!found.ok) throw new Error(found.refusal.kind);
  return found.value;
};
const refusalOf = (input: Parameters<typeof compressorMap>[0]) => {
  const found = compressorMap(input);
  if (found.ok) throw new Error('expected a refusal');
  return found.refusal;
};
const map = mapOf(ROWS);
const krpm = (value: number): number => fromSi(value, unitOf('krpm'));
const at = (flow: number, pressureRatio: number, of = map) => mapPoint(of, massFlow(flow), ratio(pressureRatio));
const speedAt = (flow: number, pressureRatio: number, of = map): number => {
  const point = at(flow, pressureRatio, of);
  return point.kind === 'inside' ? krpm(point.speed) : Number.NaN;
};

describe('a compressor map', () => {
  it('gives back every row from which it was built', () => {
    for (const [speed, flow, pressureRatio, efficiency] of ROWS) {
      const point = at(flow, pressureRatio);
      if (point.kind === 'outside') throw new Error(`outside: ${flow} ${pressureRatio}`);
      expect(krpm(point.speed)).toBeCloseTo(speed, 6);
      expect(point.efficiency).toBeCloseTo(efficiency, 6);
    }
  });

  it('foretells a line that was left out to 0.6 % of speed', () => {
    for (const left of [75, 90, 105, 120]) {
      const without = mapOf(ROWS.filter(([speed]) => speed !== left));
      for (const [, flow, pressureRatio] of ROWS.filter(([speed]) => speed === left)) {
        const found = speedAt(flow, pressureRatio, without);
        if (!Number.isNaN(found)) expect(Math.abs(found / left - 1)).toBeLessThan(0.006);
      }
    }
  });

  it('never lets speed fall while pressure ratio rises at one flow, nor while flow rises beyond the crest', () => {
    for (let flow = 0.1; flow < 0.4; flow += 0.005) {
      let last = 0;
      for (let pressureRatio = 1.3; pressureRatio < 4.6; pressureRatio += 0.01) {
        const found = speedAt(flow, pressureRatio);
        if (Number.isNaN(found)) continue;
        expect(found).toBeGreaterThan(last);
        last = found;
      }
      expect(last).toBeGreaterThan(0);
    }
  });

  it('keeps pressure ratio falling and flow rising along every line of its grid', () => {
    const grid = mapGrid(map.lines);
    for (let row = 0; row < grid.rows; row++) {
      for (let column = 1; column < grid.columns; column++) {
        const k = row * grid.columns + column;
        expect(grid.flow[k]).toBeGreaterThan(grid.flow[k - 1]);
        expect(grid.pressureRatio[k]).toBeLessThanOrEqual(grid.pressureRatio[k - 1] + 1e-12);
      }
    }
  });

  it('names the border that a point outside has passed', () => {
    expect(at(0.1, 2.8)).toEqual({ kind: 'outside', border: 'surge' });
    expect(at(0.06, 3)).toEqual({ kind: 'outside', border: 'surge' });
    expect(at(0.3, 1.4)).toEqual({ kind: 'outside', border: 'choke' });
    expect(at(0.5, 2)).toEqual({ kind: 'outside', border: 'choke' });
    expect(at(0.3, 5)).toEqual({ kind: 'outside', border: 'fastest line' });
    expect(at(0.38, 3.6)).toEqual({ kind: 'outside', border: 'fastest line' });
    expect(at(0.12, 1.2)).toEqual({ kind: 'outside', border: 'slowest line' });
    expect(() => at(Number.NaN, 2)).toThrow('missing');
  });

  it('answers just inside the surge line and refuses just outside of it', () => {
    expect(at(0.1331, 2.86).kind).toBe('inside');
    expect(at(0.1329, 2.86)).toEqual({ kind: 'outside', border: 'surge' });
  });

  it('measures flow margins at the same pressure ratio', () => {
    const margins = flowMargins(map, massFlow(0.253), ratio(2.86));
    expect(margins?.below.border).toBe('surge');
    expect(margins?.below.flow).toBeCloseTo(0.133, 4);
    expect(margins?.below.margin).toBeCloseTo((0.253 - 0.133) / 0.253, 3);
    expect(margins?.above.border).toBe('fastest line');
    expect(flowMargins(map, massFlow(0.2), ratio(1.8))?.above.border).toBe('choke');
    expect(flowMargins(map, massFlow(0.05), ratio(2.86))).toBeUndefined();
  });

  it('carries the spread of flow, pressure ratio and map into speed', () => {
    const found = measuredMapSpeed(map, {
      flow: measured(0.3, 0.006),
      pressureRatio: measured(2.5, 0.02),
      mapSpread: 0.01,
    });
    if (found.kind === 'outside') throw new Error('outside');
    const perFlow = (speedAt(0.3005, 2.5) - speedAt(0.2995, 2.5)) / 0.001;
    const perRatio = (speedAt(0.3, 2.505) - speedAt(0.3, 2.495)) / 0.01;
    const wanted = Math.hypot(perFlow * 0.006, perRatio * 0.02, 0.01 * krpm(found.speed.value));
    expect(krpm(found.speed.standardUncertainty) / wanted).toBeCloseTo(1, 1);
    expect(measuredMapSpeed(map, { flow: measured(0.5, 0.01), pressureRatio: measured(2, 0.01) })).toEqual({
      kind: 'outside',
      border: 'choke',
    });
  });

  it('answers many points as it answers one (twin), a missing one with NaN', () => {
    const flow = Float64Array.from([0.2, 0.3, 0.05, Number.NaN, 0.25]);
    const pressureRatio = Float64Array.from([1.8, 2.5, 3, 2, 3.1]);
    const answers = { speed: new Float64Array(5), efficiency: new Float64Array(5) };
    mapPointsInto(answers, map, { flow, pressureRatio });
    expect(answers.speed[2]).toBeNaN();
    expect(answers.speed[3]).toBeNaN();
    for (const i of [0, 1, 4]) expect(krpm(answers.speed[i])).toBeCloseTo(speedAt(flow[i], pressureRatio[i]), 9);
  });
});

describe('the rows of a map', () => {
  it('come in any order and in any unit of their kind', () => {
    const mixed = columnsOf([...ROWS].reverse());
    const density = 100e3 / (287.05 * 298.15);
    const found = compressorMap({
      columns: {
        ...mixed,
        speed: { values: [...ROWS].reverse().map((row) => row[0] * 1000), unit: 'rpm' },
        flow: { values: [...ROWS].reverse().map((row) => row[1] / density), unit: 'm³/s' },
        efficiency: { values: [...ROWS].reverse().map((row) => row[3] * 100), unit: '%' },
      },
      reference: REFERENCE,
    });
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(speedAt(0.25, 2.4, found.value)).toBeCloseTo(speedAt(0.25, 2.4), 9);
  });

  it('without efficiency still give speed; a hole in efficiency stays a hole', () => {
    const { efficiency: _, ...bare } = columnsOf(ROWS);
    const found = compressorMap({ columns: bare, reference: REFERENCE });
    if (!found.ok) throw new Error(found.refusal.kind);
    const point = at(0.25, 2.4, found.value);
    expect(point.kind === 'inside' && Number.isNaN(point.efficiency)).toBe(true);
    const holed = mapOf(ROWS.map(([s, f, p, e]) => [s, f, p, s === 132 ? Number.NaN : e]));
    const inHole = at(0.281, 4.2, holed);
    expect(inHole.kind === 'inside' && Number.isNaN(inHole.efficiency)).toBe(true);
    const beside = at(0.22, 2.6, holed);
    expect(beside.kind === 'inside' && beside.efficiency > 0.7).toBe(true);
  });

  it('held on a line within 2 % make one line, and the spread is said', () => {
    const shaken = ROWS.map(([s, f, p, e], i) => [s * (1 + 0.004 * (i % 3)), f, p, e]);
    const found = compressorMap({ columns: columnsOf(shaken), reference: REFERENCE });
    expect(found.ok && found.value.lines.length).toBe(6);
    expect(found.ok && found.findings.map(({ kind }) => kind)).toContain('map-line-spread');
  });

  it('are refused with the row and the value', () => {
    const columns = columnsOf(ROWS.map((row, i) => (i === 4 ? [row[0], row[1], Number.NaN, row[3]] : row)));
    expect(refusalOf({ columns, reference: REFERENCE })).toMatchObject({ kind: 'map-row-invalid', place: { line: 5 } });
    const warm = columnsOf(ROWS.map((row, i) => (i === 2 ? [row[0], row[1], row[2], 1.2] : row)));
    expect(refusalOf({ columns: warm, reference: REFERENCE })).toMatchObject({
      place: { line: 3 },
      numbers: { value: 1.2 },
    });
  });

  it('are refused when a unit is of another kind, columns differ in length, or lines are too few or too short', () => {
    const good = columnsOf(ROWS);
    const inKelvin = { ...good, flow: { ...good.flow, unit: 'K' } };
    expect(refusalOf({ columns: inKelvin, reference: REFERENCE })).toMatchObject({
      kind: 'map-unit-unknown',
      numbers: { unit: 'K' },
    });
    const short = { ...good, flow: { values: [0.1], unit: 'kg/s' } };
    expect(refusalOf({ columns: short, reference: REFERENCE }).kind).toBe('map-columns-unequal');
    expect(refusalOf({ columns: columnsOf(ROWS.slice(0, 6)), reference: REFERENCE }).kind).toBe('map-too-few-lines');
    expect(refusalOf({ columns: columnsOf(ROWS.slice(0, 8)), reference: REFERENCE })).toMatchObject({
      kind: 'map-line-too-short',
      numbers: { rows: 2 },
    });
    expect(refusalOf({ columns: columnsOf([]), reference: REFERENCE }).kind).toBe('map-too-few-lines');
    const inFahrenheit = { ...REFERENCE, temperature: temperature(25) };
    expect(refusalOf({ columns: good, reference: inFahrenheit }).kind).toBe('map-reference-invalid');
  });

  it('are refused when a slower line lies above a faster one at the same flow, with place and numbers', () => {
    const refusal = refusalOf({
      columns: {
        speed: { values: [60, 60, 60, 90, 90, 90, 120, 120, 120], unit: 'krpm' },
        flow: { values: [0.08, 0.15, 0.22, 0.12, 0.24, 0.34, 0.2, 0.33, 0.45], unit: 'kg/s' },
        pressureRatio: { values: [1.4, 1.38, 1.2, 1.3, 1.25, 1.1, 3.3, 3.1, 2.3], unit: '' },
      },
      reference: REFERENCE,
    });
    expect(refusal.kind).toBe('map-lines-cross');
    expect(refusal.message).toContain('the line of 60.0 krpm has');
    expect(refusal.numbers).toMatchObject({ flow: 0.15, below: 1.38 });
  });

  it('are refused when two lines cross', () => {
    const swapped = ROWS.map(([s, f, p, e]) => [s === 90 ? 106 : s === 105 ? 91 : s, f, p, e]);
    expect(refusalOf({ columns: columnsOf(swapped), reference: REFERENCE }).kind).toBe('map-lines-cross');
  });

  it('may stand straight up at the choke side', () => {
    const straight = ROWS.flatMap(([s, f, p, e]) =>
      f === Math.max(...ROWS.filter(([other]) => other === s).map((row) => row[1]))
        ? [
            [s, f, p, e],
            [s, f, p * 0.9, e * 0.9],
            [s, f, p * 0.8, e * 0.8],
          ]
        : [[s, f, p, e]],
    );
    const found = speedAt(0.335, 1.7, mapOf(straight));
    expect(found).toBeGreaterThan(103);
    expect(found).toBeLessThan(107);
    expect(toSi(1, unitOf('krpm'))).toBeCloseTo(104.72, 2);
  });
});

describe('maps of unknown families', () => {
  it('are read to 0.5 % of speed at 95 of 100 random points (100 invented closed-form compressors, sparse random rows)', () => {
    const random = randomSource(2024);
    const errors: number[] = [];
    for (let k = 0; k < 100; k++) {
      const state = inventedFamily(random);
      const rows: number[][] = [];
      const lines = 4 + Math.floor(6 * random.uniform());
      for (let i = 0; i < lines; i++) {
        const n = 0.4 + (0.6 * i) / (lines - 1);
        const points = 4 + Math.floor(8 * random.uniform());
        for (let j = 0; j < points; j++) {
          const inner = j > 0 && j < points - 1 ? 0.3 * (random.uniform() - 0.5) : 0;
          const { flow, pressureRatio } = state(n, (0.9 * (j + inner)) / (points - 1));
          rows.push([n * 100, flow, pressureRatio, 0.7]);
        }
      }
      const map = mapOf(rows);
      for (let q = 0; q < 50; q++) {
        const n = 0.42 + 0.56 * random.uniform();
        const { flow, pressureRatio } = state(n, 0.03 + 0.81 * random.uniform());
        errors.push(Math.abs(speedAt(flow, pressureRatio, map) / (n * 100) - 1));
      }
    }
    const sorted = errors.toSorted((a, b) => a - b);
    expect(sorted.some(Number.isNaN)).toBe(false);
    expect(sorted[Math.floor(0.5 * sorted.length)]).toBeLessThan(0.001);
    expect(sorted[Math.floor(0.95 * sorted.length)]).toBeLessThan(0.005);
  });
});

/** A compressor in closed form: flow and pressure ratio at a share of full speed and a place from surge (0) to choke (1). */
function inventedFamily(random: ReturnType<typeof randomSource>) {
  const between = (low: number, high: number): number => low + (high - low) * random.uniform();
  const [bend, tip, size, boost] = [between(2, 5), between(1.3, 2.5), between(0.1, 0.7), between(1.5, 4)];
  const [head, surge, surgePower, chokePower] = [
    between(1.9, 2.4),
    between(0.35, 0.6),
    between(1.2, 1.7),
    between(1, 1.3),
  ];
  const hump = between(0, 0.03);
  return (n: number, place: number) => {
    const least = surge * n ** surgePower;
    const shape = (1 - place ** bend) ** (1 / tip) - hump * (1 - place) ** 2;
    return { flow: size * (least + (n ** chokePower - least) * place), pressureRatio: 1 + boost * n ** head * shape };
  };
}
