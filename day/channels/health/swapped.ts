import type { Meaning } from '../meanings.ts';
import { type CheckInput, type CheckResult, HEALTHY, spanOf } from './check.ts';

/** Heavy things: their temperature follows load over minutes, not at once. */
const HEAVY: ReadonlySet<Meaning> = new Set<Meaning>([
  ...([
    'oil-temperature',
    'coolant-temperature',
    'gearbox-temperature',
    'axle-temperature',
    'fuel-temperature',
    'ambient-temperature',
  ] as const),
]);
/** What moves at once with load. */
const QUICK: ReadonlySet<Meaning> = new Set<Meaning>([
  ...([
    'manifold-pressure',
    'manifold-gauge-pressure',
    'boost-pressure',
    'throttle',
    'pedal',
    'engine-speed',
    'air-flow',
  ] as const),
  ...(['tractive-force', 'exhaust-pressure', 'lambda', 'turbo-speed'] as const),
]);
/** Correlation of movements from which two columns show the same thing. @source our default */
const SAME = 0.9;
/** Movements are taken over this time [s]: long for a pressure, nothing for an oil sump. @source our default */
const OVER = 1;
/** A temperature must move at all [K] before anything is said. @source our default */
const MOVES = 8;

/** A slow temperature whose quick movements are those of a pressure, a speed or a pedal bears the wrong name. */
export function swapped({ channel, clock, context }: CheckInput): CheckResult {
  if (!HEAVY.has(channel.meaning) || spanOf(channel.samples) < MOVES) return HEALTHY;
  const rows = movementRows(clock.times, clock.pieces);
  let best = { name: '', correlation: 0 };
  for (const other of context.channels) {
    if (!QUICK.has(other.meaning)) continue;
    const correlation = correlationOf({ a: channel.samples, b: other.samples, rows });
    if (Math.abs(correlation) > Math.abs(best.correlation)) best = { name: other.name, correlation };
  }
  if (Math.abs(best.correlation) < SAME) return HEALTHY;
  return {
    findings: [
      {
        kind: 'swapped',
        weight: 'fault',
        message: `"${channel.name}" moves with "${best.name}" from second to second (correlation ${best.correlation.toFixed(2)}): no temperature does; names may be swapped`,
        place: { channel: channel.name },
        numbers: { correlation: best.correlation, limit: SAME, partner: best.name },
        rule: `correlation of movements over ${OVER} s of ${SAME} or more (our default)`,
      },
    ],
    masks: [],
  };
}

interface Row {
  readonly from: number;
  readonly to: number;
}

function movementRows(times: Float64Array, pieces: readonly Row[]): readonly Row[] {
  const rows: Row[] = [];
  for (const piece of pieces) {
    for (let from = piece.from, to = piece.from; to < piece.to; from++) {
      while (to < piece.to && times[to] - times[from] < OVER) to += 1;
      if (to < piece.to) rows.push({ from, to });
    }
  }
  return rows;
}

interface Pair {
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly rows: readonly Row[];
}

/** Pearson correlation of the movements of two columns; rows with a missing sample are dropped in pairs. */
function correlationOf({ a, b, rows }: Pair): number {
  let [n, sa, sb, saa, sbb, sab] = [0, 0, 0, 0, 0, 0];
  for (const { from, to } of rows) {
    const [x, y] = [a[to] - a[from], b[to] - b[from]];
    if (Number.isNaN(x) || Number.isNaN(y)) continue;
    n += 1;
    sa += x;
    sb += y;
    saa += x * x;
    sbb += y * y;
    sab += x * y;
  }
  const scale = Math.sqrt((saa - (sa * sa) / n) * (sbb - (sb * sb) / n));
  return n < 20 || !(scale > 0) ? 0 : (sab - (sa * sb) / n) / scale;
}
