import type { Segment } from '../segment.ts';
import type { Drive } from './drive.ts';
import type { States } from './states.ts';

/** Points [from, to) of the drive in one state. gaps: how many gaps of the log lie inside. */
export interface Run {
  readonly kind: Segment['kind'];
  readonly from: number;
  readonly to: number;
  readonly gaps: number;
}

type Kind = Segment['kind'] | undefined;

/** Shortest run [s]; also three points. Longest interruption that does not end a run [s]: a gear change, a gap. @source our default */
const SHORTEST: Readonly<Record<Segment['kind'], number>> = {
  'full-load': 1.5,
  hold: 2,
  'coast-down': 2,
  overrun: 1.5,
  'part-load': 1,
  standstill: 1,
};
const SHIFT = 1.6;
const LONGEST_GAP = 3;
/** A full-load pull gains at least this much speed [1]. @source our default */
const LEAST_GAIN = 0.08;
/** Taken off at either end of a pull and of a coast-down [s]: load builds up, the driver lifts. @source our default */
const TRIM = 0.15;

/** States joined to runs: flickers healed, gear changes bridged, gaps bridged, short ones dropped, ends trimmed. */
export function runsOf(drive: Drive, states: States): Run[] {
  const healed = withoutFlicker(drive, states.kinds);
  const raw = rawRuns(drive, healed);
  const bridged = bridgedShifts(drive, raw);
  return bridged.flatMap((run) => {
    const trimmed = trimmedRun(drive, run);
    const length = drive.time[trimmed.to - 1] - drive.time[trimmed.from];
    if (trimmed.to - trimmed.from < 3 || length < SHORTEST[run.kind] - 2 * TRIM) return [];
    return run.kind === 'full-load' && !gains(drive, trimmed) ? [] : [trimmed];
  });
}

/** A state that lasts less than 0.3 s between two equal ones is that one. */
function withoutFlicker(drive: Drive, kinds: readonly Kind[]): Kind[] {
  const healed = [...kinds];
  const reach = Math.max(1, Math.round(0.3 / drive.step));
  let i = 1;
  while (i < healed.length) {
    if (healed[i] !== healed[i - 1] && healed[i - 1] !== undefined) {
      const again = healed.slice(i, i + reach + 1).indexOf(healed[i - 1]);
      if (again > 0 && !drive.growth.subarray(i, i + again).some((x) => Number.isNaN(x)))
        healed.fill(healed[i - 1], i, i + again);
    }
    i++;
  }
  return healed;
}

function rawRuns(drive: Drive, kinds: readonly Kind[]): Run[] {
  const runs: Run[] = [];
  for (const piece of drive.pieces) {
    let from = piece.from;
    for (let i = piece.from; i <= piece.to; i++) {
      if (i < piece.to && kinds[i] === kinds[from]) continue;
      const kind = kinds[from];
      if (kind !== undefined && i > from) runs.push({ kind, from, to: i, gaps: 0 });
      from = i;
    }
  }
  return runs;
}

/** Two runs of one kind with little between them are one: a gear change (speed does not fall much) or a gap of the log. */
function bridgedShifts(drive: Drive, runs: readonly Run[]): Run[] {
  const joined: Run[] = [];
  for (const run of runs) {
    const k = joined.findLastIndex((candidate) => candidate.kind === run.kind);
    const before = joined[k];
    if (before !== undefined && joins(drive, before, run)) {
      joined.splice(k);
      const gap = drive.pieces.some(
        (piece) => piece.from > before.from && piece.from >= before.to - 1 && piece.from <= run.from,
      );
      joined.push({ ...run, from: before.from, gaps: before.gaps + run.gaps + (gap ? 1 : 0) });
    } else joined.push(run);
  }
  return joined;
}

function joins(drive: Drive, before: Run, run: Run): boolean {
  const { time, speed, throttle } = drive;
  const pause = time[run.from] - time[before.to - 1];
  const sameStretch = drive.pieces.some((piece) => piece.from < before.to && run.from < piece.to);
  if (!sameStretch) return pause <= LONGEST_GAP && goesOn(drive, before, run);
  if (run.kind === 'standstill' || run.kind === 'part-load' || run.kind === 'hold') return pause <= 0.3;
  if (pause > Math.max(SHIFT, 2 * drive.step)) return false;
  if (run.kind !== 'full-load') return speed[run.from] <= speed[before.to - 1] * 1.01;
  for (let i = before.to; i < run.from; i++) if (throttle[i] < 0.9) return false;
  return !(speed[run.from] < 0.97 * speed[before.to - 1]);
}

/** Across a gap: the speed is where the trend of either side would have brought it. */
function goesOn(drive: Drive, before: Run, run: Run): boolean {
  const lead = Number.isNaN(drive.speed[run.from]) ? drive.engineSpeed : drive.speed;
  const a = lead[before.to - 1];
  const b = lead[run.from];
  const pause = drive.time[run.from] - drive.time[before.to - 1];
  const rates = [drive.growth[before.to - 1], drive.growth[run.from]].map((rate) => rate * pause);
  const ends = rates.map((change) => Math.log(b / a) - change);
  return Math.min(Math.abs(ends[0]), Math.abs(ends[1])) < 0.03 + Math.abs(rates[0] - rates[1]);
}

function trimmedRun(drive: Drive, run: Run): Run {
  if (run.kind !== 'full-load' && run.kind !== 'coast-down' && run.kind !== 'overrun') return run;
  let { from, to } = run;
  while (from + 3 < to && drive.time[from] - drive.time[run.from] < TRIM - 1e-9) from++;
  while (to - 3 > from && drive.time[run.to - 1] - drive.time[to - 1] < TRIM - 1e-9) to--;
  return { ...run, from, to };
}

function gains(drive: Drive, { from, to }: Run): boolean {
  const lead = Number.isNaN(drive.speed[from]) ? drive.engineSpeed : drive.speed;
  return lead[to - 1] > (1 + LEAST_GAIN) * lead[from];
}
