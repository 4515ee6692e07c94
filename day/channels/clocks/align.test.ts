import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { toSi, unitOf } from '../../../core/quantities/index.ts';
import type { Alignment } from '../alignment.ts';
import type { Recording } from '../channel.ts';
import { alignClocks } from './align.ts';
import { combineRates } from './combine.ts';
import { column, inventedPair, type Leg, ONE_PULL, type PairTruth, recording } from './invented-pair.ts';

/** Clean pull, back to the same speed, and the very same again. */
const TWIN: readonly Leg[] = [
  { seconds: 4, acceleration: 0 },
  { seconds: 20, acceleration: 2.2, until: 46 },
  { seconds: 40, acceleration: -1.6, until: 26 },
  { seconds: 4, acceleration: 0 },
];

function aligned(truth: PairTruth, options = {}): Alignment {
  const { roller, engine } = inventedPair(truth);
  const outcome = alignClocks(roller, engine, options);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusal));
  return outcome.value;
}

/** Error of the mapped time in the middle of a piece [s], and in standard uncertainties. */
function middleError({ pieces }: Alignment, truth: { offset: number; rate: number; moved?: number }, k = 0) {
  const piece = pieces[k];
  const t = (piece.from + piece.to) / 2;
  const error =
    piece.offset + piece.rate * t - (truth.offset + truth.rate * (t + (truth.moved ?? 0)) + (truth.moved ?? 0));
  return { error, z: error / piece.offsetUncertainty };
}

interface Spread {
  readonly rms: number;
  readonly worst: number;
  readonly z: number;
}

function spread(seeds: number, truthOf: (seed: number) => PairTruth): Spread {
  let squares = 0;
  let zs = 0;
  let worst = 0;
  for (let seed = 1; seed <= seeds; seed++) {
    const truth = { offset: 1.2 + ((seed * 0.37) % 8.5), rate: 180e-6, seed, ...truthOf(seed) };
    const { error, z } = middleError(aligned(truth), truth);
    squares += error ** 2;
    zs += z ** 2;
    worst = Math.max(worst, Math.abs(error));
  }
  return { rms: Math.sqrt(squares / seeds), worst, z: Math.sqrt(zs / seeds) };
}

