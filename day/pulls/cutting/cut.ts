import type { Finding } from '../../../core/quantities/index.ts';
import type { JoinedRecord } from '../record.ts';
import type { Segment } from '../segment.ts';
import { type Drive, driveOf, sampleAtOrAfter } from './drive.ts';
import { type GearTable, gearOfRatio, gearTable } from './gears.ts';
import { type Run, runsOf } from './runs.ts';
import { CUTTING, type States, statesOf } from './states.ts';

export interface Cut {
  readonly segments: readonly Segment[];
  readonly findings: readonly Finding[];
}

/** What a person knows that changes the cutting. */
export interface CutFacts {
  /** Full load starts at this throttle or pedal [1]; default 0.95, which also serves where it is not within 0…1. */
  readonly fullThrottle?: number;
}

/**
 * What was asked of the engine, stretch by stretch, in the order of the record: full-load pulls, holds, coast-downs (driveline open),
 * overrun (engine driven by the roll), part load, standstill. `from`, `to`: sample range of the lead track (roll speed, else vehicle,
 * wheel or engine speed), half-open.
 *
 * Full load is a throttle or pedal of at least 95 % and stable; without one, sustained power or force close to the record's own
 * top, with a finding that it is assumed. A gear change inside one acceleration does not end it. Ends are trimmed to where the
 * state is settled. A record without any speed has no segments, and a finding.
 *
 * @valid   1 Hz to 1 kHz; a stretch shorter than 0.5 s (three samples of a slow log) is not told
 */
export function cutRecord(record: JoinedRecord, facts?: CutFacts): Cut {
  const drive = driveOf(record);
  if (drive === undefined || drive.time.length < 4) {
    return {
      segments: [],
      findings: [{ kind: 'nothing-to-cut', weight: 'fault', message: 'missing speed: the record cannot be cut' }],
    };
  }
  const states = statesOf(drive, facts?.fullThrottle);
  const table = gearTable(drive);
  const segments = runsOf(drive, states).map((run) => segmentOf(drive, run, { states, table }));
  return { segments, findings: findingsOf(states, segments, record) };
}

interface Context {
  readonly states: States;
  readonly table: GearTable;
}

function segmentOf(drive: Drive, run: Run, context: Context): Segment {
  const fromTime = drive.time[run.from];
  const toTime = drive.time[run.to - 1];
  const from = sampleAtOrAfter(drive.lead, fromTime);
  const to = Math.max(from + 1, Math.min(drive.lead.times.length, sampleAtOrAfter(drive.lead, toTime + 1e-6)));
  const speeds = spanOf(drive.speed, run);
  const engine = spanOf(drive.engineSpeed, run);
  const gears = gearsIn(drive, run, context.table);
  const single = gears.length === 1 ? gears[0] : undefined;
  return {
    kind: run.kind,
    from,
    to,
    fromTime,
    toTime,
    ...(single ? { ratio: single.ratio } : {}),
    ...(single && context.table.gears.length > 0 ? { gear: single.gear } : {}),
    lowSpeed: speeds?.low ?? Number.NaN,
    highSpeed: speeds?.high ?? Number.NaN,
    ...(engine ? { lowEngineSpeed: engine.low, highEngineSpeed: engine.high } : {}),
    reason: reasonOf(drive, run, { ...context, gears }),
  };
}

interface GearSeen {
  readonly gear: number;
  readonly ratio: number;
}

/** Gears that a run stays in for at least a tenth of its time (and 0.4 s), in order; repeated ones once. */
function gearsIn(drive: Drive, run: Run, table: GearTable): GearSeen[] {
  const least = Math.max(0.4 / drive.step, 0.04 * (run.to - run.from), 2);
  const seen: GearSeen[] = [];
  let current = 0;
  let count = 0;
  let sum = 0;
  for (let i = run.from; i <= run.to; i++) {
    const ratio = i < run.to ? drive.engineSpeed[i] / drive.speed[i] : Number.NaN;
    const gear = Number.isNaN(ratio) ? 0 : gearOfRatio(table, ratio);
    if (gear !== current) {
      if (current > 0 && count >= least && seen[seen.length - 1]?.gear !== current)
        seen.push({ gear: current, ratio: Math.exp(sum / count) });
      current = gear;
      count = 0;
      sum = 0;
    }
    if (gear > 0) {
      count++;
      sum += Math.log(ratio);
    }
  }
  return seen;
}

function reasonOf(drive: Drive, run: Run, { states, gears }: Context & { gears: readonly GearSeen[] }): string {
  const changes = gears.length > 1 ? `; gears ${gears.map(({ gear }) => gear).join(', ')}` : '';
  const gap = run.gaps > 0 ? `; ${run.gaps} gap${run.gaps > 1 ? 's' : ''} inside` : '';
  return `${words(drive, run, states)}${changes}${gap}`;
}

function words(drive: Drive, run: Run, states: States): string {
  switch (run.kind) {
    case 'full-load':
      return states.rule === 'throttle'
        ? `throttle at least ${Math.round(100 * states.fullThrottle)} % and stable while speed rises`
        : 'power or force close to the top of the record while speed rises; no full throttle is logged';
    case 'hold':
      return states.rule === 'throttle' && isFull(drive, run, states) ? 'speed held at full throttle' : 'speed held';
    case 'coast-down':
      return drive.engineSpeed.some((x) => !Number.isNaN(x))
        ? 'speed falls and the engine does not follow it: driveline open'
        : 'speed falls; no engine speed says whether the driveline is open';
    case 'overrun':
      return 'speed falls and the engine is tied to it: driveline closed; brakes are not logged';
    case 'part-load':
      return 'driven below full load';
    case 'standstill':
      return 'no speed';
    default:
      return run.kind satisfies never;
  }
}

function isFull(drive: Drive, run: Run, states: States): boolean {
  return drive.throttle[(run.from + run.to) >> 1] >= states.fullThrottle;
}

function spanOf(values: Float64Array, { from, to }: Run): { low: number; high: number } | undefined {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = from; i < to; i++) {
    if (values[i] < low) low = values[i];
    if (values[i] > high) high = values[i];
  }
  return low <= high ? { low, high } : undefined;
}

function findingsOf({ rule, neverFull }: States, segments: readonly Segment[], record: JoinedRecord): Finding[] {
  const file = record.tracks[0]?.file;
  const place = file === undefined ? {} : { place: { file } };
  const findings: Finding[] = [];
  const pulls = segments.filter(({ kind }) => kind === 'full-load').length;
  if (rule === 'load' && pulls > 0) {
    findings.push({
      kind: 'full-load-assumed',
      weight: 'doubt',
      message: neverFull
        ? 'the throttle never reaches full; the accelerations closest to the record’s own top are taken as full load'
        : 'no throttle is logged; the accelerations closest to the record’s own top are taken as full load',
      ...place,
      numbers: { pulls, powerShare: CUTTING.powerShare, forceShare: CUTTING.forceShare },
      rule: 'our default',
    });
  }
  if (pulls === 0)
    findings.push({ kind: 'no-full-load', weight: 'note', message: 'no full-load pull in this record', ...place });
  return findings;
}
