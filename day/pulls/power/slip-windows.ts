import { type Finding, formatQuantity } from '../../../core/quantities/index.ts';
import type { PullSignals } from './chain.ts';
import type { SlipReference } from './signals.ts';

/** Slip above the creep of a rolling tyre from which it is worth a word, and from which the pull's power is not used [1]. @source common practice, no source: 1.5 % for more than 150 ms; gross slip above 5 % */
export const SLIP_LIMITS = { noted: 0.015, gross: 0.05, shortest: 0.15 } as const;

/** Where the tyre slipped: as long as `time`, 1 where power is not used; and what is said of it. */
export interface SlipWindows {
  readonly gross: Uint8Array;
  readonly findings: readonly Finding[];
}

/**
 * Holds slip against what creep explains, creep·F with F the force in the contact. Creep itself is known only so well: two of its
 * standard uncertainties are allowed on top.
 *
 * @param rollMass what the logged force leaves out [kg]
 */
export function slipWindows(signals: PullSignals, reference: SlipReference | undefined, rollMass: number): SlipWindows {
  const { time } = signals;
  const gross = new Uint8Array(time.length);
  if (!reference) return { gross, findings: [] };
  const excess = signals.slip.map((slip, i) => {
    const force = Math.max(0, signals.force[i] + rollMass * signals.acceleration[i]);
    return slip - (reference.creep + 2 * reference.creepSpread) * force;
  });
  const windows = stretchesAbove(time, excess, SLIP_LIMITS.gross);
  for (const { from, to } of windows) gross.fill(1, from, to);
  const noted = stretchesAbove(time, excess, SLIP_LIMITS.noted).filter(
    ({ from, to }) => !windows.some((one) => one.from < to && one.to > from),
  );
  return {
    gross,
    findings: [
      ...windows.map((window) => finding('gross-slip', 'fault', { window: widened(window, excess), signals })),
      ...noted.map((window) => finding('slip-above-creep', 'doubt', { window, signals })),
    ],
  };
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

function stretchesAbove(time: Float64Array, values: Float64Array, limit: number): readonly Stretch[] {
  const found: Stretch[] = [];
  let from = -1;
  for (let i = 0; i <= values.length; i++) {
    const above = i < values.length && values[i] > limit;
    if (above && from < 0) from = i;
    if (above || from < 0) continue;
    if (time[i - 1] - time[from] >= SLIP_LIMITS.shortest) found.push({ from, to: i });
    from = -1;
  }
  return found;
}

/** A gross slip is told from where it left creep to where it came back. */
function widened({ from, to }: Stretch, excess: Float64Array): Stretch {
  let [first, last] = [from, to];
  while (first > 0 && excess[first - 1] > SLIP_LIMITS.noted) first--;
  while (last < excess.length && excess[last] > SLIP_LIMITS.noted) last++;
  return { from: first, to: last };
}

function finding(
  kind: 'gross-slip' | 'slip-above-creep',
  weight: Finding['weight'],
  { window, signals }: { window: Stretch; signals: PullSignals },
): Finding {
  const { from, to } = window;
  let most = 0;
  for (let i = from; i < to; i++) most = Math.max(most, signals.slip[i]);
  const speeds = [signals.engineSpeed[from], signals.engineSpeed[to - 1]].map((omega) =>
    formatQuantity(omega, 'engine-speed'),
  );
  const says =
    kind === 'gross-slip'
      ? 'the tyres slip far beyond creep, and power there is not used for peaks'
      : 'the tyres slip more than creep explains';
  return {
    kind,
    weight,
    message: `${says}: up to ${(100 * most).toFixed(1)} % from ${speeds.join(' to ')}`,
    place: { from: signals.time[from], to: signals.time[to - 1] },
    numbers: {
      slip: most,
      noted: SLIP_LIMITS.noted,
      gross: SLIP_LIMITS.gross,
      lowSpeed: signals.engineSpeed[from],
      highSpeed: signals.engineSpeed[to - 1],
    },
    rule: 'slip above creep, common practice, no source',
  };
}
