import type { HealthLineView } from '../../contract/index.ts';

/** A health line ready to draw: places in px, deviations upward. */
export interface ChartLayout {
  readonly zero: number;
  /** The band as a closed path; empty without one. */
  readonly band: string;
  readonly average: string;
  readonly dots: readonly ChartDot[];
}

export interface ChartDot {
  readonly entry: string;
  readonly x: number;
  readonly y: number;
  /** Ends of ± two standard uncertainties. */
  readonly top: number;
  readonly bottom: number;
  readonly left: boolean;
  readonly counted: boolean;
}

interface Field {
  readonly width: number;
  readonly height: number;
}

const EDGE = 14;
/** Above and below: a ring around the outermost point stays whole. */
const ROOM = 11;

/** Places of a line's points: one step for every entry of the day, so that all lines of a day stand over one another. */
export function chartLayout(
  { points, average, low, high, left, baseline }: HealthLineView,
  entries: readonly string[],
  { width, height }: Field,
): ChartLayout {
  const step = (width - 2 * EDGE) / Math.max(1, entries.length - 1);
  const xs = points.map(({ entry }) => EDGE + step * Math.max(0, entries.indexOf(entry)));
  const known = points.flatMap(({ value, standardUncertainty }) =>
    value === null ? [] : [Math.abs(value) + 2 * (standardUncertainty ?? 0)],
  );
  const bounds = [...low, ...high].flatMap((value) => (value === null ? [] : [Math.abs(value)]));
  const most = Math.max(...known, ...bounds, Number.MIN_VALUE);
  const y = (value: number) => height / 2 - (value / most) * (height / 2 - ROOM);
  const line = (values: readonly (number | null)[]) =>
    values.flatMap((value, at) => (value === null ? [] : [`${(xs[at] ?? 0).toFixed(1)} ${y(value).toFixed(1)}`]));
  const [upper, lower] = [line(high), line(low)];
  return {
    zero: y(0),
    band: upper.length > 1 ? `M${[...upper, ...lower.toReversed()].join('L')}Z` : '',
    average: average.length > 1 ? `M${line(average).join('L')}` : '',
    dots: points.flatMap(({ entry, value, standardUncertainty }, at) => {
      if (value === null) return [];
      const spread = 2 * (standardUncertainty ?? 0);
      return [
        {
          ...{ entry, x: xs[at] ?? 0, y: y(value), top: y(value + spread), bottom: y(value - spread) },
          left: entry === left?.entry,
          counted: at < baseline,
        },
      ];
    }),
  };
}
