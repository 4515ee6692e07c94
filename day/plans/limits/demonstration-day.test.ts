import { beforeAll, describe, expect, it } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import { makePlateauDay } from '../../../scenarios/index.ts';
import { dayModel } from '../model/day-model.ts';
import type { EngineModel } from '../model/engine-model.ts';
import { inventedMap } from '../model/testing/invented-map.ts';
import { judged, withSheet } from '../model/testing/plateau.ts';
import { foresightOf, limitsAt, nextLimits } from './at.ts';
import { headLiftPressureOf } from './head-lift-evidence.ts';
import { RPM } from './testing/build-sheet.ts';

const SPEEDS = Float64Array.from([3500, 4000, 4500, 5000, 5500, 6000, 6500, 7000], (rpm) => rpm * RPM);
const STEP = {
  manifoldPressure: 200e3,
  camPhase: 0,
  plugGap: 0.55e-3,
  strapForce: 5000,
  coilVoltage: 13.6,
  soak: 8,
  ambientPressure: 85.3e3,
  ambientTemperature: 306,
};

let model: EngineModel;

beforeAll(() => {
  const day = judged(makePlateauDay({ seed: 1 }));
  const sheet = withSheet(day.facts);
  const facts = {
    ...sheet,
    vehicle: { ...sheet.vehicle, axleLoad: measured(5482, 30) },
    parts: {
      ...sheet.parts,
      headLiftPressure: measured(123e5, 2e5),
      grip: measured(0.58, 0.02),
      sparkVoltage: measured(25.9e3, 0.3e3),
      coilVoltage: measured(13.5, 0.1),
      largestDuty: measured(0.9, 0.01),
      strapForce: measured(5000, 300),
    },
  };
  model = dayModel({ ...day, facts, map: inventedMap() });
}, 240_000);

// Our own invented day; its owner states the build sheet, the model learns the rest from the clean pulls.
describe('the demonstration day, calibrated on its clean pulls', () => {
  it('before any lift is seen the peak pressure is too uncertain to promise the head: the margin carries more than 8 %', () => {
    const limits = limitsAt(model, { ...STEP, manifoldPressure: 215e3 }, SPEEDS);
    const clamp = limits.find(({ name }) => name === 'head clamp');
    expect(clamp?.marginUncertainty[0]).toBeGreaterThan(0.08);
    expect(clamp?.over[0]).toBeGreaterThan(0.005);
  });

  it('once the coolant told of a lift at 215 kPa, and of none at 200 and 208, the head clamp comes first, in the middle of the speeds', () => {
    const seen = [200e3, 208e3, 215e3].map((manifoldPressure) => ({
      speed: 4000 * RPM,
      step: { ...STEP, manifoldPressure },
      lifted: manifoldPressure > 210e3,
    }));
    const lift = headLiftPressureOf(foresightOf(model), seen);
    if (!lift) throw new Error('no evidence placed');
    const taught = { ...model, values: new Map(model.values).set('headLiftPressure', lift) };
    const next = nextLimits(taught, STEP, { speeds: SPEEDS });
    expect(next[0].name).toBe('head clamp');
    expect(Math.abs(next[0].manifoldPressure - 212e3)).toBeLessThan(next[0].standardUncertainty);
    expect(next[0].standardUncertainty).toBeLessThan(12e3);
    expect(next[0].speed / RPM).toBeLessThanOrEqual(4500);
    expect(next.slice(1, 3).map(({ name }) => name)).toEqual(['injector duty', 'spark voltage']);
    expect(next.find(({ name }) => name === 'traction')?.manifoldPressure ?? 400e3).toBeGreaterThan(230e3);
  });
});
