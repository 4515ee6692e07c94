import { answered, type Finding, type Measured, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { JoinedRecord } from '../record.ts';
import type { Segment } from '../segment.ts';
import { isComputedRatio } from './computed-ratio.ts';
import { type Drive, driveOf } from './drive.ts';
import { gearOfRatio, gearTable } from './gears.ts';
import { type RatioPoint, ratioFit } from './ratio-fit.ts';
import { topOf } from './states.ts';

/** A stretch that the ratio was taken from [s]. */
export interface RatioWindow {
  readonly fromTime: number;
  readonly toTime: number;
  readonly kind: Segment['kind'];
}

/**
 * What engine speed over roll speed is without slip, in the gear of the pulls:
 *
 *     ω/v = ratio·(1 + growth·v²)·(1 + creep·F)
 *
 * ratio [rad/m] at standstill and no force; growth [s²/m²]; creep [1/N], or [s²/m] of acceleration where no force is logged.
 * relative: no low-force data; slip counts from the lowest force there was.
 */
export interface LowForceRatio {
  readonly ratio: Measured;
  readonly growth: Measured;
  readonly creep: Measured;
  readonly creepOf: 'force' | 'acceleration';
  readonly gear: number | undefined;
  readonly windows: readonly RatioWindow[];
  readonly relative: boolean;
  /** Standard deviation of ln ratio in the windows after the fit [1]. */
  readonly spread: number;
}

/** Low force is below this share of the record's top force (or acceleration). @source our default: creep is then under a third of its top */
export const LOW_FORCE = 0.3;
/** Without low force: the lowest part of the points in the gear. @source our default */
const LOWEST_PART = 0.2;
/** Fewer points than 1 s of the record are no low-force data [s]. @source our default */
const LEAST_SECONDS = 1;

/**
 * The slip reference of a record, from low-force data only: lead-in, holds, overrun, part load before slip can exist. Full load never
 * counts unless there is nothing else, and then with the finding `slip-is-relative`. Growth and creep keep their priors (common
 * practice) where the windows do not say more.
 *
 * Findings: `computed-engine-speed` (the ratio never leaves the log's resolution: it cannot show slip), `slip-is-relative`,
 * `growth-not-measured`. Refuses (`missing-channel`) without both speeds, (`no-steady-ratio`) when no gear holds.
 *
 * @valid   a driveline that is closed; a converter's slip is part of the ratio here
 * @source  model and priors: common practice, no source
 */
export function lowForceRatio(
  record: JoinedRecord,
  segments: readonly Segment[],
  facts: RatioFacts = {},
): Outcome<LowForceRatio> {
  const drive = withWholeForce(driveOf(record), facts.rollMass);
  if (drive === undefined || !drive.engineSpeed.some((w, i) => w > 0 && drive.speed[i] > 0)) {
    return refused({
      kind: 'missing-channel',
      message: 'missing channel: the ratio needs engine speed and roll speed',
    });
  }
  const gear = gearOfPulls(drive, segments);
  const points = pointsIn(drive, segments, gear);
  if (points.length * drive.step < LEAST_SECONDS) {
    return refused({
      kind: 'no-steady-ratio',
      message: 'no stretch in which engine and roll keep one ratio',
      numbers: { seconds: points.length * drive.step, limit: LEAST_SECONDS },
      rule: 'our default',
    });
  }
  const creepOf = drive.force.some((f) => !Number.isNaN(f)) ? 'force' : 'acceleration';
  const { chosen, relative } = lowForcePoints(drive, points, creepOf);
  const fit = ratioFit(chosen, { creepOf, step: drive.step, lag: worstOffset(record) });
  const findings = findingsOf(record, { relative, grown: fit.growthMeasured, gear, drive });
  return answered(
    {
      ratio: fit.ratio,
      growth: fit.growth,
      creep: fit.creep,
      creepOf,
      gear,
      windows: windowsOf(drive, chosen, segments),
      relative,
      spread: fit.spread,
    },
    findings,
  );
}

/** What a person knows that makes the ratio surer. */
export interface RatioFacts {
  /** Mass of the rolls at their surface [kg]: what the tyre also pushes when the logged force is the brake's alone. */
  readonly rollMass?: number;
}

/** Creep follows the force in the tyre's contact: the brake's and what speeds the rolls up. In overrun the brake is off and the rolls push. */
function withWholeForce(drive: Drive | undefined, rollMass: number | undefined): Drive | undefined {
  if (!drive || drive.wholeForce || rollMass === undefined) return drive;
  const force = drive.force.map((brake, i) => brake + rollMass * drive.acceleration[i]);
  return { ...drive, force, wholeForce: true };
}

/** The gear in which most of the full-load time lies; without full load the one seen longest. */
function gearOfPulls(drive: Drive, segments: readonly Segment[]): number | undefined {
  const table = gearTable(drive);
  const counts = new Map<number, number>();
  const inPull = (t: number): boolean =>
    segments.some(({ kind, fromTime, toTime }) => kind === 'full-load' && t >= fromTime && t <= toTime);
  const anyPull = segments.some(({ kind }) => kind === 'full-load');
  drive.time.forEach((t, i) => {
    if (anyPull && !inPull(t)) return;
    const gear = gearOfRatio(table, drive.engineSpeed[i] / drive.speed[i]);
    if (gear > 0) counts.set(gear, (counts.get(gear) ?? 0) + 1);
  });
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
}

/** Points in this gear while moving, with what acts on the tyre. */
function pointsIn(drive: Drive, segments: readonly Segment[], gear: number | undefined): RatioPoint[] {
  const table = gearTable(drive);
  const target = table.gears.find((candidate) => candidate.gear === gear)?.ratio;
  const points: RatioPoint[] = [];
  drive.time.forEach((time, i) => {
    const v = drive.speed[i];
    const w = drive.engineSpeed[i];
    if (!(v > 1.5 && w > 60) || drive.clutch[i] > 0.5 || Number.isNaN(drive.growth[i])) return;
    const ratio = w / v;
    if (target !== undefined && Math.abs(Math.log(ratio / target)) > 0.05) return;
    const segment = segments.find(({ fromTime, toTime }) => time >= fromTime && time <= toTime);
    if (segment?.kind === 'coast-down' || segment?.kind === 'standstill') return;
    points.push({
      index: i,
      time,
      speed: v,
      logarithm: Math.log(ratio),
      force: drive.force[i],
      acceleration: drive.acceleration[i],
      slope: drive.growth[i],
      kind: segment?.kind,
    });
  });
  return points;
}

function lowForcePoints(
  drive: Drive,
  points: readonly RatioPoint[],
  creepOf: 'force' | 'acceleration',
): { chosen: RatioPoint[]; relative: boolean } {
  const load = (point: RatioPoint): number => Math.abs(creepOf === 'force' ? point.force : point.acceleration);
  const top = topOf(creepOf === 'force' ? drive.force : drive.acceleration, drive.step);
  const low = points.filter((point) => point.kind !== 'full-load' && load(point) <= LOW_FORCE * top);
  if (low.length * drive.step >= LEAST_SECONDS) return { chosen: low, relative: false };
  const known = points.filter((point) => !Number.isNaN(load(point))).sort((a, b) => load(a) - load(b));
  const count = Math.max(Math.ceil(LEAST_SECONDS / drive.step), Math.round(LOWEST_PART * known.length));
  return { chosen: known.slice(0, count).sort((a, b) => a.time - b.time), relative: true };
}

function windowsOf(drive: Drive, points: readonly RatioPoint[], segments: readonly Segment[]): RatioWindow[] {
  const windows: RatioWindow[] = [];
  for (const point of points) {
    const last = windows[windows.length - 1];
    const kind = point.kind ?? segments.find(({ fromTime }) => fromTime > point.time)?.kind ?? 'part-load';
    if (last && last.kind === kind && point.time - last.toTime <= 2.5 * drive.step) {
      windows[windows.length - 1] = { ...last, toTime: point.time };
    } else windows.push({ fromTime: point.time, toTime: point.time, kind });
  }
  return windows.filter(({ fromTime, toTime }) => toTime > fromTime);
}

function worstOffset({ alignment }: JoinedRecord): number {
  return Math.max(0, ...alignment.pieces.map((piece) => piece.offsetUncertainty));
}

interface Known {
  readonly relative: boolean;
  readonly grown: boolean;
  readonly gear: number | undefined;
  readonly drive: Drive;
}

function findingsOf(record: JoinedRecord, { relative, grown, gear, drive }: Known): Finding[] {
  const findings: Finding[] = [];
  const computed = isComputedRatio(record, drive);
  if (computed !== undefined) {
    findings.push({
      kind: 'computed-engine-speed',
      weight: 'fault',
      message:
        'engine speed is computed from roll speed (their ratio never leaves the log’s resolution): it cannot show slip',
      place: { channel: computed.channel },
      numbers: { ratio: computed.ratio, largest: computed.largest, resolution: computed.resolution },
      rule: 'our default',
    });
  }
  if (relative) {
    findings.push({
      kind: 'slip-is-relative',
      weight: 'doubt',
      message: 'no low-force data: slip counts from the lowest force there was',
      ...(gear === undefined ? {} : { numbers: { gear } }),
      rule: 'our default',
    });
  }
  if (!grown) {
    findings.push({
      kind: 'growth-not-measured',
      weight: 'note',
      message: 'tyre growth is not measured by the low-force data; common practice is taken',
      rule: 'common practice, no source',
    });
  }
  return findings;
}
