import { expect, it } from 'vitest';
import { heldFrom, heldOf, judgedFrom } from './held.ts';
import type { Observation } from './observations.ts';

/** Two pulls: 150 kPa from 260 rad/s on, 200 kPa from 310 rad/s on. */
const points = [
  ...[220, 260, 400, 600, 700].map((speed, i) => point(1, speed, i === 0 ? 120e3 : 150e3)),
  ...[230, 310, 400, 600, 700].map((speed, i) => point(2, speed, i === 0 ? 140e3 : 200e3)),
];

function point(pull: number, speed: number, manifoldPressure: number): Observation {
  const unknown = Number.NaN;
  return {
    ...{
      entry: `${pull}`,
      pull,
      time: 0,
      loadTime: 0,
      chargeSlope: 0,
      speed,
      manifoldPressure,
      torque: unknown,
      torqueNoise: unknown,
    },
    ...{ chargeTemperature: unknown, lambda: unknown, timing: unknown, timingShift: 0, camPhase: unknown },
    ...{ exhaustPressure: unknown, exhaustTemperature: unknown, turboSpeed: unknown, airFlow: unknown },
    ...{ fuelFlow: unknown, injectorDuty: unknown, ambientTemperature: 290, ambientPressure: 95e3, humidityRatio: 0 },
  };
}

it('a pull held its pressure from where it came to it', () => {
  expect(heldOf(points)).toEqual([
    { pressure: 150e3, from: 260 },
    { pressure: 200e3, from: 310 },
  ]);
});

it('more pressure comes later: only pulls near it tell from which speed on', () => {
  const held = heldOf(points);
  expect(heldFrom(held, 150e3)).toBe(260);
  expect(heldFrom(held, 210e3)).toBe(310);
});

it('beyond the highest pressure the highest pulls tell; without a pull every speed counts', () => {
  expect(heldFrom(heldOf(points), 300e3)).toBe(310);
  expect(heldFrom([], 200e3)).toBe(0);
});

it('counts as held from 96 % of the usual pressure, tells of pressures up to a ninth above its own, and is judged 5 % earlier', () => {
  const nearly = [0.955, 0.965, 1, 1, 1].map((share, i) => point(1, 200 + 100 * i, share * 180e3));
  expect(heldOf(nearly)).toEqual([{ pressure: 180e3, from: 300 }]);
  const held = heldOf([...points, ...nearly.map((one) => ({ ...one, pull: 3 }))]);
  // 0.9 of 199 kPa is 179.1, of 201 kPa 180.9
  expect(heldFrom(held, 199e3)).toBe(300);
  expect(heldFrom(held, 201e3)).toBe(310);
  expect(judgedFrom({ held }, 201e3)).toBeCloseTo(0.95 * 310, 12);
});
