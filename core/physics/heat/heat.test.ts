import { describe, expect, it } from 'vitest';
import { randomSource } from '../../numerics/index.ts';
import { duration, measured, temperature, temperatureDifference } from '../../quantities/index.ts';
import { decayFit } from './decay-fit.ts';
import { lumpTemperature, soakAfter, timeToTemperature } from './first-order.ts';
import { waitFor } from './wait-for.ts';

const LUMP = { start: temperature(380), end: temperature(300), timeConstant: duration(240) };

describe('one lump of heat', () => {
  it('has 1/e of its distance left after one time constant', () => {
    expect(lumpTemperature(LUMP, duration(240))).toBeCloseTo(300 + 80 / Math.E, 9);
    expect(lumpTemperature(LUMP, duration(0))).toBe(380);
  });

  it('reaches a temperature when its inverse says so (identity), cooling and warming', () => {
    const t = timeToTemperature(LUMP, temperature(320));
    expect(lumpTemperature(LUMP, t)).toBeCloseTo(320, 9);
    const warming = { ...LUMP, start: temperature(290) };
    expect(lumpTemperature(warming, timeToTemperature(warming, temperature(299)))).toBeCloseTo(299, 9);
  });

  it('never gets to its end or beyond, and is already past what lies behind', () => {
    expect(timeToTemperature(LUMP, temperature(300))).toBe(Number.POSITIVE_INFINITY);
    expect(timeToTemperature(LUMP, temperature(290))).toBe(Number.POSITIVE_INFINITY);
    expect(timeToTemperature(LUMP, temperature(390))).toBe(0);
  });

  it('soaks at the heating rate first and settles at rate times constant; recovery is the same without load', () => {
    const soak = { rise: temperatureDifference(0), heating: 0.25, timeConstant: duration(240) };
    expect(soakAfter(soak, duration(0.1))).toBeCloseTo(0.025, 4);
    expect(soakAfter(soak, duration(1e6))).toBeCloseTo(60, 9);
    expect(soakAfter({ ...soak, rise: temperatureDifference(10), heating: 0 }, duration(240))).toBeCloseTo(
      10 / Math.E,
      9,
    );
    // two steps are one (identity)
    const half = soakAfter(soak, duration(50));
    expect(soakAfter({ ...soak, rise: half }, duration(50))).toBeCloseTo(soakAfter(soak, duration(100)), 9);
  });
});

describe('a decay', () => {
  const times = Float64Array.from({ length: 120 }, (_, i) => i * 2);
  const decay = (tau: number, noise = 0, seed = 1) => {
    const random = randomSource(seed);
    return times.map((t) => 300 + 80 * Math.exp(-t / tau) + noise * random.normal());
  };

  it('without noise gives back its constants', () => {
    const found = decayFit({ times, temperatures: decay(240) });
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(found.value.timeConstant.value).toBeCloseTo(240, 3);
    expect(found.value.end.value).toBeCloseTo(300, 3);
    expect(found.value.temperature.value).toBeCloseTo(300 + 80 * Math.exp(-238 / 240), 4);
    expect(found.findings.map(({ kind }) => kind)).toEqual(['decay-short']);
  });

  it('tells the wait with an uncertainty that covers the truth about as often as it says', () => {
    let within = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const found = decayFit({ times, temperatures: decay(150, 0.4, seed), end: measured(300, 0.5) });
      if (!found.ok) throw new Error(found.refusal.kind);
      const wait = waitFor(found.value, 310);
      if (!wait.ok) throw new Error(wait.refusal.kind);
      const truth = 150 * Math.log(8) - 238;
      if (Math.abs(wait.value.value - truth) <= 2 * wait.value.standardUncertainty) within++;
    }
    expect(within).toBeGreaterThan(180);
    expect(within).toBeLessThanOrEqual(200);
  });

  it('tells no more than it knows where its noise is slow: neighbouring samples alike by 0.8', () => {
    let within = 0;
    let answers = 0;
    for (let seed = 1; seed <= 150; seed++) {
      const random = randomSource(seed);
      let slow = 0;
      const temperatures = times.map((t) => {
        slow = 0.8 * slow + 0.6 * 0.4 * random.normal();
        return 300 + 60 * Math.exp(-t / 120) + slow;
      });
      const found = decayFit({ times, temperatures, end: measured(300 + 0.5 * random.normal(), 0.5) });
      if (!found.ok) continue;
      const wait = waitFor(found.value, 304);
      if (!wait.ok) continue;
      answers++;
      const truth = 120 * Math.log(15) - 238;
      if (Math.abs(wait.value.value - truth) <= 2 * wait.value.standardUncertainty) within++;
    }
    expect(answers).toBeGreaterThan(140);
    expect(within / answers).toBeGreaterThan(0.88);
  });

  it('that warms is as good as one that cools', () => {
    const temperatures = times.map((t) => 360 - 60 * Math.exp(-t / 100));
    const found = decayFit({ times, temperatures });
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(found.value.timeConstant.value).toBeCloseTo(100, 3);
    const wait = waitFor(found.value, 359);
    expect(wait.ok && wait.value.value).toBeCloseTo(100 * Math.log(60) - 238, 2);
  });

  it('needs no wait for what is passed, and refuses what is never reached', () => {
    const found = decayFit({ times, temperatures: decay(240, 0.2), end: measured(300, 1) });
    if (!found.ok) throw new Error(found.refusal.kind);
    expect(waitFor(found.value, 350)).toMatchObject({ ok: true, value: { value: 0 } });
    const nearEnd = found.value.end.value + 1.5 * found.value.end.standardUncertainty;
    expect(waitFor(found.value, nearEnd)).toMatchObject({ ok: false, refusal: { kind: 'never-reached' } });
    expect(waitFor(found.value, 295)).toMatchObject({ ok: false, refusal: { kind: 'never-reached' } });
  });

  it('leaves out missing samples and refuses when too few are left', () => {
    const holed = decay(240).map((T, i) => (i % 3 === 0 ? Number.NaN : T));
    const found = decayFit({ times, temperatures: holed });
    expect(found.ok && found.value.timeConstant.value).toBeCloseTo(240, 3);
    const few = decay(240).map((T, i) => (i < 113 ? Number.NaN : T));
    expect(decayFit({ times, temperatures: few })).toMatchObject({
      refusal: { kind: 'decay-too-few-samples', numbers: { samples: 7 } },
    });
    expect(decayFit({ times, temperatures: times.map(() => Number.NaN) })).toMatchObject({ ok: false });
  });

  it('is not seen in noise, nor told from a piece that is straight', () => {
    const random = randomSource(3);
    const flat = times.map(() => 350 + random.normal());
    expect(decayFit({ times, temperatures: flat })).toMatchObject({ refusal: { kind: 'no-decay-seen' } });
    expect(decayFit({ times, temperatures: times.map(() => 350) })).toMatchObject({
      refusal: { kind: 'no-decay-seen' },
    });
    const straight = decay(20000, 0.1, 5);
    expect(decayFit({ times, temperatures: straight })).toMatchObject({ ok: false });
  });

  it('without a known end is far less sure than with it', () => {
    const temperatures = decay(400, 0.3, 7);
    const free = decayFit({ times, temperatures });
    const held = decayFit({ times, temperatures, end: measured(300, 0.5) });
    if (!held.ok) throw new Error(held.refusal.kind);
    const spread = free.ok ? free.value.timeConstant.standardUncertainty : Number.POSITIVE_INFINITY;
    expect(held.value.timeConstant.standardUncertainty).toBeLessThan(spread / 3);
  });
});
