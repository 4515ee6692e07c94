import { describe, expect, it } from 'vitest';
import { makeVirtualDay } from './make.ts';

const REDLINE = 700;

describe.each(['manual', 'converter'] as const)('an overspeed that was put in (%s)', (transmission) => {
  it.each([1, 2])('is recorded where the engine was over its redline, at strength %d', (strength) => {
    const engine = { transmission, redline: REDLINE, converterSlip: 0.06 };
    const { truth } = makeVirtualDay({ seed: 2, pulls: 1, noise: false, fault: 'over-rev', strength, engine });
    const entry = truth.entries.find(({ faults }) => faults.length > 0);
    const fault = entry?.faults.find(({ kind }) => kind === 'over-rev');
    if (!entry || !fault) throw new Error('no overspeed was put in');
    const over = entry.curve.time.filter((_, k) => (entry.curve.engineSpeed[k] ?? 0) > REDLINE);
    // The curve is written every 0.02 s and ends with full load; the engine falls below its redline a moment later.
    expect(Math.abs(fault.fromTime - (over[0] ?? Number.NaN))).toBeLessThan(0.03);
    expect(fault.toTime).toBeGreaterThanOrEqual(over.at(-1) ?? Number.NaN);
    expect(fault.fromSpeed).toBeGreaterThan(REDLINE);
    expect(fault.toSpeed / REDLINE).toBeCloseTo(1 + 0.03 * strength, 2);
  });
});
