import { expect, test } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../pulls/index.ts';
import { knownValues } from './known-values.ts';
import { mapOfTable } from './map-of-table.ts';
import { predict } from './predict.ts';
import { priorModel } from './prior-model.ts';
import { inventedMap, MAP_TEXT, tableOf } from './testing/invented-map.ts';
import { SHEET } from './testing/plateau.ts';

const RPM = Math.PI / 30;
const BARE: DayFacts = {
  title: 'nothing known',
  place: {},
  vehicle: {},
  engine: {},
  roller: {},
  ambient: {},
  entries: [],
  mappings: [],
};
const STATED: DayFacts = {
  ...BARE,
  place: { altitude: measured(1420, 10) },
  engine: {
    displacement: measured(2.48e-3, 0),
    cylinders: 6,
    boostControl: 'absolute',
    redline: measured(7000 * RPM, 0),
  },
  ambient: { temperature: measured(300.15, 1), pressure: measured(85300, 100), relativeHumidity: measured(0.3, 0.05) },
  parts: SHEET,
};
const SPEEDS = [3000, 4500, 6000].map((rpm) => rpm * RPM);

test('without any fact every value is a prior with a source, and torque still comes with a wide band', () => {
  const model = priorModel(BARE);
  expect(model.pulls).toBe(0);
  expect(model.unknown[0]).toMatch(/no pull yet/);
  for (const { origin, source } of model.values.values()) {
    expect(origin).toBe('prior');
    expect(source.length).toBeGreaterThan(5);
  }
  const { value, standardUncertainty } = predict(model, { manifoldPressure: 97e3 }, SPEEDS).lines['engine torque'];
  value.forEach((torque, i) => {
    expect(torque).toBeGreaterThan(100);
    expect(torque).toBeLessThan(300);
    expect(standardUncertainty[i] / torque).toBeGreaterThan(0.05);
  });
});

test('a stated value goes before one measured today, that before a usual one; a setting of the latest pull before all', () => {
  const today = new Map([
    ['plugGap', measured(0.6e-3, 1e-5)],
    ['coilVoltage', measured(13.1, 0.1)],
  ]);
  const values = knownValues(STATED, today, new Map([['plugGap', measured(0.55e-3, 1e-5)]]));
  expect(values.get('plugGap')).toMatchObject({ value: 0.55e-3, origin: 'stated' });
  expect(values.get('coilVoltage')).toMatchObject({ value: 13.1, origin: 'measured today' });
  expect(values.get('grip')?.origin).toBe('prior');
  expect(values.has('headLiftPressure')).toBe(false);
});

test('more pressure makes more torque, air, fuel, shaft speed and peak pressure, and takes more spark voltage', () => {
  const model = priorModel(STATED, inventedMap());
  const low = predict(model, { manifoldPressure: 180e3 }, SPEEDS);
  const high = predict(model, { manifoldPressure: 205e3 }, SPEEDS);
  for (const line of [
    'engine torque',
    'air flow',
    'fuel flow',
    'turbocharger speed',
    'spark voltage',
    'exhaust pressure',
  ] as const) {
    high.lines[line].value.forEach((value, i) => {
      expect(value).toBeGreaterThan(low.lines[line].value[i]);
    });
  }
});

test('thinner air at the same manifold pressure costs shaft speed, a filter more of it, soaked-up heat torque', () => {
  const model = priorModel(STATED, inventedMap());
  const step = { manifoldPressure: 190e3 };
  const here = predict(model, step, SPEEDS).lines;
  const high = predict(model, { ...step, altitude: 3200 }, SPEEDS).lines;
  const filtered = predict(model, { ...step, altitude: 3200, inletLoss: 2600 }, SPEEDS).lines;
  const soaked = predict(model, { ...step, soak: 10 }, SPEEDS).lines;
  SPEEDS.forEach((_, i) => {
    expect(high['turbocharger speed'].value[i]).toBeGreaterThan(1.08 * here['turbocharger speed'].value[i]);
    expect(filtered['turbocharger speed'].value[i]).toBeGreaterThan(high['turbocharger speed'].value[i]);
    expect(soaked['engine torque'].value[i]).toBeLessThan(here['engine torque'].value[i]);
  });
});

test('beyond the map there is no shaft speed, and the side that was passed is named', () => {
  const model = priorModel(STATED, inventedMap());
  const { lines, missing } = predict(model, { manifoldPressure: 330e3, altitude: 4000 }, [6800 * RPM]);
  expect(lines['turbocharger speed'].value[0]).toBeNaN();
  expect(missing.join(' ')).toMatch(/beyond the .* border of the map/);
});

