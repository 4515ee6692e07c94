import { localQuadratic, type Piece } from '../../../core/numerics/index.ts';
import { type Meaning, sampleTrack } from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';

/**
 * What a record shows of the drive, on even points fine enough to decide on (20 Hz, slower for slow logs). All arrays are as long as
 * `time`; NaN where unknown. pieces: ranges of points without a gap.
 */
export interface Drive {
  readonly lead: Track;
  readonly step: number;
  readonly time: Float64Array;
  readonly pieces: readonly Piece[];
  /** Of the roll surface or the vehicle [m/s]; NaN throughout when only an engine speed is known. */
  readonly speed: Float64Array;
  /** Rate of change of the lead speed, divided by that speed [1/s]. */
  readonly growth: Float64Array;
  readonly acceleration: Float64Array;
  readonly engineSpeed: Float64Array;
  /** Pedal or throttle, 0…1. */
  readonly throttle: Float64Array;
  readonly clutch: Float64Array;
  readonly force: Float64Array;
  /** The force already holds what speeds the roll up. */
  readonly wholeForce: boolean;
}

const LEADS: readonly Meaning[] = ['roll-speed', 'vehicle-speed', 'wheel-speed', 'engine-speed'];

/** Half width of the window through which the drive is seen [s], and the distance of its points [s]. @source our default */
const WINDOW = 0.4;
const STEP = 0.05;

/** The record's lead track: roll speed, else vehicle, wheel or engine speed. Segment indices count its samples. */
export function leadTrack(record: JoinedRecord): Track | undefined {
  for (const meaning of LEADS) {
    const track = bestTrack(record, meaning);
    if (track) return track;
  }
  return undefined;
}

/** The drive of a record; undefined when it holds no speed at all. */
export function driveOf(record: JoinedRecord): Drive | undefined {
  const lead = leadTrack(record);
  if (lead === undefined) return undefined;
  const period = periodOf(lead);
  const halfWidth = Math.max(WINDOW, 2.6 * period);
  const step = Math.max(STEP, period);
  const { time, pieces } = evenPoints(lead, step);
  const samples = usable(lead);
  const { value, slope } = localQuadratic({
    times: lead.times,
    samples: samples,
    pieces: lead.pieces,
    bandwidth: 0.712 / halfWidth,
    at: time,
  });
  const engineTrack = bestTrack(record, 'engine-speed');
  const engineLeads = lead.channel.meaning === 'engine-speed';
  const unknown = (): Float64Array => new Float64Array(time.length).fill(Number.NaN);
  const at = (...meanings: Meaning[]): Float64Array => {
    const track = meanings.map((meaning) => bestTrack(record, meaning)).find((each) => each !== undefined);
    return track ? sampleTrack(track, time) : unknown();
  };
  const force = bestTrack(record, 'tractive-force') ?? bestTrack(record, 'brake-force');
  return {
    lead,
    step,
    time,
    pieces,
    speed: engineLeads ? unknown() : value.map((x) => Math.abs(x)),
    acceleration: engineLeads ? unknown() : slope.map((x, i) => x * Math.sign(value[i])),
    growth: slope.map((x, i) => x / Math.max(Math.abs(value[i]), 1e-6)),
    engineSpeed: engineTrack ? smoothedAt(engineTrack, time) : unknown(),
    throttle: throttleOf(record, time) ?? unknown(),
    clutch: at('clutch'),
    force: force ? smoothedAt(force, time) : unknown(),
    wholeForce: force?.channel.meaning === 'tractive-force',
  };
}

/** Index of the first sample of the lead track at or after t. */
export function sampleAtOrAfter({ times }: Track, t: number): number {
  let low = -1;
  let high = times.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle] < t - 1e-9) low = middle;
    else high = middle;
  }
  return high;
}

/** Own values of a meaning, quickest first. */
function bestTrack(record: JoinedRecord, meaning: Meaning): Track | undefined {
  const candidates = record.tracks.filter(
    ({ channel }) =>
      channel.meaning === meaning &&
      channel.origin !== 'derived' &&
      channel.samples.some((sample, i) => channel.mask[i] === 0 && Number.isFinite(sample)),
  );
  return candidates.sort((a, b) => b.channel.refreshRate - a.channel.refreshRate)[0];
}

/** Whichever of pedal and throttle opens further; a full pedal says more than a throttle plate that never reaches its stop. */
function throttleOf(record: JoinedRecord, time: Float64Array): Float64Array | undefined {
  const tracks = (['pedal', 'throttle'] as const).flatMap((meaning) => bestTrack(record, meaning) ?? []);
  const sampled = tracks.map((track) => sampleTrack(track, time));
  const opens = (values: Float64Array): boolean => values.some((value) => value >= 0.95);
  return sampled.find(opens) ?? sampled[0];
}

function smoothedAt(track: Track, time: Float64Array): Float64Array {
  const halfWidth = Math.max(WINDOW / 2, 2.6 * periodOf(track));
  return localQuadratic({
    times: track.times,
    samples: usable(track),
    pieces: track.pieces,
    bandwidth: 0.712 / halfWidth,
    at: time,
  }).value;
}

/** Distance of real renewals [s]. */
function periodOf({ channel, times, pieces }: Track): number {
  const steps = pieces.flatMap(({ from, to }) =>
    to - from > 1 ? [(times[to - 1] - times[from]) / (to - from - 1)] : [],
  );
  const step = steps.sort((a, b) => a - b)[steps.length >> 1] ?? 1;
  return channel.refreshRate > 0 ? Math.max(step, 1 / channel.refreshRate) : step;
}

function usable({ channel }: Track): Float64Array {
  return channel.samples.map((sample, i) => (channel.mask[i] === 0 && Number.isFinite(sample) ? sample : Number.NaN));
}

function evenPoints({ times, pieces }: Track, step: number): { time: Float64Array; pieces: Piece[] } {
  const points: number[] = [];
  const ranges: Piece[] = [];
  for (const { from, to } of pieces) {
    if (to <= from) continue;
    const start = points.length;
    const count = Math.floor((times[to - 1] - times[from]) / step + 1e-6);
    for (let k = 0; k <= count; k++) points.push(times[from] + k * step);
    ranges.push({ from: start, to: points.length });
  }
  return { time: Float64Array.from(points), pieces: ranges };
}
