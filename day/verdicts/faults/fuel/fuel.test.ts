import { expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, injectorsFull, leans, limiter, pumpStarves, richens, syncLoss } from '../../testing/faults.ts';
import type { Invented, Moment } from '../../testing/invented-pull.ts';
import { fuelPressureDrop } from './fuel-pressure-drop.ts';
import { injectorSaturation } from './injector-saturation.ts';
import { leanMixture, richMixture } from './mixture.ts';

behaves({
  detector: fuelPressureDrop,
  fault: pumpStarves(),
  below: pumpStarves(0.035),
  lookAlikes: { 'full injectors': injectorsFull(), 'a lean mixture': leans(), breakup: breakup() },
  rates: [20, 100, 1000],
  span: [6, 10],
});

behaves({
  detector: injectorSaturation,
  fault: injectorsFull(),
  below: injectorsFull(0.84),
  lookAlikes: { 'a starving pump': pumpStarves(), 'a lean mixture': leans() },
  rates: [20, 100, 1000],
});

it('sees injectors without reserve, also on an engine that always ran there, and leaves some reserve alone', () => {
  const upTo =
    (most: number) =>
    (value: number, { full, place }: Moment): number =>
      full ? Math.min(most, 0.3 + 0.8 * place) : value;
  const near = { change: { 'injector-duty': upTo(0.91) } };
  expect(detected(injectorSaturation, { ...near, references: [near, near] }).answer).toBe('seen');
  expect(detected(injectorSaturation, { change: { 'injector-duty': upTo(0.87) } }).answer).toBe('not seen');
  // Open all the time there is nothing left for the next pull.
  const stop = (most: number) => detected(injectorSaturation, { change: { 'injector-duty': upTo(most) } }).stopClass;
  expect([0.95, 1.05].map(stop)).toEqual([1, 2]);
});

it('does not blame injectors for a mixture that was lean before they were near their end', () => {
  const pull = (leanFrom: number): Invented => ({
    change: {
      'injector-duty': (value, { full, place }) => (full ? Math.min(0.87, 0.3 + 0.8 * place) : value),
      lambda: (value, { t, full }) => value + (full && t > leanFrom ? 0.06 : 0),
    },
  });
  // Duty passes 0.85 at 0.55/0.8 of the pull.
  expect(detected(injectorSaturation, pull(7.5)).answer).toBe('seen');
  expect(detected(injectorSaturation, pull(4)).answer).toBe('not seen');
});

it('does not take a sensor that is gone for a moment for fuel pressure that falls', () => {
  const gone = (t: number): boolean => [3, 5, 7].some((from) => t > from && t < from + 0.5);
  const change = { 'fuel-pressure-difference': (value: number, { t }: { t: number }) => (gone(t) ? 0 : value) };
  expect(detected(fuelPressureDrop, { change }).answer).toBe('not seen');
});

it('holds a filter that takes its share from the first moment on against the pressure before, less what a regulator gives up', () => {
  const atLoad = (share: number): Invented => ({
    change: { 'fuel-pressure-difference': (value, { full }) => value * (full ? 1 - share : 1) },
  });
  const [clogged, regulator, both] = [atLoad(0.07), atLoad(0.03), atLoad(0.1)];
  expect(detected(fuelPressureDrop, { ...clogged, references: [{}, {}] })).toMatchObject({
    answer: 'seen',
    stopClass: 2,
  });
  expect(detected(fuelPressureDrop, { ...both, references: [regulator, regulator] }).answer).toBe('seen');
  expect(detected(fuelPressureDrop, { ...clogged, references: [clogged, clogged] }).answer).toBe('not seen');
  expect(detected(fuelPressureDrop, clogged).answer).toBe('not seen');
});

it('does not blame injectors for a mixture that reads lean since firings failed before they were near their end', () => {
  const pull = (roughFrom: number): Invented => ({
    change: {
      'brake-force': (value, { t, full }) =>
        value * (full && t > roughFrom ? 1 - 0.2 * Number(Math.sin(40 * t) * Math.sin(17 * t + 1) > 0.4) : 1),
      'injector-duty': (value, { full, place }) => (full ? Math.min(0.87, 0.3 + 0.8 * place) : value),
      lambda: (value, { t, full }) => value + (full && t > 7.5 ? 0.06 : 0),
    },
  });
  // Duty passes 0.85 at 0.55/0.8 of the pull.
  expect(detected(injectorSaturation, pull(7.5)).answer).toBe('seen');
  expect(detected(injectorSaturation, pull(5)).answer).toBe('not seen');
});

behaves({
  detector: leanMixture,
  fault: leans(),
  below: leans(0.03),
  lookAlikes: { breakup: breakup(), 'lost sync': syncLoss(), 'a limiter': limiter(), 'a rich mixture': richens() },
  rates: [10, 100, 1000],
  span: [5, 10],
});

behaves({
  detector: richMixture,
  fault: richens(),
  below: richens(0.05),
  lookAlikes: { breakup: breakup(), 'a lean mixture': leans() },
  rates: [10, 100, 1000],
  span: [5, 10],
});

it('takes a lambda that leans as the drive breaks off by far more than a mixture takes for charge that did not burn', () => {
  const leansWith = (fall: number): Invented => ({
    change: {
      lambda: (value, { t, full }) => value + (full && t > 7 ? 0.08 : 0),
      'brake-force': (value, { t, full }) => value * (full && t > 6.9 ? 1 - fall : 1),
    },
  });
  expect(detected(leanMixture, leansWith(0)).answer).toBe('seen');
  expect(detected(leanMixture, leansWith(0.02)).answer).toBe('seen');
  expect(detected(leanMixture, leansWith(0.15)).answer).toBe('not seen');
});
