import { describe, expect, it } from 'vitest';
import type { Observation } from '../../model/observations.ts';
import { foresightOf } from '../at.ts';
import { RPM } from '../testing/build-sheet.ts';
import { inventedForesight } from '../testing/invented-engine.ts';
import { compressorPointsOf } from './compressor-points.ts';
import { crankPictureOf } from './crank-picture.ts';

const foresight = inventedForesight();
const seen = (more: Partial<Observation>): Observation => ({
  ...{
    entry: '7',
    pull: 0,
    time: 10,
    loadTime: 8,
    chargeSlope: 0,
    speed: 5500 * RPM,
    torque: 400,
    torqueNoise: 0.005,
    manifoldPressure: 200e3,
  },
  ...{ chargeTemperature: Number.NaN, lambda: Number.NaN, timing: Number.NaN, timingShift: 0, camPhase: Number.NaN },
  ...{ exhaustPressure: Number.NaN, exhaustTemperature: Number.NaN, turboSpeed: Number.NaN, airFlow: Number.NaN },
  ...{ fuelFlow: Number.NaN, injectorDuty: Number.NaN, ambientTemperature: 300, ambientPressure: 85.3e3 },
  ...{ humidityRatio: 0.008, ...more },
});
const pointsOf = (observations: readonly Observation[]) => {
  const points = compressorPointsOf(foresight, observations);
  if (!points.ok) throw new Error(points.refusal.message);
  return points.value;
};

describe('pulls of the day on the compressor map', () => {
  it('no map: refused; no pull: none', () => {
    const bare = { ...foresight, model: { ...foresight.model, map: undefined } };
    expect(compressorPointsOf(bare, [seen({})])).toMatchObject({ refusal: { kind: 'missing-compressor-map' } });
    expect(pointsOf([])).toEqual([]);
  });

  it('points of one pull stay together, in the order of the day', () => {
    const points = pointsOf([seen({}), seen({ entry: '9', pull: 2 }), seen({ speed: 6000 * RPM })]);
    expect(points.map(({ entry, speed }) => [entry, speed.length])).toEqual([
      ['7', 2],
      ['9', 1],
    ]);
  });

  it('logged air flow goes before the foretold one: corrected flow follows it in proportion', () => {
    const [first] = pointsOf([seen({ airFlow: 0.2 })]);
    const [second] = pointsOf([seen({ airFlow: 0.21 })]);
    expect([first.measured, pointsOf([seen({})])[0].measured]).toEqual([true, false]);
    // a little more than in proportion: more flow loses more before the compressor
    expect(second.flow[0] / first.flow[0]).toBeGreaterThan(1.05 - 1e-9);
    expect(second.flow[0] / first.flow[0]).toBeLessThan(1.055);
    expect(first.flowUncertainty[0] / first.flow[0]).toBeCloseTo(0.02, 9);
  });

  it('thinner air outside: higher pressure ratio and more corrected flow for the same air', () => {
    const [low] = pointsOf([seen({ airFlow: 0.2 })]);
    const [high] = pointsOf([seen({ airFlow: 0.2, ambientPressure: 70e3 })]);
    expect(high.pressureRatio[0]).toBeGreaterThan(low.pressureRatio[0] * 1.2);
    expect(high.flow[0]).toBeGreaterThan(low.flow[0] * 1.2);
    expect(low.pressureRatioUncertainty[0]).toBeGreaterThan(0.01);
    expect(low.pressureRatioUncertainty[0]).toBeLessThan(0.2);
  });
});

describe('gas and inertia over crank angle', () => {
  const picture = crankPictureOf(foresight, { manifoldPressure: 200e3 }, 6500 * RPM);
  if (!picture.ok) throw new Error(picture.refusal.message);
  const { angle, gas, inertia, rod, side, peak, pressure } = picture.value;

  it('together they are the force along the rod and on the wall: F² = rod² − side²', () => {
    for (let i = 0; i < angle.length; i += 37) {
      expect(Math.abs(gas[i] + inertia[i])).toBeCloseTo(Math.sqrt(Math.max(0, rod[i] ** 2 - side[i] ** 2)), 3);
    }
  });

  it('inertia does no work over a cycle, and its pull at top dead centre is the largest', () => {
    const middle = inertia.reduce((sum, value) => sum + value, 0) / inertia.length;
    expect(Math.abs(middle)).toBeLessThan(1e-6 * Math.abs(inertia[0]));
    expect(Math.min(...inertia)).toBeCloseTo(inertia[0], 6);
  });

  it('the peak is the highest sample', () => {
    expect(peak.pressure).toBe(Math.max(...pressure));
  });
});

it('the same step at the same speeds is foretold once, another one anew', () => {
  const { predict } = foresightOf(foresight.model);
  const speeds = Float64Array.of(5000 * RPM);
  const first = predict({ manifoldPressure: 200e3 }, speeds);
  expect(predict({ manifoldPressure: 200e3 }, Float64Array.of(5000 * RPM))).toBe(first);
  const more = predict({ manifoldPressure: 210e3 }, speeds);
  expect(more.lines['engine torque'].value[0]).toBeGreaterThan(first.lines['engine torque'].value[0]);
});
