import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, deafKnock, knocking, limiter } from '../../testing/faults.ts';
import { preIgnition } from './pre-ignition.ts';

behaves({
  detector: preIgnition,
  fault: deafKnock(),
  below: deafKnock(0, true),
  lookAlikes: { 'knock that retard answers': knocking(), breakup: breakup(), 'a limiter': limiter() },
  span: [3, 5],
});

describe('pre-ignition', () => {
  it('ends the day', () => {
    expect(detected(preIgnition, deafKnock()).stopClass).toBe(3);
  });

  it('is not knock that five degrees did not end, while the exhaust stays as hot', () => {
    expect(detected(preIgnition, deafKnock(0)).answer).toBe('not seen');
  });

  // Cooling counts from 15 K on (its threshold), and hints from a third of that on: 5 K. Below, five degrees may just not have been enough.
  it.each([
    [3.5, 'not seen'],
    [7.5, 'seen'],
  ])('exhaust cooler than in the other pulls by %f K is a hint from 5 K on: %s', (kelvin, answer) => {
    const found = detected(preIgnition, { ...deafKnock(kelvin), references: [{}, {}] });
    const cooling = found.features.find(({ name }) => name === 'pre-ignition.cooling')?.value ?? Number.NaN;
    expect(Math.abs(cooling - kelvin)).toBeLessThan(1);
    expect(found.answer).toBe(answer);
  });

  it('is one violent event on one cylinder at low speed', () => {
    const violent = {
      change: { 'knock-level@cylinder 2': (v: number, { t }: { t: number }) => v * (t > 2 && t < 2.03 ? 9 : 1) },
    };
    expect(detected(preIgnition, violent).answer).toBe('seen');
  });

  it('cannot tell whether knock reacts without a retard channel', () => {
    const found = detected(preIgnition, { ...deafKnock(0), without: ['knock-retard'] });
    expect(found).toMatchObject({ answer: 'cannot tell', missing: ['knock-retard'] });
  });

  it('cannot tell from a level that is renewed too slowly', () => {
    expect(detected(preIgnition, { ...deafKnock(), rate: 10 }).answer).toBe('cannot tell');
  });
});
