import type { Finding } from '../../../core/quantities/index.ts';

/**
 * Where counters of time start again, as written: digits of a minute, an hour, half a day, a day in s and ms,
 * and the ends of 16, 24 and 32 bit counters and of round decimal ones.
 * @source widths of binary counters and of clock fields
 */
const ENDS: readonly number[] = [
  ...[60, 3600, 43200, 86400, 60e3, 3600e3, 43200e3, 86400e3],
  ...[2 ** 16, 2 ** 24, 2 ** 31, 2 ** 32, 2 ** 16 / 1000, 2 ** 31 / 1000, 2 ** 32 / 1000, 2 ** 32 / 1e6],
  ...[100, 1000, 10_000, 100_000, 1_000_000],
];
/** A counter that wraps is within this many steps of its end before and of zero after. @source our default */
const STEPS_NEAR = 4;

export interface Unwrapped {
  readonly written: Float64Array;
  readonly findings: readonly Finding[];
}

/**
 * The same time without the falls of a counter that started again, in the written unit, as long as `written`.
 * Only falls from a counter's end to zero are lifted; any other fall is left as it is.
 *
 * @param step median step in the written unit, > 0
 */
export function unwrapped(written: Float64Array, step: number): Unwrapped {
  const lifted = Float64Array.from(written);
  const findings: Finding[] = [];
  let lift = 0;
  let before = Number.NaN;
  for (let i = 0; i < written.length; i++) {
    const value = written[i];
    if (Number.isNaN(value)) continue;
    const end = value < before ? endBetween({ before, after: value, step }) : undefined;
    if (end !== undefined) {
      lift += end;
      findings.push({
        kind: 'time-wrap',
        weight: 'note',
        message: `time falls from ${before} to ${value}: a counter that starts again at ${end}, carried on`,
        place: { line: i },
        numbers: { before, after: value, end },
        rule: `within ${STEPS_NEAR} steps of a counter's end (our default)`,
      });
    }
    lifted[i] = value + lift;
    before = value;
  }
  return { written: lifted, findings };
}

function endBetween({ before, after, step }: { before: number; after: number; step: number }): number | undefined {
  return ENDS.find((end) => {
    const carried = after + end - before;
    return before < end && before > end - STEPS_NEAR * step && carried > 0 && carried < STEPS_NEAR * step;
  });
}
