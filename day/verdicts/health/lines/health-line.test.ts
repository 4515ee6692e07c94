import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../core/numerics/index.ts';
import { healthLimitsWith } from '../thresholds.ts';
import { type HealthLine, healthLine, type LineInput } from './health-line.ts';

const LIMITS = healthLimitsWith();

function lineOf(deviations: readonly number[], input: Partial<LineInput> = {}): HealthLine {
  const count = deviations.length;
  return healthLine(
    {
      ...{ name: 'test', subject: 'loads', kind: 'fraction', worse: 'down', baseline: Math.min(3, count), remarks: [] },
      repeat: { value: 0.01, degreesOfFreedom: 10 },
      points: deviations.map((_, i) => ({ entry: `p${i + 1}`, clock: i, block: 0, changed: [] })),
      deviations,
      covariance: new Float64Array(count * count),
      ...input,
    },
    LIMITS,
  );
}

describe('health line', () => {
  it('says that there are not enough pulls, with the numbers', () => {
    expect(lineOf([]).verdict).toBe('not enough');
    expect(lineOf([0, 0.01]).why).toBe('not enough pulls: 2, all of them counted from');
    expect(lineOf([0, 0.5, 0.6], { baseline: 1 }).why).toBe('not enough pulls: 1 to count from, 2 needed');
  });

  it('stays in its band for scatter of its own repeatability', () => {
    expect(lineOf([0.01, -0.01, 0, 0.008, -0.012, 0.004, -0.006]).verdict).toBe('in its band');
  });

  it('leaves it at a step, names the entry, the direction and whether that is worse', () => {
    const found = lineOf([0.005, -0.005, 0, 0.002, -0.09, -0.09]);
    expect(found.left).toMatchObject({ entry: 'p5', direction: 'down', worse: true, since: 'p5' });
    expect(lineOf([0.005, -0.005, 0, 0.002, 0.09, 0.09]).left).toMatchObject({ direction: 'up', worse: false });
  });

  it('sees a slow drift by its sum before a single point stands out, and since when', () => {
    const drift = [0.002, -0.003, 0.001, ...Array.from({ length: 14 }, (_, i) => -0.0035 * (i + 1))];
    const found = lineOf(drift, { repeat: { value: 0.01, degreesOfFreedom: 30 } });
    expect(found.verdict).toBe('left its band');
    expect(Number(found.left?.since.slice(1))).toBeLessThan(Number(found.left?.entry.slice(1)));
    expect(found.left?.direction).toBe('down');
  });

  it('widens with few degrees of freedom: the same step is left open', () => {
    const step = [0.005, -0.005, 0, -0.045];
    expect(lineOf(step, { repeat: { value: 0.01, degreesOfFreedom: 60 } }).verdict).toBe('left its band');
    expect(lineOf(step, { repeat: { value: 0.01, degreesOfFreedom: 2 } }).verdict).toBe('in its band');
  });

  it('never averages away what all points share', () => {
    const shared = [0, 0, 0, ...Array.from({ length: 12 }, () => -0.05)];
    const covariance = new Float64Array(15 * 15);
    for (let i = 3; i < 15; i++) for (let j = 3; j < 15; j++) covariance[i * 15 + j] = 0.03 ** 2;
    expect(lineOf(shared).verdict).toBe('left its band');
    expect(lineOf(shared, { covariance }).verdict).toBe('in its band');
  });

  it('raises false alarms on fewer than one in twenty lines of fifteen honest pulls (400 drawn)', () => {
    let alarms = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const random = randomSource(seed);
      const raw = Array.from({ length: 15 }, () => 0.01 * random.normal());
      const mean = (raw[0] + raw[1] + raw[2]) / 3;
      if (lineOf(raw.map((x) => x - mean)).verdict === 'left its band') alarms += 1;
    }
    expect(alarms).toBeLessThan(20);
  });
});
