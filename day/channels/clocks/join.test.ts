import { describe, expect, it } from 'vitest';
import type { Alignment } from '../alignment.ts';
import { alignClocks } from './align.ts';
import { column, inventedPair, recording } from './invented-pair.ts';
import { joinRecords } from './join.ts';
import { nudged, residualAt } from './nudge.ts';
import { sameClock } from './same-clock.ts';
import { sampleTrack } from './sample-track.ts';

function known(offset: number, rate: number, spans: readonly (readonly [number, number, number?])[]): Alignment {
  const pieces = spans.map(([from, to, extra = 0]) => ({
    from,
    to,
    offset: offset + extra,
    rate,
    offsetUncertainty: 0,
    rateUncertainty: 0,
    residual: 0,
    lags: [],
  }));
  return { clock: 'roller', other: 'engine', pieces, correlation: 1, second: undefined, by: 'hand' };
}

describe('joinRecords', () => {
  it('puts engine samples on the roller clock and leaves their values alone', () => {
    const { roller, engine } = inventedPair({ offset: 5, rate: 1e-3 });
    const { tracks } = joinRecords({ roller, engine, alignment: known(5, 1e-3, [[2, 10]]) });
    const [speed, , rpm] = tracks;
    expect(speed.times).toBe(roller.clock.times);
    expect(rpm.times[0]).toBeGreaterThanOrEqual(2);
    expect(rpm.times[rpm.times.length - 1]).toBeLessThanOrEqual(10);
    const first = engine.clock.times.findIndex((t) => (t - 5) / 1.001 >= 2);
    expect(rpm.channel.samples[0]).toBe(engine.channels[0].samples[first]);
    expect(rpm.times[0]).toBeCloseTo((engine.clock.times[first] - 5) / 1.001, 9);
  });

  it('starts a new piece of the engine track where the alignment does', () => {
    const { roller, engine } = inventedPair({ offset: 5, rate: 0 });
    const { tracks } = joinRecords({
      roller,
      engine,
      alignment: known(5, 0, [
        [0, 8],
        [8.5, 20, 0.5],
      ]),
    });
    expect(tracks[2].pieces).toHaveLength(2);
    const { pieces, times } = tracks[2];
    expect(times[pieces[1].from]).toBeGreaterThanOrEqual(8.5);
    for (let i = 1; i < times.length; i++) expect(times[i]).toBeGreaterThan(times[i - 1]);
  });

  it('never lets time run backwards: the other log places what follows a clock that was set back', () => {
    const { roller, engine } = inventedPair({ gaps: [{ from: 8, to: 8.02, lost: 3600 }] });
    const outcome = alignClocks(roller, engine);
    if (!outcome.ok) throw new Error(outcome.refusal.message);
    const { tracks, findings } = joinRecords({ roller, engine, alignment: outcome.value });
    const { times } = tracks[0];
    for (let i = 1; i < times.length; i++) expect(times[i]).toBeGreaterThan(times[i - 1]);
    expect(Math.abs(times[times.length - 1] - 21.98)).toBeLessThan(0.08);
    const found = findings.find(({ kind }) => kind === 'clock-set-back');
    expect(found?.weight).toBe('note');
    // both sides still tell one story after the jump
    const ratio = sampleTrack(tracks[2], [16])[0] / sampleTrack(tracks[0], [16])[0];
    expect(Math.abs(ratio / 12.8 - 1)).toBeLessThan(0.02);
  });

  it('places a clock that was set back straight behind when there is no other log, and doubts it', () => {
    const { roller } = inventedPair({ gaps: [{ from: 8, to: 8.02, lost: 3600 }] });
    const { tracks, findings } = joinRecords({ roller, alignment: sameClock(roller) });
    const { times } = tracks[0];
    for (let i = 1; i < times.length; i++) expect(times[i]).toBeGreaterThan(times[i - 1]);
    expect(findings.find(({ kind }) => kind === 'clock-set-back')?.weight).toBe('doubt');
  });

  it('an empty recording stays empty', () => {
    const clock = { name: 'roller', times: new Float64Array(0), pieces: [] };
    const empty = recording('empty.csv', clock, [column('roll-speed', [], 50)]);
    expect(joinRecords({ roller: empty, alignment: sameClock(empty) }).tracks[0].times).toHaveLength(0);
  });
});

describe('sampleTrack', () => {
  const times = Float64Array.from([0, 1, 2, 5, 6]);
  const pieces = [
    { from: 0, to: 3 },
    { from: 3, to: 5 },
  ];
  const track = (samples: number[], refreshRate = 1) => ({
    channel: column('roll-speed', samples, refreshRate),
    times,
    pieces,
    file: 'a',
  });

  it.each([
    ['on a sample', 1, 20],
    ['between two', 0.25, 12.5],
    ['on the last of a piece', 2, 30],
    ['in a gap', 3, Number.NaN],
    ['before the start', -1, Number.NaN],
    ['after the end', 6.1, Number.NaN],
    ['in the second piece', 5.5, 55],
  ])('%s', (_, t, value) => {
    expect(sampleTrack(track([10, 20, 30, 50, 60]), [t])[0]).toBe(value);
  });

  it('is NaN beside a missing sample, yet tells the samples themselves', () => {
    const values = sampleTrack(track([10, Number.NaN, 30, 50, 60]), [0, 0.5, 1, 1.5, 2]);
    expect([...values]).toEqual([10, Number.NaN, Number.NaN, Number.NaN, 30]);
  });

  it('holds a channel that is renewed more slowly than it is logged', () => {
    expect(sampleTrack(track([10, 10, 30, 50, 60], 0.5), [1.9])[0]).toBe(10);
  });

  it('takes times in any order', () => {
    expect([...sampleTrack(track([10, 20, 30, 50, 60]), [5.5, 0.5, 2])]).toEqual([55, 15, 30]);
  });
});

describe('a nudge by hand', () => {
  it('moves every piece and says who did it', () => {
    const alignment = nudged(
      known(5, 0, [
        [0, 8],
        [8.5, 20, 0.5],
      ]),
      0.1,
    );
    expect(alignment.pieces.map(({ offset }) => offset)).toEqual([5.1, 5.6]);
    expect(alignment.by).toBe('hand');
  });

  it('is judged at once: the residual is least and the correlation greatest at the true offset', () => {
    const { roller, engine } = inventedPair({ offset: 3.42, rate: 0 });
    const at = (offset: number) => {
      const outcome = residualAt(roller, engine, offset);
      if (!outcome.ok) throw new Error(outcome.refusal.message);
      return outcome.value;
    };
    const [right, late] = [at(3.42), at(3.72)];
    expect(right.residual).toBeLessThan(0.015);
    expect(late.residual).toBeGreaterThan(3 * right.residual);
    expect(right.correlation).toBeGreaterThan(late.correlation);
    const { offsets, correlation } = right.curve;
    expect(offsets[0]).toBeCloseTo(1.42, 1);
    expect(offsets[correlation.indexOf(Math.max(...correlation))]).toBeCloseTo(3.42, 0);
  });

  it('is refused where the logs share nothing', () => {
    const { roller, engine } = inventedPair();
    const outcome = residualAt(roller, { ...engine, channels: [] }, 0);
    expect(outcome.ok ? '' : outcome.refusal.kind).toBe('missing-channel');
  });
});
