import { beforeAll, describe, expect, it } from 'vitest';
import { makePlateauDay } from '../../../scenarios/index.ts';
import { readDay } from '../../../scenarios/testing/read-day.ts';
import { withDayClocks } from '../../pulls/index.ts';
import { openedEntry } from '../../reports/analyse-day.ts';
import { type DayHealth, dayHealth, type HealthInput } from './day-health.ts';
import { HEALTH_FINDINGS } from './result.ts';
import { HEALTH_THRESHOLDS, healthLimitsWith, healthThresholdNames } from './thresholds.ts';

/** Some entries of the invented demonstration day; what really happened is in its generator. */
function plateau(pulls: readonly string[], faults: boolean): HealthInput {
  const { facts, logs, report } = readDay(makePlateauDay({ seed: 5, pulls, faults }));
  const opened = withDayClocks(new Map(facts.entries.map((entry) => [entry.id, openedEntry(entry, facts, logs)])));
  const results = new Map(report.entries.map((entry) => [entry.facts.id, entry.result]));
  return { facts, opened, results };
}

describe('the invented demonstration day', () => {
  let input: HealthInput;
  let day: DayHealth;
  beforeAll(() => {
    input = plateau(['C1', 'C2', '2', 'C3', '10', '14', '16', 'C5', 'C6', '18', 'C7', '20', '24', '25', '26'], true);
    day = dayHealth(input);
  }, 120_000);

  it('finds the tight final drive by coast-down 6, not the engine, and none of it after the repair', () => {
    const coasts = day.findings.filter(({ kind }) => kind === 'coast-force-rise');
    expect(coasts.filter(({ stopClass }) => stopClass === 2).map(({ entry }) => entry)).toEqual(['C6']);
    expect(coasts.find(({ entry }) => entry === 'C6')?.why).toContain('not the engine');
    const change = day.coasts.changes.find(({ entry }) => entry === 'C6')?.change;
    expect(Math.abs((change?.value ?? Number.NaN) - 0.41)).toBeLessThan(2 * (change?.standardUncertainty ?? 0) + 0.02);
    expect(day.findings.some(({ kind }) => kind === 'engine-drag-rise')).toBe(false);
  });

  it('parts the engine’s own drag from the axle’s in coast-down 5', () => {
    const drag = day.coasts.drags[0];
    expect(drag?.entry).toBe('C5');
    // friction and pumping of the generator at 4450 rpm, and what the meshes take of it
    expect(drag?.torque.value).toBeGreaterThan(37);
    expect(drag?.torque.value).toBeLessThan(44);
    expect(day.unknown.map(({ what }) => what)).toContain('change of the engine drag');
  });

  it('holds at the first lifting of the head and ends the day at the second', () => {
    const rises = day.findings.filter(({ kind }) => kind === 'coolant-pressure-rise');
    expect(rises.map(({ entry, stopClass }) => `${entry} ${stopClass}`)).toEqual(['24 2', '25 3']);
    expect(day.findings.some(({ entry, kind }) => entry === '26' && kind === 'coolant-pressure-lost')).toBe(true);
  });

  it('keeps a finding that a person overruled on record, with the reason, and no longer counts it', () => {
    const why = 'the brake was dragging; freed';
    const decided = { 'health.coast-force-rise': why, 'health.no-such-thing': why };
    const entries = input.facts.entries.map((entry) => (entry.id === 'C6' ? { ...entry, overruled: decided } : entry));
    const lifted = dayHealth({ ...input, facts: { ...input.facts, entries } });
    const rise = ({ findings }: DayHealth) =>
      findings.find(({ kind, entry }) => kind === 'coast-force-rise' && entry === 'C6');
    expect(rise(day)).toMatchObject({ stopClass: 2 });
    expect(rise(day)).not.toHaveProperty('overruled');
    expect(rise(lifted)).toMatchObject({ stopClass: 2, overruled: why });
    expect(lifted.findings.filter(({ overruled }) => overruled !== undefined)).toHaveLength(1);
  });

  it('calls for the stop of what still counts', () => {
    const all = Object.fromEntries(HEALTH_FINDINGS.map((kind) => [`health.${kind}`, 'looked at: sound']));
    const entries = input.facts.entries.map((entry) => ({ ...entry, overruled: all }));
    expect(day.stopClass).toBe(3);
    expect(dayHealth({ ...input, facts: { ...input.facts, entries } }).stopClass).toBe(0);
  });

  it('keeps quiet about the spike of the oil-pressure sensor in pull 20', () => {
    expect(day.findings.filter(({ entry, kind }) => entry === '20' && kind.startsWith('oil'))).toEqual([]);
    const point = day.oil.line?.line.points.find(({ entry }) => entry === '20');
    expect(Math.abs(point?.deviation.value ?? Number.NaN)).toBeLessThan(0.05);
  });

  it('says nothing worse than a note or a question where no fault was put in', () => {
    const clean = dayHealth(plateau(['C1', 'C2', '2', '4', '5', 'C3', '9', '10', '11', 'C4'], false));
    expect(clean.findings.filter(({ stopClass }) => stopClass >= 2)).toEqual([]);
    expect(clean.stalls.stalls).toEqual([]);
  }, 120_000);
});

describe('health thresholds', () => {
  it('all name a source and can be set by a person, who is then named', () => {
    for (const name of healthThresholdNames()) expect(HEALTH_THRESHOLDS[name].source.length).toBeGreaterThan(5);
    const set = healthLimitsWith({ 'coast.hold': 0.3 });
    expect(set['coast.hold']).toMatchObject({ value: 0.3, source: 'set by a person' });
    expect(set['coast.flag']).toEqual(HEALTH_THRESHOLDS['coast.flag']);
  });
});
