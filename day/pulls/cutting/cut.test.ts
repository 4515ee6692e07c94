import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { toSi, unitOf } from '../../../core/quantities/index.ts';
import { alignClocks } from '../../channels/clocks/align.ts';
import {
  column,
  inventedPair,
  type Leg,
  ONE_PULL,
  type PairTruth,
  recording,
} from '../../channels/clocks/invented-pair.ts';
import { joinRecords } from '../../channels/clocks/join.ts';
import { sameClock } from '../../channels/clocks/same-clock.ts';
import type { JoinedRecord } from '../record.ts';
import type { Segment } from '../segment.ts';
import { cutRecord } from './cut.ts';

function joined(truth: PairTruth = {}): JoinedRecord {
  const { roller, engine } = inventedPair(truth);
  const outcome = alignClocks(roller, engine);
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return joinRecords({ roller, engine, alignment: outcome.value });
}

function rollerOnly(truth: PairTruth = {}): JoinedRecord {
  const { roller } = inventedPair(truth);
  return joinRecords({ roller, alignment: sameClock(roller) });
}

function engineOnly(truth: PairTruth = {}): JoinedRecord {
  const { engine } = inventedPair({ offset: 0, rate: 0, ...truth });
  return joinRecords({ roller: engine, alignment: sameClock(engine) });
}

const pulls = (segments: readonly Segment[]) => segments.filter(({ kind }) => kind === 'full-load');
const kinds = (segments: readonly Segment[]) => segments.map(({ kind }) => kind);

/** Lead-in, part load, full load 6–16 s, overrun, hold. */
const DAY: readonly Leg[] = [
  { seconds: 3, acceleration: 0 },
  { seconds: 3, acceleration: 0.45 },
  { seconds: 10, acceleration: 2.2 },
  { seconds: 6, acceleration: -1.6 },
  { seconds: 4, acceleration: 0 },
];

