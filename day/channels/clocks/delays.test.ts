import { describe, expect, it } from 'vitest';
import { delayAt, measuredLambdaDelay, SENSOR_DELAYS, undelayed, usualDelay } from './delays.ts';
import { column } from './invented-pair.ts';
import type { ClockedChannel } from './join.ts';

function track(
  meaning: 'lambda' | 'engine-speed' | 'injector-pulse',
  rate: number,
  value: (t: number) => number,
): ClockedChannel {
  const times = Float64Array.from({ length: 20 * rate }, (_, i) => i / rate);
  return {
    channel: column(meaning, times.map(value), rate),
    times,
    pieces: [{ from: 0, to: times.length }],
    file: 'a',
  };
}

const lambdaPrior = usualDelay('lambda');
if (!lambdaPrior) throw new Error('no prior for lambda');

describe('sensor delays', () => {
  it('lambda tells later at low engine speed, within what practice states (50–400 ms transport)', () => {
    const slow = delayAt(lambdaPrior, 105) - lambdaPrior.lag;
    const fast = delayAt(lambdaPrior, 730) - lambdaPrior.lag;
    expect(slow).toBeGreaterThan(fast);
    expect(slow).toBeLessThan(0.5);
    expect(fast).toBeGreaterThan(0.05);
  });

  it('every prior says where it comes from and how unsure it is', () => {
    for (const delay of SENSOR_DELAYS) {
      expect(delay.origin).toContain('practice');
      expect(delay.uncertainty).toBeGreaterThan(0);
    }
    expect(usualDelay('manifold-pressure')).toBeUndefined();
  });

  it('moves times, never values, and keeps them increasing', () => {
    const rpm = track('engine-speed', 50, (t) => 300 + 20 * t);
    const lambda = track('lambda', 50, (t) => 0.8 + 0.001 * t);
    const moved = undelayed(lambda, lambdaPrior, rpm);
    expect(moved.channel).toBe(lambda.channel);
    expect(lambda.times[100] - moved.times[100]).toBeCloseTo(delayAt(lambdaPrior, 340), 6);
    for (let i = 1; i < moved.times.length; i++) expect(moved.times[i]).toBeGreaterThan(moved.times[i - 1]);
  });

  it.each([
    [30, 0.05],
    [60, 0.05],
    [90, 0.03],
  ])('measures a travel of %d rad at fuel cuts', (travel, lag) => {
    const cutTimes = [5, 10, 15];
    const speed = 420;
    const rpm = track('engine-speed', 100, () => speed);
    const isCut = (t: number) => cutTimes.some((cut) => t >= cut && t < cut + 1.5);
    const pulse = track('injector-pulse', 100, (t) => (isCut(t) ? 0 : 0.012));
    const late = 0.03 + travel / speed;
    const lambda = track('lambda', 50, (t) => {
      const since = cutTimes.map((cut) => t - cut - late).find((x) => x >= 0 && x < 1.5);
      return since === undefined ? 0.85 : 0.85 + 0.6 * (1 - Math.exp(-since / lag));
    });
    const measured = measuredLambdaDelay({ lambda, engineSpeed: rpm, command: pulse }, { ...lambdaPrior, lag });
    expect(measured.origin).toContain('3 fuel cuts');
    expect(Math.abs(measured.travel - travel) / speed).toBeLessThan(0.025);
  });

  it('keeps the prior where lambda does not answer, or nothing is cut', () => {
    const rpm = track('engine-speed', 100, () => 420);
    const flat = track('lambda', 50, () => 0.85);
    const cut = track('injector-pulse', 100, (t) => (t > 5 && t < 7 ? 0 : 0.012));
    const busy = track('injector-pulse', 100, () => 0.012);
    for (const command of [cut, busy]) {
      expect(measuredLambdaDelay({ lambda: flat, engineSpeed: rpm, command }, lambdaPrior)).toBe(lambdaPrior);
    }
  });
});
