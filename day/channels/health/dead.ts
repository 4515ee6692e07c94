import { angularSpeed, REVOLUTION } from '../../../core/quantities/index.ts';
import { type CheckInput, type CheckResult, HEALTHY, NEVER_ZERO, partner } from './check.ts';

/** The engine runs above this speed. @source below any idle speed; our default */
const RUNNING = angularSpeed((300 * REVOLUTION) / 60);
/** Rows with a running engine needed before silence means something. @source our default */
const ROWS = 50;

/** A channel that is zero from the first row to the last while the engine runs was never connected. */
export function dead({ channel, context }: CheckInput): CheckResult {
  if (!NEVER_ZERO.has(channel.meaning)) return HEALTHY;
  const { samples } = channel;
  let values = 0;
  for (const value of samples) {
    if (value !== 0 && !Number.isNaN(value)) return HEALTHY;
    if (value === 0) values += 1;
  }
  const running = runningRows(context, channel.name);
  if (values < ROWS || running < ROWS) return HEALTHY;
  return {
    findings: [
      {
        kind: 'dead-channel',
        weight: 'fault',
        message: `"${channel.name}" is zero throughout while the engine runs: not connected, or not recorded`,
        place: { channel: channel.name },
        numbers: { rows: values, runningRows: running },
        rule: `zero for all rows, engine above 300 rpm for ${ROWS} rows or more (our default)`,
      },
    ],
    masks: [{ from: 0, to: samples.length, reason: 'stuck' }],
  };
}

function runningRows(context: CheckInput['context'], name: string): number {
  const engine = partner(context, ['engine-speed']);
  const moving =
    engine && engine.name !== name ? engine : partner(context, ['roll-speed', 'vehicle-speed', 'wheel-speed']);
  if (!moving || moving.name === name) return 0;
  const limit = moving.meaning === 'engine-speed' ? RUNNING : 1;
  return moving.samples.reduce((count, value) => (value > limit ? count + 1 : count), 0);
}
