import type { Meaning } from '../../channels/index.ts';
import type { PullResult } from '../../pulls/index.ts';
import type { Fault } from '../detector.ts';
import { BELIEVED, isBelieved } from '../pull-verdict.ts';
import { believedEngineSpeed } from '../scene/believed.ts';
import { middle } from '../scene/series.ts';
import { onTimes, type SceneTrack, valuesBetween } from '../scene/track.ts';
import type { Occurrence } from '../verdict.ts';
import { COMPARED, type HealthEntry } from './entries.ts';

/** Engine speeds are compared in steps of this [rad/s], about 190 rpm. @source our default */
export const SPEED_STEP = 20;
/** Tip-in and lift-off stay out [s]; what a verdict voids spoils this much to either side of it [s]. @source our default */
const AFTER_START = 0.8;
const BEFORE_END = 0.2;
const BESIDE = 0.2;
/** Times at which channels are read [Hz], and how many of them a step needs. @source our default */
const READ_RATE = 20;
const FEWEST = 3;
/** Below this step no engine runs under its own power: 40 rad/s, 380 rpm. @source our default */
const LOWEST_STEP = 2;

/** One step of engine speed of one pull: middle value of each channel in it, by meaning or `meaning@position`. SI; NaN where unknown. */
export interface PullCell {
  readonly step: number;
  readonly speed: number;
  readonly power: number;
  readonly values: ReadonlyMap<string, number>;
}

/**
 * One pull as health compares it. key: the entry's id, with a number where the entry holds several pulls. usable: share of the full load that
 * nothing spoilt. starts: level of each channel just before full load. believed: what went wrong in it by its verdict.
 */
export interface PullState {
  readonly key: string;
  readonly entry: HealthEntry;
  readonly pull: PullResult;
  readonly cells: readonly PullCell[];
  readonly usable: number;
  readonly starts: ReadonlyMap<string, number>;
  readonly believed: readonly Occurrence[];
}

/** Every pull of the day, in order, with its cells. */
export function pullStates(entries: readonly HealthEntry[]): readonly PullState[] {
  return entries.flatMap((entry) => {
    const pulls = entry.result?.pulls ?? [];
    return pulls.map((pull, index) =>
      pullState(entry, pull, { index, key: pulls.length > 1 ? `${entry.id} (${index + 1})` : entry.id }),
    );
  });
}

function pullState(entry: HealthEntry, pull: PullResult, { key, index }: { key: string; index: number }): PullState {
  const { fromTime, toTime } = pull.segment;
  const count = Math.max(0, Math.floor((toTime - fromTime - AFTER_START - BEFORE_END) * READ_RATE) + 1);
  const all = Float64Array.from({ length: count }, (_, k) => fromTime + AFTER_START + k / READ_RATE);
  const believed = believedOf(entry, index);
  const spoilt = believed.filter(spoilsPower).flatMap(({ windows }) => windows);
  const times = all.filter((time) => !spoilt.some(({ from, to }) => time >= from - BESIDE && time <= to + BESIDE));
  const lost = new Set(believed.flatMap(({ voids, channel }) => (voids === 'channel' && channel ? [channel] : [])));
  const tracks = entry.tracks.filter(({ name }) => !lost.has(name));
  const starts = new Map<string, number>();
  for (const track of tracks) {
    if (!COMPARED.has(track.meaning) || starts.has(nameOf(track))) continue;
    starts.set(nameOf(track), middle(valuesBetween(track, fromTime - 1, fromTime + 0.3)));
  }
  const usable = count > 0 ? times.length / count : 0;
  return {
    key,
    entry,
    pull,
    starts,
    usable,
    believed,
    cells: cellsOf({ ...entry, tracks }, pull.curve, { times, all }),
  };
}

/** Faults under which the power of the moment is no measure of health, whatever else can be done with it. */
const SPOILING: ReadonlySet<Fault> = new Set<Fault>([
  'wheel-slip',
  'clutch-slip',
  'converter-slip',
  'ignition-breakup',
  'spark-energy',
  'lost-sync',
  'rev-or-torque-cut',
  'knock',
  'pre-ignition',
  'surge',
]);

/** Whether what happened makes the power of the moment no measure: its windows are in no cell. */
export function spoilsPower({ voids, hypotheses }: Pick<Occurrence, 'voids' | 'hypotheses'>): boolean {
  return (
    voids === 'power' || hypotheses.some(({ fault, probability }) => probability >= BELIEVED && SPOILING.has(fault))
  );
}

