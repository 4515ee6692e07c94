import type { Measured } from '../../../core/quantities/index.ts';
import type { Alignment } from '../alignment.ts';
import type { Started } from '../channel.ts';

/** When both logs of an alignment began, each by its own writer's clock. */
export interface Stamps {
  readonly own: Started;
  readonly other: Started;
}

const DAY = 86_400;
/** A change of the clocks' difference beyond this between neighbouring records is a clock that was set [s]. @source our default */
const SET = 20;
/** Fewest records, and the least time between the first and the last [s], that make a rate. @source our default */
const FEWEST = 3;
const LEAST_SPAN = 1800;
/** Clocks further apart than this were not one clock each [1]. @source our default: 1 % */
const FASTEST = 0.01;

/**
 * Rate of the other clock against the own one [1] from stamps over a day. Each aligned record says what both writers' clocks showed at
 * one instant; the slope of their difference over hours is the rate, even from stamps in whole seconds, because a stamp's step counts
 * once (step/√12) and hours lie between. A clock that was set in between splits the day.
 *
 * Undefined with fewer than three stamped records, less than half an hour between them, or scatter that no step explains.
 * @source straight line by weighted least squares; resolution: GUM F.2.2.1
 */
export function stampedRate(
  alignments: readonly Alignment[],
  stamps: readonly (Stamps | undefined)[],
): Measured | undefined {
  const points = alignments.flatMap((alignment, i) => pointOf(alignment, stamps[i]));
  const lines = runsOf(points).flatMap((run) => lineOf(run) ?? []);
  if (lines.length === 0) return undefined;
  const weight = lines.reduce((sum, { standardUncertainty: u }) => sum + u ** -2, 0);
  const value = lines.reduce((sum, { value: slope, standardUncertainty: u }) => sum + slope / u ** 2, 0) / weight;
  return { value, standardUncertainty: 1 / Math.sqrt(weight) };
}

interface Point {
  /** Own time of day [s]. */
  readonly time: number;
  /** Other clock minus own clock [s]. */
  readonly difference: number;
  readonly spread: number;
}

function pointOf({ pieces, by }: Alignment, stamps: Stamps | undefined): Point[] {
  const [piece] = pieces;
  if (!piece || !stamps || by !== 'speed') return [];
  const middle = (piece.from + piece.to) / 2;
  const own = stamps.own.value + middle;
  const other = stamps.other.value + piece.offset + (1 + piece.rate) * middle;
  const steps = Math.hypot(stamps.own.resolution, stamps.other.resolution) / Math.sqrt(12);
  return [{ time: own, difference: wrapped(other - own), spread: Math.hypot(steps, piece.offsetUncertainty) }];
}

/** Difference of two times of day, within half a day. */
function wrapped(seconds: number): number {
  return ((((seconds + DAY / 2) % DAY) + DAY) % DAY) - DAY / 2;
}

function runsOf(points: readonly Point[]): readonly (readonly Point[])[] {
  const runs: Point[][] = [];
  let last: Point | undefined;
  for (const point of points) {
    const run = runs[runs.length - 1];
    if (run && last && Math.abs(point.difference - last.difference) < SET && point.time > last.time) run.push(point);
    else runs.push([point]);
    last = point;
  }
  return runs;
}

function lineOf(run: readonly Point[]): Measured | undefined {
  const [first] = run;
  if (run.length < FEWEST || run[run.length - 1].time - first.time < LEAST_SPAN) return undefined;
  const weight = run.reduce((sum, { spread }) => sum + spread ** -2, 0);
  const mean = (of: (point: Point) => number): number =>
    run.reduce((sum, point) => sum + of(point) / point.spread ** 2, 0) / weight;
  const [time, difference] = [mean((point) => point.time), mean((point) => point.difference)];
  const square = run.reduce((sum, point) => sum + ((point.time - time) / point.spread) ** 2, 0);
  const slope =
    run.reduce((sum, point) => sum + ((point.time - time) * (point.difference - difference)) / point.spread ** 2, 0) /
    square;
  const chi = run.reduce(
    (sum, point) => sum + ((point.difference - difference - slope * (point.time - time)) / point.spread) ** 2,
    0,
  );
  const free = run.length - 2;
  // Four standard deviations of a chi-square with that many degrees of freedom.
  if (Math.abs(slope) > FASTEST || chi > free + 4 * Math.sqrt(2 * free)) return undefined;
  return { value: slope, standardUncertainty: Math.max(1, Math.sqrt(chi / free)) / Math.sqrt(square) };
}
