import { describe, expect, it } from 'vitest';
import type { Meaning } from '../../channels/index.ts';
import { DETECTORS } from '../detectors.ts';
import type { Fault } from '../fault.ts';
import { limitsWith } from '../thresholds.ts';
import { ALL_MEANINGS, coverageOf } from './coverage-of.ts';

const POOR: readonly Meaning[] = ['engine-speed', 'roll-speed', 'brake-force', 'manifold-pressure', 'throttle'];

function rowOf(channels: readonly Meaning[], fault: Fault) {
  const row = coverageOf(channels).find((one) => one.fault === fault);
  if (!row) throw new Error(`no row for ${fault}`);
  return row;
}

describe('coverage before the day', () => {
  it('has one row for each detector', () => {
    expect(coverageOf(POOR).map(({ fault }) => fault)).toEqual(DETECTORS.map(({ fault }) => fault));
  });

  it('is blind for everything without a channel, and does not fail', () => {
    for (const row of coverageOf([])) expect(row).toMatchObject({ reach: 'blind', unparted: [] });
  });

  it('is blind with all channels only where a person has to state something', () => {
    const blind = coverageOf(ALL_MEANINGS).filter(({ reach }) => reach === 'blind');
    for (const row of blind) {
      expect(row.lacking).toEqual([]);
      expect(row.why).toMatch(/stated/);
    }
  });

  it('sees a turbocharger’s overspeed once its limit is stated', () => {
    const input = { channels: ALL_MEANINGS, limits: limitsWith({ 'turbo.limit': 16e3 }) };
    expect(coverageOf(input).find(({ fault }) => fault === 'turbo-overspeed')?.reach).not.toBe('blind');
  });

  it('cannot part wheel slip from clutch slip without driven wheel speed, and says so', () => {
    const row = rowOf(POOR, 'wheel-slip');
    expect(row.reach).not.toBe('blind');
    expect(row.unparted.find(({ fault }) => fault === 'clutch-slip')?.add).toContain('wheel-speed');
    const parted = rowOf([...POOR, 'wheel-speed'], 'wheel-slip');
    expect(parted.unparted.find(({ fault }) => fault === 'clutch-slip')?.add ?? []).not.toContain('wheel-speed');
  });

  it('sees weak coils only weakly without their current, and cannot part them from a spark that asks too much', () => {
    const most = ALL_MEANINGS.filter((meaning) => meaning !== 'coil-current');
    const row = rowOf(most, 'spark-energy');
    expect(row.reach).toBe('weak');
    expect(row.lacking).toContainEqual({ channel: 'coil-current', adds: 'certainty' });
    expect(row.unparted.find(({ fault }) => fault === 'ignition-breakup')?.add).toContain('coil-current');
    expect(rowOf(ALL_MEANINGS, 'spark-energy').unparted.map(({ fault }) => fault)).not.toContain('ignition-breakup');
  });

  it('names the channel that would give an answer', () => {
    expect(rowOf(POOR, 'oil-pressure-low').lacking).toEqual([{ channel: 'oil-pressure', adds: 'an answer' }]);
    const knock = rowOf(POOR, 'knock').lacking;
    expect(knock.every(({ adds }) => adds === 'an answer')).toBe(true);
    expect(knock.length).toBeGreaterThan(1);
    expect(rowOf(POOR, 'cam-not-tracking').lacking).toEqual([
      { channel: 'cam-angle', adds: 'part of an answer' },
      { channel: 'cam-target', adds: 'part of an answer' },
    ]);
  });

  it('knows that a slow log cannot show what is fast', () => {
    const slow = coverageOf({ channels: ALL_MEANINGS.map((meaning) => ({ meaning, rate: 10 })) });
    expect(slow.find(({ fault }) => fault === 'surge')).toMatchObject({ reach: 'blind' });
    expect(slow.find(({ fault }) => fault === 'oil-pressure-low')?.reach).not.toBe('blind');
  });

  it('asks for the transmission that there is', () => {
    const manual = coverageOf({ channels: ALL_MEANINGS, transmission: 'manual' });
    expect(manual.find(({ fault }) => fault === 'converter-slip')?.reach).toBe('blind');
    expect(manual.find(({ fault }) => fault === 'clutch-slip')?.reach).not.toBe('blind');
  });
});
