import { clamp, easeBetween } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import type { Knobs } from './knobs.ts';
import { type Nature, rehearse } from './nature.ts';
import { type Act, fullLoad, type Instant, type PullPlan, type VirtualRun } from './run.ts';
import type { Signal } from './signals.ts';

/** From what a fault is built. clean: a pull of the same engine without it; luck: spread of the day's pulls [1]. */
export interface Context {
  readonly nature: Nature;
  readonly luck: number;
  readonly strength: number;
  readonly chance: Chance;
  readonly clean: VirtualRun;
  readonly variant: string | undefined;
}

/** A fault ready to act. act: in pulls; coast: in coast-downs; plan: how the pull is driven instead. size: numbers in the unit their name tells. */
export interface Built {
  readonly act?: Act;
  readonly coast?: Act;
  readonly plan?: Partial<PullPlan>;
  readonly variant?: string;
  readonly size: Readonly<Record<string, number>>;
  readonly moved: readonly string[];
  readonly stopClass: 0 | 1 | 2 | 3;
  /** Share of the wanted size that this engine can show; 1 when absent. */
  readonly reached?: number;
  /** Strength that the run itself shows, for faults at the edge of what a control can hold: the air of the hall moves that edge. */
  readonly inRun?: (run: VirtualRun) => number;
  /** What a run shows of it over what was wanted, for faults that strike by chance. */
  readonly shown?: (run: VirtualRun) => number;
  /** First and last step in which a run shows it, for faults that are a state of the engine and not an act. */
  readonly window?: (run: VirtualRun) => { readonly from: number; readonly to: number } | undefined;
}

/** Builds a fault of a size; undefined: this engine cannot have it. */
export type Builder = (context: Context) => Built | undefined;

/** An act at full load only: sets knobs by how far it is in, 0 … 1. */
export function fullAct(
  shape: (instant: Instant) => number,
  set: (knobs: Knobs, much: number, now: Instant) => void,
): Act {
  return (instant, knobs) => {
    if (instant.stage !== 'full') return 0;
    const much = shape(instant);
    if (much !== 0) set(knobs, much, instant);
    return Math.abs(much);
  };
}

/** 0 before a share of the redline, 1 after it, smooth between. */
export function from(share: number, width = 0.05): (instant: Instant) => number {
  return (instant) => easeBetween(share, share + width, instant.share);
}

/** 0 outside, 1 inside two shares of the redline, smooth edges. */
export function between(low: number, high: number): (instant: Instant) => number {
  return ({ share }) => easeBetween(low - 0.03, low, share) * (1 - easeBetween(high, high + 0.03, share));
}

/** How far into the pull, 0 at tip-in … 1 at the end of a clean one. */
export function progress({ clean }: Context): (instant: Instant) => number {
  const length = clean.run.lift - clean.run.tipIn;
  return ({ sinceTipIn }) => Math.min(1, Math.max(0, sinceTipIn / length));
}

/** A knob value found by rehearsing, and what the pull then shows. */
export interface Sized {
  readonly value: number;
  readonly shown: number;
}

/**
 * Knob value at which a rehearsed pull shows a size; the measure grows with it from `low` on, and may fall again further out.
 * Steps outwards, twice as far each time, then searches between. The largest shown when it is never reached.
 */
export function sized(
  { nature }: Context,
  wanted: number,
  input: {
    low: number;
    high: number;
    act: (value: number) => Act;
    measure: (run: VirtualRun) => number;
  },
): Sized {
  const tried = (value: number): Sized => ({ value, shown: input.measure(rehearse(nature, [input.act(value)])) });
  const near = ({ shown }: Sized): boolean => Math.abs(shown - wanted) <= 0.03 * Math.abs(wanted);
  let below = tried(input.low);
  let above: Sized | undefined;
  for (let part = 1 / 32; part <= 1 && !above; part *= 2) {
    const next = tried(input.low + part * (input.high - input.low));
    if (next.shown >= wanted) above = next;
    else if (next.shown > below.shown) below = next;
  }
  if (!above) return below;
  for (let round = 0; round < 9 && !near(above) && !near(below); round += 1) {
    // False position, kept away from the ends so that a bent measure still halves.
    const part = clamp((wanted - below.shown) / (above.shown - below.shown), 0.15, 0.85);
    const next = tried(below.value + part * (above.value - below.value));
    if (next.shown >= wanted) above = next;
    else below = next;
  }
  return Math.abs(above.shown - wanted) < Math.abs(below.shown - wanted) ? above : below;
}

/** Mean of a signal over the full-load part between two shares of its top speed. */
export function meanOf(run: VirtualRun, signal: Signal, shares: readonly [number, number] = [0.75, 1]): number {
  const rows = fullLoad(run, 0.5).filter(({ share }) => share >= shares[0] && share <= shares[1]);
  return rows.reduce((sum, { at }) => sum + at(signal), 0) / Math.max(1, rows.length);
}

/** Largest value of something over the full-load part. */
export function mostOf(run: VirtualRun, value: (at: (name: Signal) => number) => number, settle = 0.5): number {
  return fullLoad(run, settle).reduce((most, { at }) => Math.max(most, value(at)), Number.NEGATIVE_INFINITY);
}

/** Share of the redline at which a condition first holds in a clean pull; NaN when never. */
export function shareWhere({ clean, nature }: Context, holds: (at: (name: Signal) => number) => boolean): number {
  const first = fullLoad(clean, 0).find(({ at }) => holds(at));
  return first ? (clean.signals.engineSpeed[first.row] ?? Number.NaN) / nature.engine.redline : Number.NaN;
}

/** Chance of a standard normal beyond z. @source Abramowitz and Stegun 26.2.17, error below 1e-7 */
export function normalBeyond(z: number): number {
  if (z < 0) return 1 - normalBeyond(-z);
  const t = 1 / (1 + 0.2316419 * z);
  const sum = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * sum;
}
