import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import {
  breakup,
  clutchSlips,
  limiter,
  lockUpReleases,
  oscillation,
  syncLoss,
  tyreSlip,
} from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { wheelSlip } from './wheel-slip.ts';

behaves({
  detector: wheelSlip,
  fault: tyreSlip(),
  below: tyreSlip(0.012),
  lookAlikes: {
    'a slipping clutch': clutchSlips(),
    breakup: breakup(),
    'lost sync': syncLoss(),
    'a limiter': limiter(),
    'boost oscillation': oscillation(),
    'a converter': lockUpReleases(),
  },
  rates: [10, 50, 100, 1000],
  span: [4, 7],
});

describe('wheel-slip', () => {
  const converter = { facts: { transmission: 'converter' } } as const;

  it('is read from the driven wheels where a converter slips anyway', () => {
    const found = detected(wheelSlip, { ...tyreSlip(0.02), ...converter, references: [converter, converter] });
    expect(found.answer, found.why).toBe('seen');
    expect(found.windows[0].from).toBeGreaterThan(7);
  });

  it('is as grave as it may be where the clocks fit badly: they take a long slip for a lag', () => {
    const lags = [4, 6, 8].map((time) => ({ time: time + 3, lag: time === 6 ? -0.15 : 0.02 }));
    const slips = { ...tyreSlip(0.045), references: [{}, {}] };
    expect(detected(wheelSlip, slips)).toMatchObject({ answer: 'seen', stopClass: 1 });
    expect(detected(wheelSlip, { ...slips, clock: { lags } })).toMatchObject({ answer: 'seen', stopClass: 2 });
  });

  it('asks for the driven wheels behind a converter', () => {
    const found = detected(wheelSlip, { ...tyreSlip(0.02), ...converter, without: ['wheel-speed'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['wheel-speed'] });
  });

  it('is seen at the customary size against earlier pulls although the clocks are unsure', () => {
    const unsure = { clock: { offsetUncertainty: 0.05 } };
    const day = { ...tyreSlip(0.015), ...unsure, references: [unsure, unsure] };
    expect(detected(wheelSlip, day).answer).toBe('seen');
    expect(detected(wheelSlip, { ...day, ...tyreSlip(0.006) }).answer).toBe('not seen');
  });

  it('is seen in a pull that slips so much that it has no ratio of its own, with an earlier pull’s', () => {
    const whole: Invented = {
      change: {
        'engine-speed': (value, { full }) => value * (full ? 1.07 : 1),
        'wheel-speed@driven left': (value, { full }) => value * (full ? 1.07 : 1),
      },
      gearless: true,
      references: [{}, {}],
    };
    expect(detected(wheelSlip, whole).answer).toBe('seen');
    expect(detected(wheelSlip, { ...whole, references: [] }).answer).toBe('cannot tell');
    const shifted: Invented = { change: { 'engine-speed': (value, { t }) => value * (t > 5 ? 0.75 : 1) } };
    const byEngine = { ...whole, ...shifted, without: ['wheel-speed'] } as const;
    expect(detected(wheelSlip, byEngine).answer).toBe('cannot tell');
  });
});
