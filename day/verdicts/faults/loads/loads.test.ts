import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  blowBy,
  breakup,
  dragging,
  floating,
  knocking,
  leak,
  lifting,
  limiter,
  oilLow,
  syncLoss,
} from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { crankcasePressure } from './crankcase-pressure.ts';
import { headLift } from './head-lift.ts';
import { oilPressureLow } from './oil-pressure-low.ts';
import { valveFloat } from './valve-float.ts';

behaves({
  detector: crankcasePressure,
  fault: blowBy(),
  below: blowBy(600),
  lookAlikes: { 'low oil pressure': oilLow(), 'boost leak': leak() },
  clean: { references: [{}, {}] },
});

it('sees blow-by that has grown over several pulls, held against the earliest', () => {
  const grown = (pascal: number): Invented => ({ change: { 'crankcase-pressure': (value) => value + pascal } });
  const day = { ...grown(1000), references: [grown(660), grown(330), {}, {}] };
  expect(detected(crankcasePressure, day).answer).toBe('seen');
});

behaves({
  detector: headLift,
  fault: lifting(),
  below: lifting(14e3),
  lookAlikes: { breakup: breakup(), knock: knocking(), 'driveline drag': dragging() },
  rates: [20, 100],
  span: [4, 10.1],
});

behaves({
  detector: oilPressureLow,
  fault: oilLow(),
  below: oilLow(0.08),
  lookAlikes: { 'blow-by': blowBy(), 'driveline drag': dragging() },
  clean: { references: [{}, {}] },
});

behaves({
  detector: valveFloat,
  fault: floating(),
  below: floating(false),
  lookAlikes: { 'a limiter': limiter(), 'lost sync': syncLoss(), breakup: breakup() },
  rates: [100, 1000],
  span: [8, 10],
});

describe('oil-pressure-low', () => {
  it('holds a pressure that falls a little in every pull against the first one', () => {
    const falling = [oilLow(0.1), oilLow(0.05), {}];
    expect(detected(oilPressureLow, { ...oilLow(0.155), references: falling })).toMatchObject({ stopClass: 2 });
    expect(detected(oilPressureLow, { ...oilLow(0.05), references: [oilLow(0.03), {}] }).answer).toBe('not seen');
  });

  it('leaves a first pull alone whose oil was much colder', () => {
    const cold: Invented = {
      change: { 'oil-temperature': (value) => value - 14, 'oil-pressure': (value) => value * 1.33 },
    };
    expect(detected(oilPressureLow, { references: [{}, {}, cold] }).answer).toBe('not seen');
  });
});