test('what cannot be computed is named: injector flow, ratio, map', () => {
  const { missing, lines } = predict(priorModel({ ...STATED, parts: {} }), { manifoldPressure: 150e3 }, SPEEDS);
  expect(missing.join(' ')).toMatch(/missing injector flow/);
  expect(missing.join(' ')).toMatch(/missing overall ratio/);
  expect(missing.join(' ')).toMatch(/missing compressor map/);
  expect(lines['injector duty'].value[0]).toBeNaN();
});

test('an impossible state gives NaN and is named, not thrown', () => {
  const { lines, missing } = predict(priorModel(STATED, inventedMap()), { manifoldPressure: 2e6 }, SPEEDS);
  expect(lines['engine torque'].value[0]).toBeNaN();
  expect(missing).toContain('state outside the range of the cycle model');
});

test('a map file is read whatever the order of its columns; its own reference state counts', () => {
  const rows = MAP_TEXT.split('\n')
    .slice(2)
    .map((row) => row.split(','));
  const turned = [
    'Efficiency [%],Pressure ratio,Flow [g/s],Speed [rpm]',
    ...rows.map(([n, w, p, e]) => `${Number(e) * 100},${p},${Number(w) * 1000},${Number(n) * 1000}`),
  ].join('\n');
  const map = mapOfTable(tableOf(turned));
  expect(map.ok && map.value.lines.length).toBe(6);
  expect(map.ok && map.value.lines[0].flow[0]).toBeCloseTo(0.06, 9);
  expect(map.ok && map.findings.map(({ kind }) => kind)).toContain('map-reference-assumed');
  expect(inventedMap().reference).toEqual({ temperature: 298, pressure: 100e3 });
});

test('a map without a flow column is refused with the names that are there', () => {
  const map = mapOfTable(tableOf('krpm,pressure ratio\n60,1.4\n60,1.3\n60,1.2\n'));
  expect(map.ok).toBe(false);
  expect(!map.ok && map.refusal.kind).toBe('map-column-missing');
  expect(!map.ok && map.refusal.message).toMatch(/flow.*krpm, pressure ratio/);
  expect(!map.ok && map.refusal.place?.file).toBe('compressor-map.csv');
});

// Four cylinders of 0.5 L, by hand: bore = stroke = ∛(4·0.5 L/π) = 86.025 mm, rod 1.7 strokes, moving parts 1.4 kg a litre, air 0.92·200 kPa·2 L·733.04/(4π·287.05·333) =
// 224.58 g/s, turbine 24 cm² for each kg/s of it. The rest as the trade has it (sources in priors.ts): usual values, so that a changed one is seen and announced.
test.each([
  ['bore', 0.0860254, 0.04 * 0.0860254],
  ['stroke', 0.0860254, 0.04 * 0.0860254],
  ['rodLength', 0.14624318, 0.06 * 0.14624318],
  ['compressionRatio', 9.3, 0.7],
  ['reciprocatingMass', 0.7, 0.14],
  ['inletCloses', (45 * Math.PI) / 180, (8 * Math.PI) / 180],
  ['redline', 7000 * RPM, 500 * RPM],
  ['inertia', 0.16, 0.05],
  ['octane', 98, 2],
  ['ratedAirFlow', 0.2245757, 0],
  ['inletLoss', 2000, 1200],
  ['coolerLoss', 10e3, 5e3],
  ['exhaustLoss', 15e3, 9e3],
  ['coolerEffectiveness', 0.75, 0.06],
  ['turbineArea', 5.389818e-4, 0.25 * 5.389818e-4],
  ['turbineEfficiency', 0.64, 0.06],
  ['compressorEfficiency', 0.7, 0.05],
  ['injectorPressure', 300e3, 15e3],
  ['injectorDeadTime', 0.8e-3, 0.25e-3],
  ['largestDuty', 0.85, 0.02],
  ['plugGap', 0.7e-3, 0.08e-3],
  ['coilVoltage', 13.5, 0.4],
  ['dwell', 3e-3, 0.4e-3],
  ['coilResistance', 0.5, 0.1],
  ['coilInductance', 3e-3, 0.75e-3],
  ['tyreRadius', 0.31, 0.015],
  ['torqueLoss', 0.05, 0.015],
  ['grip', 0.6, 0.06],
])('usual %s', (name, value, spread) => {
  const model = priorModel({ ...BARE, engine: { displacement: measured(2e-3, 0), cylinders: 4 } });
  const found = model.values.get(name);
  expect(found?.origin).toBe('prior');
  expect((found?.value ?? 0) / value).toBeCloseTo(1, 6);
  expect(found?.standardUncertainty).toBeCloseTo(spread, 9);
});