describe('cutRecord', () => {
  it('tells the stretches of a pull in order, with both logs', () => {
    const { segments, findings } = cutRecord(joined());
    expect(kinds(segments)).toEqual(['hold', 'full-load', 'overrun', 'hold']);
    const [pull] = pulls(segments);
    expect(Math.abs(pull.fromTime - 3)).toBeLessThan(0.5);
    expect(Math.abs(pull.toTime - 13)).toBeLessThan(0.5);
    expect(pull.reason).toContain('95 %');
    expect(pull.lowEngineSpeed).toBeGreaterThan(330);
    expect(findings).toEqual([]);
  });

  it('ends are where the load is settled: speed rises at every sample of the pull', () => {
    const record = joined();
    const [pull] = pulls(cutRecord(record).segments);
    const speed = record.tracks[0].channel.samples;
    const rate = (i: number) => (speed[i + 10] - speed[i]) / 0.2;
    expect(rate(pull.from)).toBeGreaterThan(1);
    expect(rate(pull.to - 11)).toBeGreaterThan(1);
    expect(record.tracks[0].times[pull.from]).toBeCloseTo(pull.fromTime, 1);
    expect(record.tracks[0].times[pull.to - 1]).toBeLessThanOrEqual(pull.toTime + 1e-6);
  });

  it('part load is not full load when a throttle says so', () => {
    const { segments } = cutRecord(joined({ legs: DAY }));
    const [pull] = pulls(segments);
    expect(pulls(segments)).toHaveLength(1);
    expect(Math.abs(pull.fromTime - 6)).toBeLessThan(0.5);
  });

  it('works from the roller alone, and says that full load is assumed', () => {
    const { segments, findings } = cutRecord(rollerOnly({ legs: DAY }));
    const [pull] = pulls(segments);
    expect(pulls(segments)).toHaveLength(1);
    expect(Math.abs(pull.fromTime - 6)).toBeLessThan(0.6);
    expect(pull.ratio).toBeUndefined();
    expect(findings.map(({ kind }) => kind)).toContain('full-load-assumed');
    expect(kinds(segments)).toContain('coast-down');
  });

  it('works from the engine log alone', () => {
    const { segments } = cutRecord(engineOnly({ legs: DAY }));
    const [pull] = pulls(segments);
    expect(pulls(segments)).toHaveLength(1);
    expect(Math.abs(pull.fromTime - 6)).toBeLessThan(0.6);
    expect(pull.lowSpeed).toBeNaN();
    expect(pull.highEngineSpeed).toBeGreaterThan(550);
  });

  it.each([1, 2, 5, 10, 25, 200, 1000])('at %d Hz', (rate) => {
    const legs = [...DAY, ...DAY.map((leg) => ({ ...leg }))];
    const back: Leg = { seconds: 40, acceleration: -1.6, until: 26 };
    const { segments } = cutRecord(
      rollerOnly({ legs: [...legs.slice(0, 5), back, ...legs.slice(5)], rollerRate: rate }),
    );
    expect(pulls(segments)).toHaveLength(2);
    expect(Math.abs(pulls(segments)[0].fromTime - 6)).toBeLessThan(Math.max(0.7, 2.1 / rate));
  });

  it('tells a coast-down with the clutch open from overrun', () => {
    const legs = [ONE_PULL[0], ONE_PULL[1], { seconds: 14, acceleration: -1, open: true }];
    const { segments } = cutRecord(joined({ legs }));
    const coast = segments.find(({ kind }) => kind === 'coast-down');
    expect(coast && coast.toTime - coast.fromTime).toBeGreaterThan(9);
    expect(kinds(segments)).not.toContain('overrun');
  });

  it('keeps one pull across a gap of the roller log', () => {
    const { segments } = cutRecord(rollerOnly({ gaps: [{ from: 8, to: 8.84 }] }));
    expect(pulls(segments)).toHaveLength(1);
    expect(pulls(segments)[0].reason).toContain('1 gap inside');
  });

  it('a record of holds has no pull', () => {
    const { segments, findings } = cutRecord(rollerOnly({ legs: [{ seconds: 20, acceleration: 0 }] }));
    expect(kinds(segments)).toEqual(['hold']);
    expect(findings.map(({ kind }) => kind)).toEqual(['no-full-load']);
  });

  it('a record without speed has no segments and says so; so has an empty one', () => {
    const clock = { name: 'c', times: Float64Array.from([0, 1, 2]), pieces: [{ from: 0, to: 3 }] };
    const log = recording('a', clock, [column('oil-pressure', [1, 2, 3], 1)]);
    for (const file of [
      log,
      recording('b', { name: 'c', times: new Float64Array(0), pieces: [] }, [column('roll-speed', [], 1)]),
    ]) {
      const { segments, findings } = cutRecord(joinRecords({ roller: file, alignment: sameClock(file) }));
      expect(segments).toEqual([]);
      expect(findings.map(({ kind }) => kind)).toEqual(['nothing-to-cut']);
    }
  });

  it('a throttle that never opens fully leaves load to decide, with a doubt', () => {
    const { engine } = inventedPair({ offset: 0, rate: 0, legs: DAY });
    const channels = engine.channels.map((channel) =>
      channel.meaning === 'throttle' ? { ...channel, samples: channel.samples.map((x) => 0.85 * x) } : channel,
    );
    const log = { ...engine, channels };
    const { segments, findings } = cutRecord(joinRecords({ roller: log, alignment: sameClock(log) }));
    expect(pulls(segments)).toHaveLength(1);
    expect(findings.map(({ kind }) => kind)).toContain('full-load-assumed');
    const told = cutRecord(joinRecords({ roller: log, alignment: sameClock(log) }), { fullThrottle: 0.84 });
    expect(pulls(told.segments)[0].reason).toContain('84 %');
    expect(told.findings).toEqual([]);
  });
});

const MEASURED = new URL('../../../../shared/data/chassis-dyno-turbodiesel/61410007.tsv', import.meta.url);

describe('a measured record: turbodiesel automatic on a chassis dynamometer, 10 Hz (Argonne National Laboratory, D3)', () => {
  it.skipIf(!existsSync(MEASURED))(
    'three full-load accelerations, shifts inside (skipped where the file is absent)',
    () => {
      const lines = readFileSync(MEASURED, 'utf8').trim().split(/\r?\n/).slice(1);
      const rows = lines.map((line) => line.split('\t').map(Number));
      const clock = {
        name: 'roller',
        times: Float64Array.from(rows, (row) => row[0]),
        pieces: [{ from: 0, to: rows.length }],
      };
      const log = recording('61410007.tsv', clock, [
        column(
          'roll-speed',
          rows.map((row) => toSi(row[1], unitOf('mph'))),
          10,
        ),
        column(
          'tractive-force',
          rows.map((row) => row[2]),
          10,
        ),
        column(
          'engine-speed',
          rows.map((row) => toSi(row[6], unitOf('rpm'))),
          10,
        ),
      ]);
      const { segments } = cutRecord(joinRecords({ roller: log, alignment: sameClock(log) }));
      const found = pulls(segments);
      expect(found).toHaveLength(3);
      // bounds as its source states them: about 32-49, 92-108, 153-170 s
      [
        [32, 49],
        [92, 108],
        [153, 170],
      ].forEach(([from, to], k) => {
        expect(Math.abs(found[k].fromTime - from)).toBeLessThan(1.5);
        expect(Math.abs(found[k].toTime - to)).toBeLessThan(1);
        expect(found[k].reason).toContain('gears 1, 2, 3');
      });
      expect(kinds(segments).filter((kind) => kind === 'standstill')).toHaveLength(4);
    },
  );
});
