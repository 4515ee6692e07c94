import { describe, expect, it } from 'vitest';
import { ICE_MELTING_HEAT, WATER_HEAT_CAPACITY } from '../../../core/physics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import type { PartsFacts } from '../../pulls/index.ts';
import { predict } from '../model/predict.ts';
import { priorModel } from '../model/prior-model.ts';
import { inventedMap } from '../model/testing/invented-map.ts';
import { coolerSeriesOf } from './cooler-series.ts';
import { coolerStateOf } from './cooler-state.ts';
import { BUILD_SHEET, RPM } from './testing/build-sheet.ts';

const STEP = { manifoldPressure: 200e3 };
const MAP = inventedMap();
const withCooler = (parts: PartsFacts) =>
  priorModel({ ...BUILD_SHEET, parts: { ...BUILD_SHEET.parts, ...parts } }, MAP);
/** No heat to or from the outside worth a word. */
const TIGHT = measured(1e9, 1);
const AIR = withCooler({ coolerTimeConstant: measured(240, 10) });
const WATER = withCooler({ coolerKind: 'water-to-air', coolerWater: measured(12, 0.1), coolerTimeConstant: TIGHT });
const ICED = withCooler({ coolerWater: measured(12, 0.1), coolerIce: measured(8, 0.1), coolerTimeConstant: TIGHT });
const REDLINE = 7000 * RPM;
const chargeOf = (model: typeof AIR, step = {}) =>
  predict(model, { ...STEP, ...step }, [REDLINE]).lines['charge temperature'];

describe('how warm the charge cooler is taken to be', () => {
  it('before any pull a usual value with its spread; what the step says goes first and has none', () => {
    const usual = coolerStateOf(AIR, STEP);
    expect(usual).toMatchObject({ kind: 'air-to-air', origin: 'usual values' });
    expect(usual?.start.value).toBeCloseTo(4, 9);
    expect(usual?.end.value).toBeGreaterThan(usual?.start.value ?? 99);
    expect(usual?.start.standardUncertainty).toBeCloseTo(Math.hypot(4, 4), 9);
    expect(coolerStateOf(AIR, { ...STEP, soak: 0 })).toMatchObject({ origin: 'asked', end: measured(0, 0) });
  });

  it('without a compressor there is none', () => {
    const { compressorWheel: _, ...parts } = BUILD_SHEET.parts ?? {};
    const { turboSpeedLimit: __, ...engine } = BUILD_SHEET.engine;
    const bare = priorModel({ ...BUILD_SHEET, parts, engine: { ...engine, boostControl: 'none' } });
    expect(coolerStateOf(bare, { manifoldPressure: 84e3 })).toBeUndefined();
  });

  it('the default charges with more heat than a cold cooler, with a wider band than a stated one', () => {
    const [usual, cold, hot] = [chargeOf(AIR), chargeOf(AIR, { soak: 0 }), chargeOf(AIR, { soak: 20 })];
    expect(usual.value[0]).toBeGreaterThan(cold.value[0] + 2);
    expect(hot.value[0]).toBeGreaterThan(usual.value[0] + 5);
    expect(usual.standardUncertainty[0]).toBeGreaterThan(cold.standardUncertainty[0]);
  });
});

describe('a series of pulls', () => {
  it('air to air: each begins where the pause left it, and settles', () => {
    const { pulls, ready } = coolerSeriesOf(AIR, STEP, { pulls: 8, pause: 240 });
    for (let k = 1; k < pulls.length; k++) expect(pulls[k].start - 4).toBeCloseTo((pulls[k - 1].end - 4) / Math.E, 9);
    expect(Math.abs(pulls[7].end - pulls[6].end)).toBeLessThan(0.01);
    // to a tenth of what it brought: ln 10 time constants
    expect(ready.kind === 'after' && ready.wait.value).toBeCloseTo(240 * Math.log(10), 6);
  });

  it('water to air: what the charge gives is what the water has (heat balance within 0.1 %)', () => {
    const { pulls } = coolerSeriesOf(WATER, STEP, { pulls: 4, pause: 60 });
    const heat = pulls.reduce((sum, pull) => sum + pull.heat, 0);
    const first = 300;
    expect(heat).toBeGreaterThan(100e3);
    expect((12 * WATER_HEAT_CAPACITY * ((pulls[3].water ?? 0) - first)) / heat).toBeCloseTo(1, 3);
  });

  it('with ice: what the charge gives melts ice, and the water stays at 0 °C until it is gone (latent heat 333.6 kJ/kg)', () => {
    const series = coolerSeriesOf(ICED, STEP, { pulls: 2, pause: 60 });
    const [one, two] = series.pulls;
    expect(one.water).toBeCloseTo(273.15, 9);
    expect(((one.ice ?? 0) - (two.ice ?? 0)) / (two.heat / ICE_MELTING_HEAT)).toBeCloseTo(1, 4);
    expect(series.ready.kind).toBe('at once');
    expect(series.iceFor).toBeGreaterThan(1);
    const gone = coolerSeriesOf(ICED, STEP, { pulls: 30, pause: 60 }).pulls;
    const at = series.iceFor ?? 0;
    expect(gone[at - 1].ice).toBeGreaterThan(0);
    expect(gone[at].ice).toBe(0);
    expect(gone[at + 1].water).toBeGreaterThan(273.15);
  });

  it('ice that one pull melts: only new ice brings the cold back', () => {
    // 12 kg from 26.85 °C down to 0 °C melt 4.04 kg
    const series = coolerSeriesOf(ICED, { ...STEP, ice: 4.1 }, { pulls: 1, pause: 60 });
    expect(series.iceFor).toBe(0);
    expect(series.ready.kind).toBe('with new ice only');
  });

  it('a step at the redline and the same pull in pieces have the tank within 0.6 K of one another (twin)', () => {
    const { pulls } = coolerSeriesOf(WATER, STEP, { pulls: 1, pause: 0 });
    expect(Math.abs((coolerStateOf(WATER, STEP)?.end.value ?? 99) - pulls[0].end)).toBeLessThan(0.6);
  });

  it('ice in the step cools the charge', () => {
    expect(chargeOf(WATER, { ice: 8 }).value[0]).toBeLessThan(chargeOf(WATER).value[0] - 15);
    expect(chargeOf(WATER, { water: 283.15 }).value[0]).toBeLessThan(chargeOf(WATER).value[0] - 9);
  });
});
