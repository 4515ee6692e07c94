import { expect, test } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { measured, toSi, unitOf } from '../../../core/quantities/index.ts';
import type { Alignment, Channel } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import { type PullQuestion, pullPower } from './pull-power.ts';

const RPM = toSi(1, unitOf('rpm'));
const RATIO = 13.34;

interface Made {
  readonly rate?: number;
  readonly noise?: boolean;
  readonly gap?: boolean;
  readonly slip?: number;
}

/** A car at 400 rpm/s whose crank makes 400 N·m at every speed; force, speed and engine speed computed forwards in closed form. */
function question({ rate = 50, noise = false, gap = false, slip = 0.02 }: Made): PullQuestion {
  const random = randomSource(5);
  const jitter = (size: number): number => (noise ? size * random.normal() : 0);
  const count = 10 * rate;
  const times = Float64Array.from({ length: count }, (_, i) => i / rate + (gap && i > count / 2 ? 0.84 : 0));
  const omega = (t: number): number => (3000 + 400 * t) * RPM;
  const alpha = 400 * RPM;
  const v = (t: number): number => omega(t) / (RATIO * (1 + slip));
  const a = alpha / (RATIO * (1 + slip));
  const force = (t: number): number => {
    const wheel = (400 - 0.16 * alpha) * (1 - 0.055) * RATIO;
    return wheel - 24 * a * (1 + slip) - (180 + 3.2 * v(t)) - 450 * a;
  };
  const half = Math.floor(count / 2) + 1;
  const pieces = gap
    ? [
        { from: 0, to: half },
        { from: half, to: count },
      ]
    : [{ from: 0, to: count }];
  const side: RollSide = {
    times,
    pieces,
    speed: times.map((t) => v(t) + jitter(0.004)),
    force: times.map((t) => force(t) + jitter(14)),
    forceKind: 'brake',
    setting: undefined,
    mass: measured(450, 4.5),
    massOrigin: 'stated',
    refreshRate: rate,
    findings: [],
  };
  const segment = {
    kind: 'full-load' as const,
    from: 0,
    to: count,
    fromTime: 0,
    toTime: times[count - 1],
    lowSpeed: v(0),
    highSpeed: v(10),
    ratio: RATIO,
    gear: 1,
    reason: 'test',
  };
  return {
    sources: {
      side,
      segment,
      engine: engineTrack(
        times.map((t) => omega(t) + jitter(4 * RPM)),
        times,
        pieces,
      ),
      alignment: SAME,
      reference: { ratio: RATIO, growth: 0, spread: 0.001, growthSpread: 0, origin: 'test' },
      bandwidth: 1.5,
    },
    zero: { zero: measured(0, 3), origin: 'test', own: true, findings: [] },
    facts: {
      vehicle: {
        tyreRadius: measured(0.33, 0),
        wheelInertia: measured(24 * 0.33 ** 2, 0.2),
        torqueLoss: measured(0.055, 0.005),
      },
      engine: { inertia: measured(0.16, 0.016) },
      roller: {},
    },
    losses: { force: (speed) => 180 + 3.2 * speed, spread: () => 3, coastMass: 474, origin: 'test', findings: [] },
    factor: { rule: 'none', factor: 1, standardUncertainty: 0, valid: true, why: '' },
  };
}

const SAME: Alignment = {
  clock: 'a',
  other: 'a',
  pieces: [{ from: 0, to: 12, offset: 0, rate: 0, offsetUncertainty: 0, rateUncertainty: 0, residual: 0, lags: [] }],
  correlation: 1,
  second: undefined,
  by: 'same clock',
};

function engineTrack(samples: Float64Array, times: Float64Array, pieces: Track['pieces']): Track {
  const channel: Channel = {
    name: 'rpm',
    meaning: 'engine-speed',
    kind: 'engine-speed',
    samples,
    mask: new Uint8Array(samples.length),
    refreshRate: 50,
    origin: 'measured',
  };
  return { channel, times, pieces, file: 'test' };
}

test('a quiet pull gives back 400 N·m at every point, at 20 Hz as at 200 Hz', () => {
  for (const rate of [20, 50, 200]) {
    const { curve } = pullPower(question({ rate }));
    curve.enginePower.forEach((power, i) => {
      if (curve.valid[i]) expect(power / curve.engineSpeed[i] / 400).toBeCloseTo(1, 2);
    });
    expect(curve.valid.filter((ok) => ok === 1).length).toBeGreaterThan(70);
  }
});

test('with noise the truth lies inside two standard uncertainties nearly everywhere', () => {
  const { curve } = pullPower(question({ noise: true }));
  let inside = 0;
  let known = 0;
  curve.enginePower.forEach((power, i) => {
    if (!curve.valid[i]) return;
    known++;
    if (Math.abs(power - 400 * curve.engineSpeed[i]) < 2 * curve.enginePowerUncertainty[i]) inside++;
  });
  expect(inside / known).toBeGreaterThan(0.95);
});

test('nothing is claimed inside a gap of 0.84 s', () => {
  const { curve } = pullPower(question({ gap: true }));
  const around = curve.engineSpeed.map((w) => w / RPM);
  expect(around.some((speed, i) => curve.valid[i] === 1 && speed > 5060 && speed < 5300)).toBe(false);
  expect(curve.valid.includes(0)).toBe(true);
});

test('the budget names every stated input and adds up to the band at its point', () => {
  const { budget, peaks } = pullPower(question({ noise: true }));
  const engine = peaks.find(({ what }) => what === 'engine power');
  const sum = Math.hypot(...budget.map((line) => line.engine));
  expect(sum / (engine?.standardUncertainty ?? Number.NaN)).toBeCloseTo(1, 3);
  expect(budget.map(({ name }) => name)).toContain('equivalent mass of the rolls');
});

test('without a coast-down wheel power is claimed and engine power is not', () => {
  const { curve, peaks } = pullPower({ ...question({}), losses: undefined });
  expect(peaks.some(({ what }) => what === 'wheel power')).toBe(true);
  expect(peaks.some(({ what }) => what === 'engine power')).toBe(false);
  expect(curve.missing.join()).toContain('coast-down');
});

test('slip that cannot be seen is taken as 1.5 ± 0.8 %, and said so', () => {
  const asked = question({});
  const { curve, budget } = pullPower({ ...asked, sources: { ...asked.sources, reference: undefined } });
  expect(curve.slip[5]).toBeCloseTo(0.015, 9);
  const line = budget.find(({ name }) => name === 'slip reference');
  expect((line?.tyre ?? 0) / (curve.rollPower.at(-5) ?? 1)).toBeCloseTo(0.008, 3);
  expect(curve.missing.join()).toContain('slip cannot be seen');
});
