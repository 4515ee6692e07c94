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
      reference: {
        ratio: RATIO,
        growth: 0,
        spread: 0.001,
        growthSpread: 0,
        creep: 6e-6,
        creepSpread: 3e-6,
        origin: 'test',
      },
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
    losses: {
      force: (speed) => 180 + 3.2 * speed,
      spread: () => 3,
      coastMass: 474,
      origin: 'test',
      key: 'test',
      findings: [],
    },
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

test('what happens after the end of the pull does not reach into its curve', () => {
  const asked = question({});
  const { side, segment } = asked.sources;
  const end = segment.to - 20;
  const braked = side.force?.map((force, i) => (i < end ? force : force + 4000));
  const slowed = side.speed.map((speed, i) => (i < end ? speed : speed - 0.15 * (i - end)));
  const { curve, peaks } = pullPower({
    ...asked,
    sources: {
      ...asked.sources,
      side: { ...side, speed: slowed, ...(braked && { force: braked }) },
      segment: { ...segment, to: end, toTime: side.times[end - 1] },
    },
  });
  curve.enginePower.forEach((power, i) => {
    if (curve.valid[i]) expect(power / curve.engineSpeed[i] / 400).toBeCloseTo(1, 2);
  });
  const roll = peaks.find(({ what, basis }) => what === 'roll power' && basis === 'curve');
  expect(roll?.time).toBeLessThanOrEqual(side.times[end - 1]);
});

test('a converter leaves wheel power and takes engine power away, and says so', () => {
  const asked = question({});
  const vehicle = { ...asked.facts.vehicle, transmission: 'converter' as const };
  const { curve, peaks } = pullPower({ ...asked, facts: { ...asked.facts, vehicle } });
  expect(peaks.map(({ what }) => what)).toContain('wheel power');
  expect(peaks.map(({ what }) => what)).not.toContain('engine power');
  expect(curve.missing.join()).toContain('converter');
});

test('slip beyond what a tyre does is a doubt and a wider band, unless the transmission is stated as manual', () => {
  const asked = question({ slip: 0.06 });
  const manual = { ...asked.facts.vehicle, transmission: 'manual' as const };
  const unknown = pullPower(asked);
  const stated = pullPower({ ...asked, facts: { ...asked.facts, vehicle: manual } });
  const tyre = (result: typeof unknown): number =>
    result.budget.find(({ name }) => name === 'slip reference')?.tyre ?? 0;
  expect(unknown.findings.map(({ kind }) => kind)).toContain('transmission-not-stated');
  expect(stated.findings.map(({ kind }) => kind)).not.toContain('transmission-not-stated');
  expect(tyre(unknown)).toBeGreaterThan(5 * tyre(stated));
  expect(pullPower(question({ slip: 0.015 })).findings.map(({ kind }) => kind)).not.toContain(
    'transmission-not-stated',
  );
});

test('the band of a corrected power contains the factor’s own uncertainty', () => {
  const factor = { rule: 'SAE J1349', factor: 1.02, standardUncertainty: 0.02, valid: true, why: '' } as const;
  const { peaks } = pullPower({ ...question({}), factor });
  const [engine, corrected] = ['engine power', 'corrected power'].map((name) =>
    peaks.find(({ what }) => what === name),
  );
  const [power, spread] = [engine?.value ?? Number.NaN, engine?.standardUncertainty ?? Number.NaN];
  expect(corrected?.value).toBeCloseTo(1.02 * power, 3);
  expect(corrected?.standardUncertainty).toBeCloseTo(Math.hypot(1.02 * spread, 0.02 * power), 0);
});

test('engine-speed samples that a lost trigger wrote are left out, and the curve is as before', () => {
  const asked = question({});
  const { engine } = asked.sources;
  const lost = engine?.channel.samples.map((speed, i) => (i >= 250 && i < 256 ? 0 : speed));
  const { curve, findings } = pullPower({
    ...asked,
    sources: {
      ...asked.sources,
      engine: engine && lost && { ...engine, channel: { ...engine.channel, samples: lost } },
    },
  });
  expect(findings.map(({ kind }) => kind)).toContain('engine-speed-leaps');
  curve.enginePower.forEach((power, i) => {
    if (curve.valid[i]) expect(power / curve.engineSpeed[i] / 400).toBeCloseTo(1, 1);
  });
});

test('a cut of 0.3 s widens the band beside it and gives no peak; a steady pull has neither', () => {
  const asked = question({ noise: true });
  const { side } = asked.sources;
  const cut = side.force?.map((force, i) => (i >= 250 && i < 265 ? force - 2500 : force));
  const { curve, peaks, findings } = pullPower({
    ...asked,
    sources: { ...asked.sources, side: { ...side, ...(cut && { force: cut }) } },
  });
  const relative = (time: number): number => {
    const at = curve.time.findIndex((t) => t >= time);
    return curve.rollPowerUncertainty[at] / curve.rollPower[at];
  };
  expect(relative(5.6)).toBeGreaterThan(3 * relative(8));
  expect(findings.map(({ kind }) => kind)).toContain('unsteady-power');
  const peak = peaks.find(({ what, basis }) => what === 'roll power' && basis === 'curve');
  expect(peak?.time).toBeGreaterThan(7);
  expect(pullPower(asked).findings.map(({ kind }) => kind)).not.toContain('unsteady-power');
});

test('without an engine log the stated ratio gives engine speed, torque and engine power within the band', () => {
  const asked = question({});
  const { curve, peaks } = pullPower({
    ...asked,
    sources: { ...asked.sources, engine: undefined, reference: undefined, statedRatio: RATIO },
  });
  const peak = peaks.find(({ what }) => what === 'engine power');
  expect(curve.axis).toBe('engine-speed');
  expect(curve.missing.join()).toContain('worked out from roll speed');
  const truth = 400 * (peak?.engineSpeed ?? Number.NaN);
  expect(Math.abs((peak?.value ?? Number.NaN) - truth)).toBeLessThan(2 * (peak?.standardUncertainty ?? 0));
});

test('15 % of slip for a second is a window that counts for no peak, 2.7 % of creep is not', () => {
  const slipping = question({});
  const { engine } = slipping.sources;
  if (!engine) throw new Error('no engine');
  const samples = engine.channel.samples.map((omega, i) => {
    const t = engine.times[i];
    return t > 5 && t < 6.2 ? omega * 1.15 : omega;
  });
  const changed = { ...engine, channel: { ...engine.channel, samples } };
  const { curve, findings } = pullPower({ ...slipping, sources: { ...slipping.sources, engine: changed } });
  expect(findings.map(({ kind }) => kind)).toContain('gross-slip');
  expect(curve.valid.some((ok, i) => ok === 0 && curve.time[i] > 5.3 && curve.time[i] < 5.9)).toBe(true);
  const clean = pullPower(question({ slip: 0.027 }));
  expect(clean.findings.filter(({ kind }) => kind.includes('slip'))).toEqual([]);
});