describe('alignClocks finds the offset of one pull', () => {
  // engine noise is white per sample: 0.4 % at 100 Hz, the middle of common practice (0.3–1 %)
  const cases: readonly [string, PairTruth, number][] = [
    ['50/100 Hz, 0.4 % noise', {}, 0.01],
    ['50/100 Hz, 0.2 % noise', { engineNoise: 0.002 }, 0.006],
    ['200/500 Hz', { rollerRate: 200, engineRate: 500 }, 0.007],
    ['10/100 Hz', { rollerRate: 10 }, 0.015],
    ['10/10 Hz', { rollerRate: 10, engineRate: 10 }, 0.03],
    ['tyre slip of 8 % for 2.5 s', { slip: [{ from: 6, to: 8.5, size: 0.08 }] }, 0.01],
    ['small slip of 3 % for 4 s', { slip: [{ from: 5, to: 9, size: 0.03 }] }, 0.01],
    ['strong creep, no growth', { creep: 1e-5, growth: 0 }, 0.008],
    ['weak creep, strong growth', { creep: 3e-6, growth: -7.4e-6 }, 0.018],
    ['no overrun in the log', { rollerTo: 13.5 }, 0.012],
    ['coarse roll speed, 0.5 km/h', { speedStep: 0.5 / 3.6 }, 0.03],
  ];
  it.each(cases)('%s', (_, truth, limit) => {
    const seen = spread(12, () => truth);
    expect(seen.rms).toBeLessThan(limit);
    expect(seen.worst).toBeLessThan(3.5 * limit);
  });

  it('with an uncertainty that 30 seeded trials bear out', () => {
    const { z } = spread(30, (seed) => ({ seed: seed + 300 }));
    expect(z).toBeGreaterThan(0.6);
    expect(z).toBeLessThan(1.4);
  });

  it('when the logs start minutes apart, in either direction', () => {
    for (const offset of [-217.3, 301.9]) {
      const alignment = aligned({ offset });
      expect(Math.abs(middleError(alignment, { offset, rate: 180e-6 }).error)).toBeLessThan(0.03);
    }
  });

  it('when the clutch is opened after the pull', () => {
    const legs = [ONE_PULL[0], ONE_PULL[1], { seconds: 12, acceleration: -1.2, open: true }];
    const alignment = aligned({ legs });
    expect(Math.abs(middleError(alignment, { offset: 3.42, rate: 180e-6 }).error)).toBeLessThan(0.06);
  });

  it('and does not mistake slip for lag: residuals stay small', () => {
    const [piece] = aligned({ slip: [{ from: 6, to: 8.5, size: 0.08 }] }).pieces;
    expect(piece.residual).toBeLessThan(0.02);
    expect(piece.lags.length).toBeGreaterThan(8);
  });

  it('from wheel speed when the engine log has no engine speed', () => {
    const { roller, engine } = inventedPair();
    const [rpm] = engine.channels;
    const wheel = column(
      'wheel-speed',
      rpm.samples.map((w) => w / 13),
      100,
    );
    const outcome = alignClocks(roller, { ...engine, channels: [wheel] });
    expect(outcome.ok && Math.abs(middleError(outcome.value, { offset: 3.42, rate: 180e-6 }).error) < 0.03).toBe(true);
  });

  it('from throttle and force when nothing else is left, and says that it is coarse', () => {
    const { roller, engine } = inventedPair();
    const outcome = alignClocks(roller, {
      ...engine,
      channels: engine.channels.filter(({ meaning }) => meaning === 'throttle'),
    });
    if (!outcome.ok) throw new Error(outcome.refusal.message);
    expect(outcome.findings.map(({ kind }) => kind)).toContain('aligned-by-events');
    expect(Math.abs(outcome.value.pieces[0].offset - 3.42)).toBeLessThan(0.2);
  });
});

describe('alignClocks with several pulls', () => {
  const three: readonly Leg[] = [
    ...ONE_PULL,
    { seconds: 40, acceleration: 0 },
    ...ONE_PULL.map((leg) => ({ ...leg, seconds: leg.seconds * 1.15, acceleration: leg.acceleration / 1.15 })),
    { seconds: 55, acceleration: 0 },
    ...ONE_PULL,
  ];

  it('finds offset and rate of a record with three pulls', () => {
    let squares = 0;
    for (let seed = 1; seed <= 8; seed++) {
      const alignment = aligned({ legs: three, seed });
      squares += (alignment.pieces[0].rate - 180e-6) ** 2;
      expect(Math.abs(middleError(alignment, { offset: 3.42, rate: 180e-6 }).error)).toBeLessThan(0.012);
    }
    expect(Math.sqrt(squares / 8)).toBeLessThan(50e-6);
  });

  it('finds the one pull of a roller log among three of the engine log', () => {
    const alignment = aligned({ legs: three, rollerFrom: 60, rollerTo: 95 });
    expect(Math.abs(middleError(alignment, { offset: 3.42, rate: 180e-6 }).error)).toBeLessThan(0.03);
  });
});

