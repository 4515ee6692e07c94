/** One line of a plot, in display units. spread: half width of the band drawn around it. look: 1…6, colour and dash together. faint: stands back behind another one. guide: a limit, thin and dotted in the ink of the page. tag: a word before its first point. */
export interface PlotLine {
  readonly label: string;
  readonly x: readonly (number | null)[];
  readonly y: readonly (number | null)[];
  readonly spread?: readonly (number | null)[];
  readonly look: number;
  readonly faint?: boolean;
  readonly guide?: boolean;
  readonly tag?: string;
}

/** A stretch of x that is drawn hatched: not usable. */
export interface Hatch {
  readonly from: number;
  readonly to: number;
}

/** Shapes of marks, so that no group of them is told by colour alone. */
export type MarkSign = 'disc' | 'ring' | 'square' | 'wedge' | 'diamond';

/** One place that is marked, with a word beside it where it has one. spreadX, spreadY: half widths of a cross about it. look: 1…6. */
export interface PlotMark {
  readonly x: number;
  readonly y: number;
  readonly sign: MarkSign;
  readonly look: number;
  readonly label?: string;
  /** Its word stands below it. */
  readonly below?: boolean;
  /** Its word stands to its left, wherever there is room. */
  readonly left?: boolean;
  readonly spreadX?: number;
  readonly spreadY?: number;
}

/** A limit across the whole drawing, with its word. spread: half width of the band about it. */
export interface PlotLevel {
  readonly y: number;
  readonly label: string;
  readonly spread?: number;
}

/** A plot as a value: what is drawn, before anything is drawn. */
export interface PlotSpec {
  /** What it shows, for those who cannot see it. */
  readonly label: string;
  readonly xLabel: string;
  readonly yLabel: string;
  readonly lines: readonly PlotLine[];
  readonly hatches: readonly Hatch[];
  /** Stretches of x that are shaded: looked at. */
  readonly shades?: readonly Hatch[];
  readonly marks?: readonly PlotMark[];
  readonly levels?: readonly PlotLevel[];
  /** Steps that the x axis may be divided by, rising; absent: free. */
  readonly xSteps?: readonly number[];
  readonly height: 'tall' | 'middle' | 'low' | 'slim' | 'slim-last';
  /** Fixed x range; absent: all of the lines. */
  readonly range?: { readonly from: number; readonly to: number };
  /** Lowest value the y axis must reach down to; absent: free. */
  readonly floor?: number;
}

/**
 * What a drawing is made of beside its numbers: two plots of the same shape differ in their values alone, and the drawing of one can take those of the
 * other.
 */
export function plotShape({ label, xLabel, yLabel, height, xSteps, lines }: PlotSpec): string {
  const looks = lines.map(({ label: name, look, spread, faint, guide, tag, y }) => [
    ...[name, look, spread !== undefined, faint === true, guide === true],
    tag,
    isSingle(y),
  ]);
  return JSON.stringify([label, xLabel, yLabel, height, xSteps, looks]);
}

/** One lonely point has no line to show. */
export function isSingle(y: readonly (number | null)[]): boolean {
  let known = 0;
  for (const value of y) if (value !== null) known += 1;
  return known === 1;
}

/** Columns for one common x, and where each line's columns are. A band needs two columns more. */
export interface PlotColumns {
  readonly data: readonly (readonly (number | null | undefined)[])[];
  readonly columns: readonly { readonly line: number; readonly part: 'middle' | 'upper' | 'lower' }[];
}

/**
 * Lines with their own x each, put on the union of all x, rising. null breaks a line; undefined only means that another line has a point there.
 * Where a line has points without an x, it is broken between its neighbours.
 */
export function plotColumns(asked: readonly PlotLine[]): PlotColumns {
  const lines = asked.map(broken);
  const xs = commonX(lines);
  const at = new Map(xs.map((x, index) => [x, index]));
  const data: (number | null | undefined)[][] = [[...xs]];
  const columns: { line: number; part: 'middle' | 'upper' | 'lower' }[] = [];
  lines.forEach((line, index) => {
    const { y, spread } = line;
    const add = (part: 'middle' | 'upper' | 'lower', values: readonly (number | null)[]) => {
      const column = Array.from<number | null | undefined>({ length: xs.length });
      line.x.forEach((x, sample) => {
        const place = x === null ? undefined : at.get(x);
        if (place !== undefined) column[place] = values[sample] ?? null;
      });
      data.push(column);
      columns.push({ line: index, part });
    };
    add('middle', y);
    if (spread) {
      add(
        'upper',
        y.map((value, sample) => sum(value, spread[sample] ?? null, 1)),
      );
      add(
        'lower',
        y.map((value, sample) => sum(value, spread[sample] ?? null, -1)),
      );
    }
  });
  return { data, columns };
}

function commonX(lines: readonly PlotLine[]): readonly number[] {
  const [first] = lines;
  if (!first) return [];
  const alone = lines.every(({ x }) => x === first.x);
  const all = alone ? first.x : lines.flatMap(({ x }) => x);
  return [...new Set(all.filter((x): x is number => x !== null && Number.isFinite(x)))].sort(
    (one, other) => one - other,
  );
}

function sum(value: number | null, spread: number | null, sign: 1 | -1): number | null {
  return value === null || spread === null ? null : value + sign * spread;
}

/** True when there is something to draw. */
export function hasPoints(lines: readonly PlotLine[]): boolean {
  return lines.some(({ x, y }) => y.some((value, at) => value !== null && x[at] !== null && x[at] !== undefined));
}

/**
 * Stretches of x that are not usable: around points where `valid` is false, half a step to both sides; and from one known x to the next
 * where an invalid point has no x at all. Stretches that touch become one.
 */
export function invalidStretches(x: readonly (number | null)[], valid: readonly boolean[]): readonly Hatch[] {
  const stretches: Hatch[] = [];
  const known = x.flatMap((value, at) => (value === null ? [] : [{ value, at }]));
  known.forEach(({ value, at }, place) => {
    const before = known[place - 1];
    const after = known[place + 1];
    if (before && valid.slice(before.at + 1, at).includes(false)) stretches.push({ from: before.value, to: value });
    if (valid[at] === false) {
      stretches.push({
        from: before ? (before.value + value) / 2 : value,
        to: after ? (after.value + value) / 2 : value,
      });
    }
  });
  return joined(stretches);
}

function joined(stretches: readonly Hatch[]): readonly Hatch[] {
  const whole: Hatch[] = [];
  for (const stretch of [...stretches].sort((one, other) => one.from - other.from)) {
    const last = whole.at(-1);
    if (last && stretch.from <= last.to)
      whole[whole.length - 1] = { from: last.from, to: Math.max(last.to, stretch.to) };
    else whole.push(stretch);
  }
  return whole;
}

/** The line with one missing point in the middle of every stretch where its x is unknown: nothing is drawn across it. */
function broken(line: PlotLine): PlotLine {
  if (line.x.every((value) => value !== null)) return line;
  const x: (number | null)[] = [];
  const y: (number | null)[] = [];
  const spread: (number | null)[] = [];
  let hole = false;
  line.x.forEach((value, at) => {
    const last = x.at(-1);
    if (value === null) {
      hole = true;
      return;
    }
    if (hole && typeof last === 'number') {
      x.push((last + value) / 2);
      y.push(null);
      spread.push(null);
    }
    hole = false;
    x.push(value);
    y.push(line.y[at] ?? null);
    spread.push(line.spread?.[at] ?? null);
  });
  return { ...line, x, y, ...(line.spread && { spread }) };
}
