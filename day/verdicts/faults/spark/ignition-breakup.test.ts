import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  breakup,
  knocking,
  limiter,
  oscillation,
  overshoot,
  pumpStarves,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { surge } from '../charge-air/surge.ts';
import { ignitionBreakup } from './ignition-breakup.ts';

behaves({
  detector: ignitionBreakup,
  fault: breakup(),
  below: breakup(0.03),
  lookAlikes: {
    'tyre slip': tyreSlip(),
    'lost sync': syncLoss(),
    'a limiter': limiter(),
    'boost oscillation': oscillation(),
    'boost overshoot': overshoot(),
    'a starving pump': pumpStarves(),
    'knock retard': knocking(),
  },
  span: [6, 8.7],
});

describe('ignition-breakup', () => {
  const flutter = (value: number, { t }: { t: number }): number =>
    value * (1 + (t > 0 && t < 10 ? 0.016 * Math.sin(2 * Math.PI * 7.3 * t) * Math.sin(19 * t) : 0));
  const faint = (lambda: boolean): Invented => {
    const { 'brake-force': notch = (value: number) => value, lambda: lean = (value: number) => value } =
      breakup(0.055).change ?? {};
    return {
      change: {
        'brake-force': (value, moment) => flutter(notch(value, moment), moment),
        lambda: (value, moment) => (lambda ? lean(lean(lean(value, moment), moment), moment) : value),
      },
    };
  };

  it('is seen in faint bursts when lambda swings lean behind each of them', () => {
    const found = detected(ignitionBreakup, faint(true));
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it('is silent on the same roughness with an even lambda', () => {
    const found = detected(ignitionBreakup, faint(false));
    expect(found.answer, JSON.stringify(found.features)).not.toBe('seen');
  });

  it('is seen by lambda alone where the drive shakes as much, and measures the firings that did not burn', () => {
    const single = (value: number, { t }: { t: number }): number =>
      [4, 5.5, 7, 7.4].reduce(
        (sum, at) => sum + (t > at && t < at + 0.3 ? 0.12 * Math.exp((at - t) / 0.06) : 0),
        value,
      );
    const found = detected(ignitionBreakup, {
      change: { lambda: single, 'brake-force': (value, { t }) => value * (1 + 0.05 * Math.sin(2 * Math.PI * 9 * t)) },
    });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    const share = found.features.find(({ name }) => name === 'ignition-breakup.unlit')?.value;
    expect(share).toBeGreaterThan(0.01);
    expect(share).toBeLessThan(0.025);
  });

  it('says that an engine without a spark has none to break up', () => {
    const found = detected(ignitionBreakup, { ...breakup(), engine: { ignition: 'compression', strokesPerCycle: 4 } });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: [] });
    expect(found.why).toContain('no spark');
  });

  it('does not take what came before a mixture that goes rich to stay for firings that did not burn', () => {
    const steps = (value: number, { t, full }: { t: number; full: boolean }): number =>
      full ? [5, 7.5].reduce((left, at) => left - 0.04 * Math.min(1, Math.max(0, (t - at) / 0.1)), value) : value;
    const found = detected(ignitionBreakup, { change: { lambda: steps, 'lambda-target': steps } });
    expect(found.answer, JSON.stringify(found.features)).toBe('not seen');
  });

  it('does not take a mixture that goes lean to stay, or one odd reading, for firings that did not burn', () => {
    const stays = detected(ignitionBreakup, {
      change: { lambda: (value, { t }) => value + 0.06 * Math.min(1, Math.max(0, t - 5) / 0.3) },
    });
    expect(stays.answer).not.toBe('seen');
    const odd = detected(ignitionBreakup, {
      change: { lambda: (value, { t }) => value + ([5, 7].some((at) => t >= at && t < at + 0.015) ? 0.4 : 0) },
    });
    expect(odd.answer, JSON.stringify(odd.features)).not.toBe('seen');
  });

  it('does not take the end of a swing from tip-in for firings that did not burn', () => {
    // Without lambda the drive alone tells; the swing lasts a little longer than in the earlier pulls.
    const low = (from: number, to: number): Invented => ({
      ...{ without: ['lambda'], rate: 45, references: [{ rate: 45 }, { rate: 45 }] },
      change: { 'brake-force': (value, { t }) => value * (t > from && t < to ? 0.5 : 1) },
    });
    expect(detected(ignitionBreakup, low(0.5, 1.05)).answer).toBe('not seen');
    expect(detected(ignitionBreakup, low(5.5, 5.65)).answer).toBe('seen');
  });

  it('is not what surging air does to the drive', () => {
    const shakes = (air: number): Invented => ({
      without: ['lambda'],
      change: {
        ...breakup().change,
        'boost-pressure': (value, { t }) => value * (1 + (t > 5 && t < 9.5 ? air * Math.sin(2 * Math.PI * 9 * t) : 0)),
      },
    });
    expect(detected(surge, shakes(0.12)).answer).toBe('seen');
    expect(detected(ignitionBreakup, shakes(0.12)).answer).toBe('not seen');
    expect(detected(ignitionBreakup, shakes(0)).answer).toBe('seen');
  });
});