describe('alignClocks refuses', () => {
  function refusal(roller: Recording, engine: Recording) {
    const outcome = alignClocks(roller, engine);
    return outcome.ok ? undefined : outcome.refusal;
  }

  it('a steady hold', () => {
    const { roller, engine } = inventedPair({ legs: [{ seconds: 30, acceleration: 0 }] });
    expect(refusal(roller, engine)).toMatchObject({ kind: 'ambiguous-alignment', numbers: { limit: 0.05 } });
  });

  it('one ramp on the roller against two identical ones in the engine log', () => {
    for (const seed of [1, 2, 3]) {
      const { roller, engine } = inventedPair({ legs: [...TWIN, ...TWIN], rollerTo: 34, seed });
      const seen = refusal(roller, engine);
      expect(seen).toMatchObject({ kind: 'ambiguous-alignment' });
      const numbers = seen?.numbers ?? {};
      expect(Number(numbers['second'])).toBeGreaterThan(0.97 * Number(numbers['correlation']));
      expect(Math.abs(Number(numbers['secondLag']) - Number(numbers['lag']))).toBeGreaterThan(10);
    }
  });

  it('the same two identical ramps in both logs', () => {
    const { roller, engine } = inventedPair({ legs: [...TWIN, ...TWIN] });
    expect(refusal(roller, engine)?.kind).toBe('ambiguous-alignment');
  });

  it('but not two ramps that differ by a tenth', () => {
    const second = TWIN.map((leg) => (leg.acceleration > 0 ? { ...leg, acceleration: leg.acceleration * 0.9 } : leg));
    const { roller, engine } = inventedPair({ legs: [...TWIN, ...second] });
    expect(refusal(roller, engine)).toBeUndefined();
  });

  it('logs of two different drives', () => {
    const wavy = Array.from({ length: 12 }, (_, k) => ({ seconds: 1.5, acceleration: k % 2 === 0 ? 1.4 : -1.4 }));
    const { engine } = inventedPair({ legs: wavy });
    expect(refusal(inventedPair().roller, engine)?.kind).toBe('ambiguous-alignment');
  });

  it('logs that share no channel, and empty ones', () => {
    const { roller, engine } = inventedPair();
    expect(refusal(roller, { ...engine, channels: [] })?.kind).toBe('missing-channel');
    const clock = { name: 'engine', times: new Float64Array(0), pieces: [] };
    expect(refusal(roller, recording('empty.csv', clock, [column('engine-speed', [], 100)]))?.kind).toBe(
      'missing-channel',
    );
  });

  it('a log whose speed is missing throughout', () => {
    const { roller, engine } = inventedPair();
    const gone = column('engine-speed', new Float64Array(engine.clock.times.length).fill(Number.NaN), 100);
    expect(refusal(roller, { ...engine, channels: [gone] })?.kind).toBe('missing-channel');
  });
});

describe('alignClocks at gaps and jumps', () => {
  it('keeps one piece across a gap through which the clock ran on', () => {
    for (let seed = 1; seed <= 6; seed++) {
      expect(aligned({ seed, gaps: [{ from: 8, to: 8.84 }] }).pieces).toHaveLength(1);
    }
  });

  it('splits where the clock lost half a second, and finds both sides', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const alignment = aligned({ seed, gaps: [{ from: 8, to: 8.84, lost: 0.5 }] });
      expect(alignment.pieces).toHaveLength(2);
      expect(Math.abs(middleError(alignment, { offset: 3.42, rate: 180e-6 }).error)).toBeLessThan(0.03);
      expect(Math.abs(middleError(alignment, { offset: 3.42, rate: 180e-6, moved: 0.5 }, 1).error)).toBeLessThan(0.06);
    }
  });

  it('splits where the clock was set back by an hour', () => {
    const alignment = aligned({ gaps: [{ from: 8, to: 8.02, lost: 3600 }] });
    expect(alignment.pieces).toHaveLength(2);
    expect(Math.abs(middleError(alignment, { offset: 3.42, rate: 180e-6, moved: 3600 }, 1).error)).toBeLessThan(0.06);
  });

  it('takes a clock rate of 1 % as it is and says so', () => {
    const { roller, engine } = inventedPair({ rate: 1e-2 });
    const outcome = alignClocks(roller, engine);
    if (!outcome.ok) throw new Error(outcome.refusal.message);
    expect(outcome.findings.map(({ kind }) => kind)).toContain('clock-rate-high');
    expect(Math.abs(outcome.value.pieces[0].rate - 1e-2)).toBeLessThan(4 * outcome.value.pieces[0].rateUncertainty);
  });
});

