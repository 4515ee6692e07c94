import { expect, test } from 'vitest';
import type { Alignment } from '../alignment.ts';
import { type Stamps, stampedRate } from './stamped-rate.ts';

/** Records every 15 min; the other clock is 37.4 s ahead and 180 ppm fast; stamps in whole seconds, cut off. */
function day(
  count: number,
  options: { set?: number; step?: number } = {},
): { alignments: Alignment[]; stamps: Stamps[] } {
  const alignments: Alignment[] = [];
  const stamps: Stamps[] = [];
  const { step = 1 } = options;
  for (let k = 0; k < count; k++) {
    const own = 34_800.37 + 900.61 * k - (options.set !== undefined && k >= count / 2 ? options.set : 0);
    const elapsed = 900.61 * k;
    const offset = 1.2 + ((k * 3.7) % 8.5);
    const other = 34_800.37 + 37.4 + elapsed * (1 + 180e-6) - offset;
    alignments.push({
      clock: 'a',
      other: 'b',
      pieces: [
        { from: 0, to: 24, offset, rate: 0, offsetUncertainty: 0.005, rateUncertainty: 1e-3, residual: 0, lags: [] },
      ],
      correlation: 1,
      second: undefined,
      by: 'speed',
    });
    const cut = (value: number): number => Math.floor(value / step) * step;
    stamps.push({ own: { value: cut(own), resolution: step }, other: { value: cut(other), resolution: step } });
  }
  return { alignments, stamps };
}

test('whole seconds over six hours give the rate within 30 ppm and the claim covers it', () => {
  const { alignments, stamps } = day(26);
  const rate = stampedRate(alignments, stamps);
  expect(Math.abs((rate?.value ?? 0) - 180e-6)).toBeLessThan(30e-6);
  expect(Math.abs((rate?.value ?? 0) - 180e-6)).toBeLessThan(2.5 * (rate?.standardUncertainty ?? 0));
});

test('hundredths of a second give it within 1 ppm', () => {
  const { alignments, stamps } = day(26, { step: 0.01 });
  expect(Math.abs((stampedRate(alignments, stamps)?.value ?? 0) - 180e-6)).toBeLessThan(1e-6);
});

test('a clock that was set back by an hour splits the day and does not spoil the rate', () => {
  const { alignments, stamps } = day(26, { set: 3600 });
  expect(Math.abs((stampedRate(alignments, stamps)?.value ?? 0) - 180e-6)).toBeLessThan(60e-6);
});

test('two records, half an hour at most, or no stamps give no rate', () => {
  const { alignments, stamps } = day(26);
  expect(stampedRate(alignments.slice(0, 2), stamps)).toBeUndefined();
  expect(
    stampedRate(
      alignments.slice(0, 3).map((one) => one),
      stamps.slice(0, 2),
    ),
  ).toBeUndefined();
  expect(stampedRate(alignments, [])).toBeUndefined();
});

test('stamps that do not belong to these records are not believed', () => {
  const { alignments, stamps } = day(26);
  const shuffled = stamps.map(({ own }, k) => ({
    own,
    other: { value: stamps[(k * 7) % 26].other.value - 900 * ((k * 7) % 26) + 900 * k, resolution: 1 },
  }));
  const moved = shuffled.map(({ own, other }, k) => ({ own, other: { ...other, value: other.value + (k % 2) * 9 } }));
  expect(stampedRate(alignments, moved)).toBeUndefined();
});
