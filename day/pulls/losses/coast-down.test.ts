import { expect, test } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { type CoastDown, coastDownLosses, lossForce } from './coast-down.ts';

interface Truth {
  readonly f0: number;
  readonly f1: number;
  readonly f2: number;
  readonly mass: number;
  readonly rate?: number;
  readonly noise?: number;
  readonly to?: number;
}

/** A coast-down from 54 m/s integrated in steps of 1 ms: m·dv/dt = −(F0 + F1·v + F2·v²). */
function coasting({ f0, f1, f2, mass, rate = 50, noise = 0.004, to = 15 }: Truth): CoastDown {
  const random = randomSource(7);
  const speeds: number[] = [];
  let v = 54;
  for (let step = 0; v > to && step < 400_000; step++) {
    if (step % (1000 / rate) === 0) speeds.push(v + noise * random.normal());
    v -= (0.001 * (f0 + f1 * v + f2 * v * v)) / mass;
  }
  const times = Float64Array.from(speeds, (_, i) => i / rate);
  const side: RollSide = {
    times,
    pieces: [{ from: 0, to: speeds.length }],
    speed: Float64Array.from(speeds),
    force: new Float64Array(speeds.length),
    forceKind: 'brake',
    setting: undefined,
    mass: measured(mass, 0),
    massOrigin: 'test',
    refreshRate: rate,
    findings: [],
  };
  return {
    side,
    segment: segmentOf(times, to),
    clutch: 'open',
    forceZero: 0,
    mass: { value: mass, standardUncertainty: 0.01 * mass },
  };
}

function segmentOf(times: Float64Array, lowSpeed: number): Segment {
  const toTime = times[times.length - 1];
  return {
    kind: 'coast-down',
    from: 0,
    to: times.length,
    fromTime: 0,
    toTime,
    lowSpeed,
    highSpeed: 54,
    reason: 'test',
  };
}

test('a straight loss of 180 N + 3.2 N/(m/s)·v is found to 1 %', () => {
  const truth = { f0: 180, f1: 3.2, f2: 0, mass: 474 };
  const fit = coastDownLosses(coasting(truth));
  expect(fit.ok).toBe(true);
  if (!fit.ok) return;
  for (const speed of [18, 33, 50]) expect(lossForce(fit.value, speed) / (180 + 3.2 * speed)).toBeCloseTo(1, 2);
  expect(fit.value.f2.value).toBe(0);
});

test('an air-drag term is found where it is there', () => {
  const fit = coastDownLosses(coasting({ f0: 120, f1: 1.5, f2: 0.4, mass: 1500 }));
  expect(fit.ok && fit.value.f2.value).toBeCloseTo(0.4, 1);
  for (const speed of [18, 33, 50]) {
    expect(fit.ok && lossForce(fit.value, speed) / (120 + 1.5 * speed + 0.4 * speed * speed)).toBeCloseTo(1, 2);
  }
});

test('the stated uncertainty is honest: the truth lies inside two of them at the middle', () => {
  const fit = coastDownLosses(coasting({ f0: 180, f1: 3.2, f2: 0, mass: 474, noise: 0.02 }));
  if (!fit.ok) throw new Error('refused');
  const { speed, force } = fit.value.middle;
  expect(Math.abs(force.value - (180 + 3.2 * speed))).toBeLessThan(2 * force.standardUncertainty + 0.5);
});

test('a coast-down through too little speed is refused with its numbers', () => {
  const fit = coastDownLosses(coasting({ f0: 180, f1: 3.2, f2: 0, mass: 474, to: 47 }));
  expect(!fit.ok && fit.refusal.kind).toBe('coast-down-too-short');
  expect(!fit.ok && fit.refusal.numbers?.highSpeed).toBe(54);
});

test('a constant drag of the brake does not become a loss of the car', () => {
  const truth = coasting({ f0: 180, f1: 3.2, f2: 0, mass: 474 });
  const read = { ...truth, forceZero: 25, side: { ...truth.side, force: truth.side.times.map(() => 25) } };
  const fit = coastDownLosses(read);
  expect(fit.ok && lossForce(fit.value, 33) / (180 + 3.2 * 33)).toBeCloseTo(1, 2);
});
