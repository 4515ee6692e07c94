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
});