describe('alignClocks behind a converter', () => {
  /** A pull whose engine runs ahead of the gears by a slip that follows the throttle with a lag of 0.8 s, with a noisy wheel that does not. */
  function slipping(seed: number): { roller: Recording; byEngine: Recording; byBoth: Recording } {
    const { roller, engine } = inventedPair({ seed });
    const [geared, throttle] = engine.channels;
    const random = randomSource(seed);
    let slip = 0;
    const turning = geared.samples.map((w, i) => {
      slip += ((throttle.samples[i] > 0.9 ? 0.06 : 0) - slip) / (0.8 * 100);
      return w * (1 + slip);
    });
    const channels = [column('engine-speed', turning, 100), throttle];
    const wheel = column(
      'wheel-speed',
      geared.samples.map((w) => (w / 13) * (1 + 0.03 * random.normal())),
      100,
    );
    return { roller, byEngine: { ...engine, channels }, byBoth: { ...engine, channels: [...channels, wheel] } };
  }

  function laid(roller: Recording, engine: Recording, converter: boolean): Alignment {
    const outcome = alignClocks(roller, engine, { converter });
    if (!outcome.ok) throw new Error(outcome.refusal.message);
    return outcome.value;
  }

  const truth = { offset: 3.42, rate: 180e-6 };

  it.each([1, 2, 3])('takes the time from the wheel, though the engine seems surer (seed %d)', (seed) => {
    const { roller, byBoth } = slipping(seed);
    expect(Math.abs(middleError(laid(roller, byBoth, true), truth).error)).toBeLessThan(0.06);
    expect(middleError(laid(roller, byBoth, false), truth).error).toBeGreaterThan(0.06);
  });

  it('takes it from the wheel that turns, whatever stands still before it', () => {
    const { roller, byBoth } = slipping(1);
    const still = column('wheel-speed', new Float64Array(byBoth.clock.times.length), 100);
    const beside = { ...byBoth, channels: [still, ...byBoth.channels] };
    expect(laid(roller, beside, true).pieces).toEqual(laid(roller, byBoth, true).pieces);
  });

  it.each([1, 2, 3])('is less sure of an offset that the engine alone tells (seed %d)', (seed) => {
    const { roller, byEngine } = slipping(seed);
    const alignment = laid(roller, byEngine, true);
    expect(alignment.pieces[0].offsetUncertainty).toBeGreaterThan(0.12);
    expect(Math.abs(middleError(alignment, truth).z)).toBeLessThan(1);
    expect(Math.abs(middleError(laid(roller, byEngine, false), truth).z)).toBeGreaterThan(2);
  });

  it('is less sure of a rate that was found as well, by what 0.12 s are over its length', () => {
    const { roller, engine } = inventedPair();
    const [sure, unsure] = [false, true].map((converter) => laid(roller, engine, converter).pieces[0]);
    const length = sure.to - sure.from;
    expect(sure.rate).not.toBe(0);
    expect(unsure.rateUncertainty).toBeCloseTo(Math.hypot(sure.rateUncertainty, 0.12 / length), 9);
    expect(unsure.offsetUncertainty).toBeCloseTo(Math.hypot(sure.offsetUncertainty, 0.12), 9);
    expect({ ...unsure, offsetUncertainty: 0, rateUncertainty: 0 }).toEqual({
      ...sure,
      ...{ offsetUncertainty: 0, rateUncertainty: 0 },
    });
  });
});

