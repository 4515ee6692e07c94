import { describe, expect, it } from 'vitest';
import { alignClocks } from '../../channels/clocks/align.ts';
import { column, inventedPair, type PairTruth } from '../../channels/clocks/invented-pair.ts';
import { joinRecords } from '../../channels/clocks/join.ts';
import { sameClock } from '../../channels/clocks/same-clock.ts';
import { cutRecord } from './cut.ts';
import { lowForceRatio } from './low-force-ratio.ts';

function referenceOf(truth: PairTruth) {
  const { roller, engine } = inventedPair(truth);
  const outcome = alignClocks(roller, engine);
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  const record = joinRecords({ roller, engine, alignment: outcome.value });
  const result = lowForceRatio(record, cutRecord(record).segments);
  if (!result.ok) throw new Error(result.refusal.message);
  return result;
}

describe('lowForceRatio', () => {
  it('finds the ratio that slip cannot touch, over 12 seeds with 6 % slip in the pull', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const { value } = referenceOf({ seed, slip: [{ from: 6, to: 9, size: 0.06 }] });
      expect(Math.abs(value.ratio.value / 13 - 1)).toBeLessThan(0.002);
      expect(Math.abs(value.ratio.value - 13)).toBeLessThan(3.5 * value.ratio.standardUncertainty);
      expect(Math.abs(value.growth.value + 4.4e-6)).toBeLessThan(3 * value.growth.standardUncertainty);
      expect(value.relative).toBe(false);
    }
  });

  it('says which windows it used, and none lies in the loaded part of the pull', () => {
    const { value } = referenceOf({});
    expect(value.windows.length).toBeGreaterThan(0);
    for (const { fromTime, toTime } of value.windows) expect(toTime < 3.5 || fromTime > 12.6).toBe(true);
  });

  it('predicts the ratio under load to 0.5 % with practice’s creep, so that slip of 1.5 % stands out', () => {
    const { value } = referenceOf({});
    const [v, force] = [38, 3500];
    const told = value.ratio.value * (1 + value.growth.value * v * v) * (1 + value.creep.value * force);
    const truth = 13 * (1 - 4.4e-6 * v * v) * (1 + 5.5e-6 * force);
    expect(Math.abs(told / truth - 1)).toBeLessThan(0.005);
  });

  it('without low-force data slip is relative, and it says so', () => {
    const { roller, engine } = inventedPair({ rollerFrom: 3.6, rollerTo: 12.6, offset: 0, rate: 0 });
    const alignment = { ...sameClock(roller), by: 'hand' as const };
    const record = joinRecords({ roller, engine, alignment });
    const result = lowForceRatio(record, cutRecord(record).segments);
    if (!result.ok) throw new Error(result.refusal.message);
    expect(result.value.relative).toBe(true);
    expect(result.findings.map(({ kind }) => kind)).toContain('slip-is-relative');
  });

  const withEngineSpeed = (make: (v: number, i: number) => number) => {
    const { roller } = inventedPair({ seed: 5 });
    const [speed] = roller.channels;
    const log = {
      ...roller,
      channels: [...roller.channels, column('engine-speed', Array.from(speed.samples, make), 50)],
    };
    const record = joinRecords({ roller: log, alignment: sameClock(log) });
    const result = lowForceRatio(record, cutRecord(record).segments);
    return result.ok ? result.findings.map(({ kind }) => kind) : [result.refusal.kind];
  };
  const rpm = (2 * Math.PI) / 60;

  it.each([
    ['whole rpm', (v: number) => Math.round((v * 13) / rpm) * rpm],
    ['full digits', (v: number) => v * 13.37],
    ['steps of 10 rpm', (v: number) => Math.round((v * 13) / rpm / 10) * 10 * rpm],
  ])('an engine speed computed from roll speed, %s, cannot show slip', (_, make) => {
    expect(withEngineSpeed(make)).toContain('computed-engine-speed');
  });

  it.each([
    ['creep of 1 % under load', (v: number, i: number) => v * 13 * (i > 200 && i < 600 ? 1.01 : 1)],
    ['tyre growth of 1 % over the range', (v: number) => v * 13 * (1 - 4e-6 * v * v)],
  ])('an engine speed with %s is taken as measured', (_, make) => {
    expect(withEngineSpeed(make)).not.toContain('computed-engine-speed');
  });

  it('refuses without an engine speed', () => {
    const { roller } = inventedPair();
    const record = joinRecords({ roller, alignment: sameClock(roller) });
    const result = lowForceRatio(record, []);
    expect(result.ok ? '' : result.refusal.kind).toBe('missing-channel');
  });
});
