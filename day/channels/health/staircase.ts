import { type CheckInput, type CheckResult, HEALTHY, rowStep, spanOf } from './check.ts';

/** A channel renewed less often than this share of the row rate is a staircase. @source our default */
const RENEWED_LESS = 0.6;

/** Says how often a held value is really renewed. The values are measurements; only their number is not what the rows promise. */
export function staircase({ channel, clock }: CheckInput): CheckResult {
  const rowRate = 1 / rowStep(clock);
  const rate = channel.refreshRate;
  if (!(rate < RENEWED_LESS * rowRate) || spanOf(channel.samples) === 0) return HEALTHY;
  return {
    findings: [
      {
        kind: 'staircase',
        weight: 'note',
        message: `"${channel.name}" is renewed about ${rate.toPrecision(2)} times a second in a file of ${rowRate.toPrecision(3)} rows a second`,
        place: { channel: channel.name },
        numbers: { refreshRate: rate, rowRate },
        rule: `renewed less than ${RENEWED_LESS} times per row (our default)`,
      },
    ],
    masks: [],
  };
}