describe('clock rate', () => {
  it('a rate known from elsewhere is used', () => {
    const alignment = aligned({}, { rate: { value: 180e-6, uncertainty: 20e-6 } });
    expect(Math.abs(alignment.pieces[0].rate - 180e-6)).toBeLessThan(40e-6);
    expect(alignment.pieces[0].rateUncertainty).toBeLessThan(40e-6);
  });

  it('of 28 records with fresh clocks is known to what their noise allows, and no better is claimed', () => {
    const day = Array.from({ length: 28 }, (_, k) =>
      aligned({ seed: 500 + k, engineNoise: 0.002, offset: 1.2 + (k % 9) }),
    );
    const outcome = combineRates(day);
    if (!outcome.ok) throw new Error(outcome.refusal.message);
    expect(outcome.value.standardUncertainty).toBeLessThan(160e-6);
    expect(Math.abs(outcome.value.value - 180e-6)).toBeLessThan(2.5 * outcome.value.standardUncertainty);
  });

  it('of records whose clocks run through a morning is known within 30 ppm', () => {
    const day = Array.from({ length: 6 }, (_, k) => {
      const { roller, engine } = inventedPair({ seed: 40 + k });
      const later = (log: Recording, by: number): Recording => ({
        ...log,
        clock: { ...log.clock, times: log.clock.times.map((t) => t + by) },
      });
      const outcome = alignClocks(later(roller, 900 * k), later(engine, 900 * k * (1 + 180e-6)));
      if (!outcome.ok) throw new Error(outcome.refusal.message);
      return outcome.value;
    });
    const outcome = combineRates(day);
    expect(outcome.ok && Math.abs(outcome.value.value - 180e-6) < 30e-6).toBe(true);
    expect(outcome.ok && outcome.value.standardUncertainty < 10e-6).toBe(true);
  });

  it('is refused when no record measured one', () => {
    const outcome = combineRates([]);
    expect(outcome.ok).toBe(false);
  });

  it('is not taken from a record that lies as well on another lag, nor from a rate that is none of clocks', () => {
    const [first, second, third] = [1, 2, 3].map((seed) => aligned({ seed, engineNoise: 0.002 }));
    const sure = combineRates([first, second]);
    const even: Alignment = {
      ...third,
      pieces: third.pieces.map((piece) => ({ ...piece, rate: 8e-3, rateUncertainty: 1e-5 })),
      second: { correlation: 0.99 * third.correlation, lag: 50 },
    };
    expect(combineRates([first, second, even])).toEqual(sure);
    const stretched: Alignment = {
      ...third,
      pieces: third.pieces.map((piece) => ({ ...piece, rate: 0.11, rateUncertainty: 1e-5 })),
    };
    expect(combineRates([first, second, stretched])).toEqual(sure);
  });
});

const MEASURED = new URL('../../../../shared/data/chassis-dyno-turbodiesel/61410007.tsv', import.meta.url);

describe('a measured record with an automatic and converter slip (Argonne National Laboratory, D3)', () => {
  it.skipIf(!existsSync(MEASURED))(
    'taken apart and moved by 12.34 s, is laid together again (skipped where absent)',
    () => {
      const lines = readFileSync(MEASURED, 'utf8').trim().split(/\r?\n/).slice(1);
      const rows = lines.map((line) => line.split('\t').map(Number));
      const pieces = [{ from: 0, to: rows.length }];
      const times = Float64Array.from(rows, (row) => row[0]);
      const speed = rows.map((row) => toSi(row[1], unitOf('mph')));
      const rpm = rows.map((row) => toSi(row[6], unitOf('rpm')));
      const roller = recording('a', { name: 'roller', times, pieces }, [
        column('roll-speed', speed, 10),
        column(
          'tractive-force',
          rows.map((row) => row[2]),
          10,
        ),
      ]);
      const later = { name: 'engine', times: times.map((t) => t + 12.34), pieces };
      const outcome = alignClocks(roller, recording('b', later, [column('engine-speed', rpm, 10)]));
      if (!outcome.ok) throw new Error(outcome.refusal.message);
      // both channels of one file need not be equally late: one sample is allowed
      expect(Math.abs(middleError(outcome.value, { offset: 12.34, rate: 0 }).error)).toBeLessThan(0.1);
      expect(outcome.findings.map(({ kind }) => kind)).toContain('weak-correlation');
    },
  );
});