describe('valve-float', () => {
  const top = (share: number): Invented => ({
    power: ({ place }) => 1 - (place > 0.8 ? share : 0),
    references: [{}, {}],
  });

  it('is seen where power breaks off from one speed up, although the drive is even', () => {
    const found = detected(valveFloat, top(0.06));
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.windows[0].from - 3).toBeGreaterThan(7);
  });

  it('is seen in a pull that is a little stronger as a whole', () => {
    const found = detected(valveFloat, { ...top(0), power: ({ place }) => 1.013 - (place > 0.8 ? 0.035 : 0) });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it.each([
    ['mixture', { lambda: (value: number, { place }: { place: number }) => value + (place > 0.8 ? 0.2 : 0) }],
    [
      'a slipping tyre',
      { 'engine-speed': (value: number, { place }: { place: number }) => value * (place > 0.8 ? 1.05 : 1) },
    ],
  ])('is not seen where %s explains the loss at the same speeds', (_, change) => {
    expect(detected(valveFloat, { ...top(0.06), change }).answer).not.toBe('seen');
  });

  it('is seen beside a mixture that leans by too little to take as much', () => {
    const leaner = (by: number): Invented => ({
      ...top(0.06),
      change: { lambda: (value, { place }) => value + (place > 0.8 ? by : 0) },
    });
    expect(detected(valveFloat, leaner(0.04)).answer).toBe('seen');
  });

  it('is not seen where power was lost more and more before it, as a restriction or retard takes it', () => {
    const creeping: Invented = {
      power: ({ place }) => 1 - 0.045 * Math.max(0, place) ** 5,
      references: [{}, {}],
    };
    expect(detected(valveFloat, creeping).answer).not.toBe('seen');
  });

  it('is surely seen at its customary size, over the last engine speeds alone', () => {
    const late = { power: ({ place }: { place: number }) => 1 - (place > 0.9 ? 0.03 : 0), references: [{}, {}] };
    const found = detected(valveFloat, late);
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.strength).toBeGreaterThan(0.72);
  });

  it('is less sure where neither mixture nor timing is logged', () => {
    const found = detected(valveFloat, { ...top(0.03), without: ['lambda', 'ignition-timing'] });
    expect(found.strength).toBeLessThan(0.72);
  });

  it('is not seen in power that scatters as much from one speed to the next', () => {
    const scattered = ({ speed, place }: { speed: number; place: number }): number =>
      1 + 0.03 * Math.sin(speed / 2.1) - (place > 0.9 ? 0.025 : 0);
    expect(detected(valveFloat, { power: scattered, references: [{}, {}] }).answer).not.toBe('seen');
  });

  it('is seen beyond what a converter takes that slips from a lower speed on', () => {
    const slipping: Invented = {
      power: ({ place }) => (1 - (place > 0.4 ? 0.03 : 0)) * (1 - (place > 0.85 ? 0.05 : 0)),
      change: { 'engine-speed': (value, { place }) => value * (place > 0.4 ? 1.03 : 1) },
      references: [{}, {}],
    };
    const found = detected(valveFloat, slipping);
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it('is not seen at speeds at which springs hold the valves', () => {
    const early: Invented = { power: ({ place }) => 1 - (place > 0.4 ? 0.06 : 0), references: [{}, {}] };
    const upTo = (redline: number): Invented => ({
      ...early,
      engine: { ignition: 'spark', strokesPerCycle: 4, redline: { value: redline, standardUncertainty: 0 } },
    });
    // The loss begins at 408 rad/s.
    expect(detected(valveFloat, upTo(690)).answer).toBe('not seen');
    expect(detected(valveFloat, upTo(500)).answer).toBe('seen');
  });

  it('is seen by its loss in a rough pull that no pull at another pressure can be held against', () => {
    const rough = floating();
    const alone: Invented = { ...rough, power: ({ place }) => 1 - (place > 0.8 ? 0.08 : 0), references: [{}, {}] };
    expect(detected(valveFloat, alone).answer).toBe('seen');
    expect(detected(valveFloat, { ...rough, references: [{}, {}] }).answer).toBe('cannot tell');
  });

  it('is less sure where lambda swings: firings that do not burn may be a limiter’s', () => {
    const swings = (by: number): Invented => ({
      ...top(0.06),
      change: { lambda: (value, { t, place }) => value + (place > 0.8 ? by * Math.sin(2 * Math.PI * 6 * t) : 0) },
    });
    expect(detected(valveFloat, swings(0)).strength).toBeGreaterThan(0.72);
    expect(detected(valveFloat, swings(0.06))).toMatchObject({ answer: 'seen' });
    expect(detected(valveFloat, swings(0.06)).strength).toBeLessThan(0.6);
  });

  it('is not seen where the drive was rough well before it', () => {
    const shakes = (from: number): Invented => ({
      ...top(0.06),
      change: {
        'brake-force': (value, { t }) =>
          value * (t > from && t < from + 1 ? 1 + 0.12 * Math.sin(2 * Math.PI * 9 * t) * Math.sin(19 * t) : 1),
      },
    });
    expect(detected(valveFloat, shakes(4)).answer).not.toBe('seen');
    expect(detected(valveFloat, shakes(20)).answer).toBe('seen');
  });

  it('is not seen where other pulls end as differently from one another', () => {
    const ending = (share: number): Invented => ({ power: ({ place }) => 1 + (place > 0.9 ? share : 0) });
    const apart = [0.02, -0.015, 0.015, -0.02].map(ending);
    expect(detected(valveFloat, { ...ending(-0.03), references: apart }).answer).not.toBe('seen');
    expect(detected(valveFloat, { ...ending(-0.03), references: apart.map(() => ending(0)) }).answer).toBe('seen');
  });

  it('is not seen where fuel pressure fell at the same speeds', () => {
    const change = {
      'fuel-pressure-difference': (value: number, { place }: { place: number }) => value * (place > 0.8 ? 0.85 : 1),
    };
    expect(detected(valveFloat, { ...top(0.06), change }).answer).not.toBe('seen');
  });

  it('is not seen just below, nor where all speeds are short', () => {
    expect(detected(valveFloat, top(0.015)).answer).not.toBe('seen');
    expect(detected(valveFloat, { power: () => 0.94, references: [{}, {}] }).answer).not.toBe('seen');
  });
});