/** What is believed to have gone wrong in one pull, and nobody overruled. */
function believedOf({ verdicts }: HealthEntry, index: number): readonly Occurrence[] {
  const occurrences = verdicts.find((one) => one.index === index)?.occurrences ?? [];
  return occurrences.filter((one) => one.overruled === undefined && isBelieved(one));
}

/** Name of a channel in a cell. */
export function channelName(meaning: Meaning, position?: string): string {
  return position === undefined ? meaning : `${meaning}@${position}`;
}

function nameOf({ meaning, position }: SceneTrack): string {
  return channelName(meaning, position);
}

function cellsOf(
  entry: HealthEntry,
  curve: PullResult['curve'] | undefined,
  { times, all }: { readonly times: Float64Array; readonly all: Float64Array },
): readonly PullCell[] {
  const { tracks } = entry;
  const logged = tracks.find(({ meaning }) => meaning === 'engine-speed');
  const speeds = logged ? onTimes(believedEngineSpeed(logged), all) : curveOn(curve, curve?.engineSpeed, all);
  const known = curve?.rollPower.map((value, i) => (curve.valid[i] === 1 ? value : Number.NaN));
  const power = curveOn(curve, known, all);
  const columns = new Map<string, Float64Array>();
  const station = entry.result?.conditions.pressure?.value;
  if (station !== undefined) columns.set('barometric-pressure', new Float64Array(all.length).fill(station));
  for (const track of tracks) {
    if (COMPARED.has(track.meaning) && !columns.has(nameOf(track))) columns.set(nameOf(track), onTimes(track, all));
  }
  const kept = new Set(times);
  const bySteps = new Map<number, number[]>();
  speeds.forEach((speed, i) => {
    const step = Math.round(speed / SPEED_STEP);
    if (!(step >= LOWEST_STEP) || !kept.has(all[i])) return;
    const indices = bySteps.get(step);
    if (indices) indices.push(i);
    else bySteps.set(step, [i]);
  });
  return [...bySteps]
    .filter(([, indices]) => indices.length >= FEWEST)
    .sort(([a], [b]) => a - b)
    .map(([step, indices]) => ({
      step,
      speed: middle(indices.map((i) => speeds[i])),
      power: middle(indices.map((i) => power[i])),
      values: new Map([...columns].map(([name, column]) => [name, middle(indices.map((i) => column[i]))])),
    }));
}

/** Cells of an entry's whole record, whatever was done in it: for what follows engine speed and temperature alone. */
export function recordCells(entry: HealthEntry): readonly PullCell[] {
  const logged = entry.tracks.find(({ meaning }) => meaning === 'engine-speed');
  if (!logged || logged.times.length < 2) return [];
  const [from, to] = [logged.times[0], logged.times[logged.times.length - 1]];
  const count = Math.max(0, Math.floor((to - from) * READ_RATE) + 1);
  const all = Float64Array.from({ length: count }, (_, k) => from + k / READ_RATE);
  return cellsOf(entry, undefined, { times: all, all });
}

/** A line of a curve at other times, straight between its points; NaN outside and across unknown points. */
function curveOn(
  curve: PullResult['curve'] | undefined,
  values: Float64Array | undefined,
  at: Float64Array,
): Float64Array {
  if (!curve || !values) return new Float64Array(at.length).fill(Number.NaN);
  const { time } = curve;
  let i = 1;
  return at.map((t) => {
    while (i < time.length - 1 && time[i] < t) i += 1;
    if (time.length < 2 || !(time[i - 1] <= t && t <= time[i])) return Number.NaN;
    return values[i - 1] + ((values[i] - values[i - 1]) * (t - time[i - 1])) / (time[i] - time[i - 1]);
  });
}

/** Channel of a cell: at its own name, else the mean of its positions (banks, cylinders); NaN without any. */
export function cellValue({ values }: PullCell, meaning: Meaning): number {
  const own = values.get(meaning);
  if (own !== undefined) return own;
  const parts = [...values].filter(([name, value]) => name.startsWith(`${meaning}@`) && Number.isFinite(value));
  return parts.length > 0 ? parts.reduce((sum, [, value]) => sum + value, 0) / parts.length : Number.NaN;
}

/** Manifold pressure of a cell [Pa], absolute where it is logged so; above the barometer else. */
export function manifoldPressure(cell: PullCell): number {
  const absolute = cellValue(cell, 'manifold-pressure');
  if (Number.isFinite(absolute)) return absolute;
  return cellValue(cell, 'manifold-gauge-pressure') + cellValue(cell, 'barometric-pressure');
}

/** Middle of a quantity over the cells of a pull; NaN without any. */
export function overCells(pull: PullState, read: (cell: PullCell) => number): number {
  return middle(pull.cells.map(read));
}
