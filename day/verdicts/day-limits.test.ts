import { describe, expect, it } from 'vitest';
import { dayLimits, inForce, isSettable, SETTABLE } from './day-limits.ts';
import { HEALTH_THRESHOLDS } from './health/thresholds.ts';
import { THRESHOLDS } from './thresholds.ts';

describe('limits of a day', () => {
  it('are ours where nobody set any', () => {
    const { limits, health, findings } = dayLimits({});
    expect(limits).toEqual(THRESHOLDS);
    expect(health).toEqual(HEALTH_THRESHOLDS);
    expect(findings).toEqual([]);
  });

  it('take those of the day before those of the engine, detectors and health apart', () => {
    const { limits, health, findings } = dayLimits({
      engineThresholds: { 'knock.level': '3', 'health.coast.hold': '30 %' },
      thresholds: { 'health.coast.hold': '25 %', 'coolant.rise': '10 kPa' },
    });
    expect(limits['knock.level']).toMatchObject({ value: 3, source: 'set by a person' });
    expect(health['coast.hold'].value).toBeCloseTo(0.25, 12);
    expect(health['coolant.rise']).toEqual(HEALTH_THRESHOLDS['coolant.rise']);
    expect(findings.map(({ message }) => message)).toEqual(['unknown threshold: coolant.rise']);
  });

  it('say what of them cannot be read and keep the former value', () => {
    const { health, findings } = dayLimits({ thresholds: { 'health.oil.hold': 'much' } });
    expect(health).toEqual(HEALTH_THRESHOLDS);
    expect(findings[0]?.message).toMatch(/^threshold health\.oil\.hold: .*; the default stays$/);
  });

  it('all have one name under which they are set and listed', () => {
    const set = dayLimits({ thresholds: { 'health.oil.hold': '12 %' } });
    expect(Object.keys(inForce(set))).toEqual(Object.keys(SETTABLE));
    expect(inForce(set)['health.oil.hold']?.value).toBeCloseTo(0.12, 12);
    expect(isSettable('health.oil.hold')).toBe(true);
    expect(isSettable('oil.hold')).toBe(false);
    expect(isSettable('toString')).toBe(false);
  });
});
