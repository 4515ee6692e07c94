import { sampleTrack } from '../../channels/index.ts';
import type { JoinedRecord } from '../record.ts';
import type { Drive } from './drive.ts';

export interface ComputedRatio {
  readonly channel: string;
  readonly ratio: number;
  /** Largest departure of ln ratio that 98 % of the samples keep, and the log's own resolution [1]. */
  readonly largest: number;
  readonly resolution: number;
}

/** A resolution coarser than this hides creep anyway and proves nothing [1]. @source our default */
const COARSEST = 0.004;
/** Share of the samples that must lie within their resolution. @source our default */
const NEARLY_ALL = 0.98;
const FEWEST = 30;

/**
 * Whether an engine speed is nothing but roll speed times a constant: sample for sample, in the most used ratio, it departs by
 * no more than both steps of rounding. A measured engine speed shows creep, growth and its own noise. Undefined: it is measured, or the log is
 * too coarse or too short to tell, or the speed hardly changes.
 */
export function isComputedRatio(record: JoinedRecord, { lead, speed }: Drive): ComputedRatio | undefined {
  const track = record.tracks.find(({ channel, file }) => channel.meaning === 'engine-speed' && file === lead.file);
  if (track === undefined || lead.channel.meaning === 'engine-speed') return undefined;
  const known = speed.filter((v) => v > 2).sort();
  if (!(known[known.length - 1] > 1.15 * known[0])) return undefined;
  const engine = sampleTrack(track, lead.times);
  const steps = { v: smallestStep(lead.channel.samples), w: smallestStep(track.channel.samples) };
  const rows: { x: number; bound: number }[] = [];
  lead.channel.samples.forEach((v, i) => {
    if (lead.channel.mask[i] !== 0 || !(Math.abs(v) > 2) || !(engine[i] > 60)) return;
    const bound = 0.55 * (steps.v / Math.abs(v) + steps.w / engine[i]) + 1e-6;
    rows.push({ x: Math.log(engine[i] / Math.abs(v)), bound });
  });
  if (rows.length < FEWEST) return undefined;
  const middle = [...rows].sort((a, b) => a.x - b.x)[rows.length >> 1];
  const ratio = median(rows.filter(({ x }) => Math.abs(x - middle.x) < 0.05).map(({ x }) => x));
  const resolution = median(rows.map(({ bound }) => bound));
  if (resolution > COARSEST) return undefined;
  const inside = rows.filter(({ x, bound }) => Math.abs(x - ratio) <= bound).length / rows.length;
  if (inside < NEARLY_ALL) return undefined;
  const departures = rows.map(({ x }) => Math.abs(x - ratio)).sort((a, b) => a - b);
  const largest = departures[Math.floor(NEARLY_ALL * (departures.length - 1))];
  return { channel: track.channel.name, ratio: Math.exp(ratio), largest, resolution };
}

/** Smallest distance of two different neighbouring values: the step of rounding, or 0 when there is none to see. */
function smallestStep(samples: Float64Array): number {
  const sorted = samples.filter((x) => Number.isFinite(x)).sort();
  let smallest = Number.POSITIVE_INFINITY;
  const floor = 1e-9 * Math.abs(sorted[sorted.length - 1] ?? 0);
  for (let i = 1; i < sorted.length; i++) {
    const step = sorted[i] - sorted[i - 1];
    if (step > floor && step < smallest) smallest = step;
  }
  return Number.isFinite(smallest) ? smallest : 0;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}
