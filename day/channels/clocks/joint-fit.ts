import type { Finding } from '../../../core/quantities/index.ts';
import type { ClockPiece } from '../alignment.ts';
import type { Recording } from '../channel.ts';
import type { AlignOptions } from './align-options.ts';
import { type GroupPeaks, piecePeaks, type SmoothPair } from './coarse.ts';
import type { GroupMatch } from './matched-groups.ts';
import { signalOf } from './signal.ts';
import { curveInto, type PointOfCurve, type SmoothPiece, smoothed } from './smooth.ts';
import { CREEP_PRIOR, type FitCell, type FitOptions, type FitSamples, type SpeedFit, speedFit } from './speed-fit.ts';
import { windowedLags } from './windowed-lags.ts';

export interface Joint {
  readonly pieces: readonly ClockPiece[];
  readonly fit: SpeedFit | undefined;
}

/** Without a rate of its own (worse than this) a record keeps rate 0 [1]. @source our default */
export const RATE_LIMIT = 1000e-6;
/** Spread of crystal clocks that nobody measured [1]. @source common practice, no source: crystals within 200 ppm */
export const RATE_UNKNOWN = 200e-6;
/** Offset uncertainty where only events agree [s]: force follows the throttle by 0.1–0.3 s. @source common practice, no source */
const EVENT_UNCERTAINTY = 0.15;
/** The fit at one lag must leave this many times less than at the other. @source our default */
const MARGIN = 1.5;
/** What sampling alone adds to the offset, in periods of the slower log: an edge between two samples. @source our default, measured on invented logs */
const SAMPLING = 0.15;
/** A stated mass of the rolls is wrong by this share [1]. @source common practice, no source: about 1 %, doubled for the wheels */
const MASS_SHARE = 0.02;
/** Cells with an offset of their own; further ones keep that of their neighbour. */
const MOST_CELLS = 12;

interface Cell extends FitCell {
  readonly from: number;
  readonly to: number;
  readonly group: string;
}

interface JointOptions {
  readonly roller: Recording;
  readonly options: AlignOptions;
  readonly findings: Finding[];
}

/** Fine alignment of all matched groups in one fit; pieces in the order of the record. */
export function jointFit(smooth: SmoothPair, matches: readonly GroupMatch[], joint: JointOptions): Joint {
  const cells = cellsOf(smooth, matches);
  if (smooth.pair.by === 'events') return byEvents(cells, joint.findings);
  const samples = samplesOf(smooth, cells, { roller: joint.roller, rollMass: joint.options.rollMass });
  const started = bestStart({ samples, cells, matches, smooth }, joint.options);
  if (started.fit === undefined) return byEvents(cells, joint.findings);
  const merged = started.cells.length > 1 ? mergedCells(started.cells, started.fit) : started.cells;
  const fit = rateDecided(samples, merged, joint);
  if (fit === undefined) return byEvents(cells, joint.findings);
  reportInto(joint.findings, fit);
  const sampling = SAMPLING * Math.max(smooth.pair.own.period, smooth.pair.other.period);
  return { pieces: clockPieces({ samples, cells: merged, fit, sampling }, joint), fit };
}

/** Another lag that correlates nearly as well, in this group of the other clock. */
export interface SecondLag {
  readonly lag: number;
  readonly correlation: number;
  readonly otherGroup: number;
}

/** Which of two lags the speeds themselves speak for: the loser's fit leaves at least half as much again. Undefined: neither. */
export function toldApart(smooth: SmoothPair, best: GroupPeaks, second: SecondLag): 'best' | 'second' | undefined {
  if (smooth.pair.by === 'events') return undefined;
  const [first, other] = [best, { ...best, ...second }].map((match) => {
    const cells = cellsOf(smooth, [match]);
    if (cells.length === 0) return Number.POSITIVE_INFINITY;
    const single = cells.map((cell) => ({ ...cell, shared: 0 }));
    return misfit(speedFit(samplesOf(smooth, cells, {}), single));
  });
  if (first * MARGIN <= other) return 'best';
  return other * MARGIN <= first ? 'second' : undefined;
}

/** Lags left over at one lag that is taken as it is, root mean square [s]; NaN where the speeds carry none. */
export function residualOfLag(smooth: SmoothPair, lag: number, roller: Recording): number {
  if (smooth.pair.by === 'events') return Number.NaN;
  const groups = (pieces: readonly SmoothPiece[]): number[] => [...new Set(pieces.map((piece) => piece.group))];
  const matches = groups(smooth.own).flatMap((ownGroup) =>
    groups(smooth.other).map((otherGroup) => ({ ownGroup, otherGroup, lag, sameHill: [] })),
  );
  const cells = cellsOf(smooth, matches).map((cell) => ({ ...cell, shared: 0 }));
  if (cells.length === 0) return Number.NaN;
  const samples = samplesOf(smooth, cells, { roller });
  const fit = speedFit(samples, cells, { fixedRate: 0, fixedOffset: true });
  return fit
    ? windowedLags(
        samples,
        fit,
        cells.map((_, k) => k),
      ).residual
    : Number.NaN;
}

/** Spread of what is left, made worse by what the model cannot explain. */
function misfit(fit: SpeedFit | undefined): number {
  return fit ? fit.spread / Math.max(0.05, fit.explained) : Number.POSITIVE_INFINITY;
}

/** Every stretch in which both clocks run on. */
function cellsOf(smooth: SmoothPair, matches: readonly GroupMatch[]): Cell[] {
  const cells: Cell[] = [];
  for (const match of matches) {
    for (const own of smooth.own.filter((piece) => piece.group === match.ownGroup)) {
      for (const other of smooth.other.filter((piece) => piece.group === match.otherGroup)) {
        const from = Math.max(own.start, other.start - match.lag);
        const to = Math.min(own.end, other.end - match.lag);
        if (to - from < 4 * smooth.halfWidth) continue;
        const group = `${match.ownGroup}/${match.otherGroup}`;
        cells.push({
          curve: [other],
          wide: [smooth.otherWide[smooth.other.indexOf(other)]],
          offset: match.lag,
          shared: cells.length,
          from,
          to,
          group,
        });
      }
    }
  }
  return cells;
}

/** Roller side on an even grid at half the window, cell by cell. */
function samplesOf(
  smooth: SmoothPair,
  cells: readonly Cell[],
  { roller, rollMass }: { roller?: Recording; rollMass?: number | undefined },
): FitSamples {
  const whole = cells.reduce((sum, cell) => sum + cell.to - cell.from, 0);
  const step = Math.max(smooth.halfWidth / 2, whole / 20_000);
  const forceSignal = roller && signalOf(roller, ['tractive-force', 'brake-force']);
  const forces = forceSignal ? smoothed(forceSignal, Math.max(smooth.halfWidth, 1.6 * forceSignal.period)) : [];
  const wholeForce = forceSignal?.meaning === 'tractive-force';
  const rows: { t: number; v: number; f: number; df: number; a: number; c: number; s: number }[] = [];
  const point: PointOfCurve = { value: 0, slope: 0 };
  const floor = 0.15 * topOf(smooth.own);
  const { own, other } = smooth.slopeNoise;
  cells.forEach((cell, c) => {
    const around = smooth.own.filter((each) => each.start <= cell.from + 1e-9 && each.end >= cell.to - 1e-9);
    const piece = around.slice(0, 1);
    const wide = piece.map((each) => smooth.ownWide[smooth.own.indexOf(each)]);
    for (let t = cell.from; t <= cell.to; t += step) {
      curveInto(point, piece, t);
      if (!(point.value > floor)) continue;
      const { value: v, slope } = point;
      curveInto(point, forces, t);
      const pushed = wholeForce ? 0 : (rollMass ?? 0) * slope;
      const f = (Number.isNaN(point.value) ? 0 : point.value) + pushed;
      const df = Number.isNaN(point.slope) ? 0 : point.slope;
      curveInto(point, wide, t);
      rows.push({ t, v, f, df, a: wholeForce || rollMass !== undefined ? 0 : slope, c, s: point.slope / point.value });
    }
  });
  return {
    time: Float64Array.from(rows, (row) => row.t),
    speed: Float64Array.from(rows, (row) => row.v),
    force: Float64Array.from(rows, (row) => row.f),
    acceleration: Float64Array.from(rows, (row) => row.a),
    cell: Int32Array.from(rows, (row) => row.c),
    forceSlope: Float64Array.from(rows, (row) => row.df),
    slope: Float64Array.from(rows, (row) => row.s),
    ownShare: other ** 2 / (own ** 2 + other ** 2),
  };
}

interface StartInput {
  readonly samples: FitSamples;
  readonly cells: readonly Cell[];
  readonly matches: readonly GroupMatch[];
  readonly smooth: SmoothPair;
}

/** Fits from each top of the hill; the one that leaves least wins. Cells behind a gap are first looked for on their own. */
function bestStart(input: StartInput, options: AlignOptions): { fit: SpeedFit | undefined; cells: readonly Cell[] } {
  const cells = input.cells.length > 1 ? lookedFor(input) : input.cells;
  const tops = input.cells.length > 1 ? [] : (input.matches[0]?.sameHill ?? []).slice(0, 3);
  const starts = [cells, ...tops.map((lag) => cells.map((cell) => ({ ...cell, offset: lag })))];
  let best: { fit: SpeedFit | undefined; cells: readonly Cell[] } = { fit: undefined, cells };
  for (const start of starts) {
    const fit = speedFit(input.samples, start, fitOptions(options));
    if (misfit(fit) < 0.98 * misfit(best.fit) || best.fit === undefined) best = { fit, cells: start };
  }
  return best;
}

/** A gap may hide a clock that did not run on: each cell's own correlation within ±3 s of the common lag. */
function lookedFor({ cells, smooth }: StartInput): Cell[] {
  const longest = cells.reduce((a, b) => (b.to - b.from > a.to - a.from ? b : a));
  const kept = [...cells].sort((a, b) => b.to - b.from - (a.to - a.from)).slice(0, MOST_CELLS);
  let shared = 0;
  let last = 0;
  return cells.map((cell) => {
    if (!kept.includes(cell)) return { ...cell, shared: last };
    last = shared++;
    if (cell === longest) return { ...cell, shared: last };
    const own = cutOut(smooth.ownWide, cell.from, cell.to);
    const reach = 3;
    const range = { from: cell.offset - reach, to: cell.offset + reach };
    const free = piecePeaks(smooth, { own, other: cell.wide }, range);
    const moved = free && free.correlation > 0.9 && Math.abs(free.lag - cell.offset) > 0.15;
    return { ...cell, shared: last, offset: moved ? free.lag : cell.offset };
  });
}

function cutOut(pieces: readonly SmoothPiece[], from: number, to: number): SmoothPiece[] {
  const piece = pieces.find((candidate) => candidate.start <= from + 1e-9 && candidate.end >= to - 1e-9);
  if (piece === undefined) return [];
  const low = Math.max(0, Math.floor((from - piece.start) / piece.step));
  const high = Math.min(piece.values.length - 1, Math.ceil((to - piece.start) / piece.step));
  return [
    {
      ...piece,
      start: piece.start + low * piece.step,
      end: piece.start + high * piece.step,
      values: piece.values.slice(low, high + 1),
      slopes: piece.slopes.slice(low, high + 1),
    },
  ];
}

/** Cells whose clocks agree within three standard uncertainties (or 5 ms) share one offset again. */
function mergedCells(cells: readonly Cell[], fit: SpeedFit): Cell[] {
  const { n, data } = fit.covariance;
  const v = (a: number, b: number): number => data[a * n + b];
  const rate = n - 1;
  const groupOf = (shared: number): string => cells.find((cell) => cell.shared === shared)?.group ?? '';
  const alike = (a: number, b: number): boolean => {
    if (groupOf(a) === groupOf(b) && Math.max(v(a, a), v(b, b)) > 0.1 ** 2) return true;
    const span = fit.middles[a] - fit.middles[b];
    const apart = fit.offsets[a] - fit.offsets[b] - fit.rate * span;
    const variance = v(a, a) + v(b, b) - 2 * v(a, b) + span ** 2 * v(rate, rate) - 2 * span * (v(a, rate) - v(b, rate));
    return Math.abs(apart) <= Math.min(0.5, Math.max(0.005, 3 * Math.sqrt(Math.max(0, variance))));
  };
  const order = Array.from({ length: rate }, (_, k) => k).sort((a, b) => v(a, a) - v(b, b));
  const leaders: number[] = [];
  const target = new Map<number, number>();
  for (const k of order) {
    const leader = leaders.find((candidate) => alike(k, candidate));
    if (leader === undefined) leaders.push(k);
    target.set(k, leader ?? k);
  }
  return cells.map((cell) => {
    const leader = target.get(cell.shared) ?? cell.shared;
    return { ...cell, shared: leaders.indexOf(leader), offset: fit.offsets[leader] };
  });
}

/** Knowledge of the tyre holds for engine speed and for a wheel's own speed alike: both turn with the tyre. */
function fitOptions({ rate, growth, creep, rollMass }: AlignOptions): FitOptions {
  return {
    ...(rate ? { rate } : {}),
    ...(growth ? { growth } : {}),
    ...(creep ? { creep } : {}),
    ...(rollMass === undefined
      ? {}
      : { acceleration: { value: 0, uncertainty: MASS_SHARE * rollMass * CREEP_PRIOR.value } }),
  };
}

/** Estimates the rate where the record carries one, else keeps it at 0 with the spread of crystals. */
function rateDecided(
  samples: FitSamples,
  cells: readonly Cell[],
  { options, findings }: JointOptions,
): SpeedFit | undefined {
  const free = speedFit(samples, cells, fitOptions(options));
  if (free === undefined || free.rateUncertainty <= RATE_LIMIT) return free;
  const fixed = speedFit(samples, cells, { ...fitOptions(options), fixedRate: 0 });
  findings.push({
    kind: 'rate-not-measured',
    weight: 'note',
    message: 'the record is too short or too noisy for a clock rate; taken as 0 with the spread of crystal clocks',
    numbers: { rateUncertainty: free.rateUncertainty, limit: RATE_LIMIT, taken: RATE_UNKNOWN },
    rule: 'our default',
  });
  return fixed && { ...fixed, rate: 0, rateUncertainty: RATE_UNKNOWN };
}

function clockPieces(
  { samples, cells, fit, sampling }: { samples: FitSamples; cells: readonly Cell[]; fit: SpeedFit; sampling: number },
  { findings, options }: JointOptions,
): ClockPiece[] {
  const ordered = cells.map((cell, index) => ({ cell, index }));
  const runs: { shared: number; group: string; from: number; to: number; cells: number[] }[] = [];
  for (const { cell, index } of ordered) {
    const run = runs[runs.length - 1];
    if (run && run.shared === cell.shared && cell.from >= run.to - 1e-6) {
      run.to = cell.to;
      run.cells.push(index);
    } else runs.push({ shared: cell.shared, group: cell.group, from: cell.from, to: cell.to, cells: [index] });
  }
  // the same error at both ends of the record, with opposite signs, would be a rate
  const rateSampling = options.rate ? 0 : sampling / Math.max(1, (cells[cells.length - 1].to - cells[0].from) / 2);
  if (runs.length > 1) findings.push(splitFinding(runs.length, runs[1].from));
  return runs.map((run) => {
    const lags = windowedLags(samples, fit, run.cells);
    if (lags.residual > 0.03) findings.push(residualFinding(lags.residual, run));
    return {
      from: run.from,
      to: run.to,
      offset: fit.offsets[run.shared] - fit.rate * fit.middles[run.shared],
      rate: fit.rate,
      offsetUncertainty: Math.hypot(
        fit.offsetUncertainties[run.shared],
        fit.rateUncertainty * ((run.from + run.to) / 2 - fit.middles[run.shared]),
        sampling,
      ),
      rateUncertainty: fit.rate === 0 ? fit.rateUncertainty : Math.hypot(fit.rateUncertainty, rateSampling),
      residual: lags.residual,
      lags: lags.lags,
    };
  });
}

function byEvents(cells: readonly Cell[], findings: Finding[]): Joint {
  findings.push({
    kind: 'aligned-by-events',
    weight: 'doubt',
    message: 'only sudden changes agree on both clocks; the offset is coarse',
    numbers: { offsetUncertainty: EVENT_UNCERTAINTY },
    rule: 'common practice, no source',
  });
  const pieces = cells.map((cell) => ({
    from: cell.from,
    to: cell.to,
    offset: cell.offset,
    rate: 0,
    offsetUncertainty: EVENT_UNCERTAINTY,
    rateUncertainty: RATE_UNKNOWN,
    residual: Number.NaN,
    lags: [],
  }));
  return { pieces, fit: undefined };
}

function reportInto(findings: Finding[], fit: SpeedFit): void {
  if (fit.explained < 0.5) {
    findings.push({
      kind: 'ratio-not-constant',
      weight: 'doubt',
      message: 'in most of the record engine and roll speed keep no constant ratio (converter, slip, open clutch)',
      numbers: { explained: fit.explained, limit: 0.5 },
      rule: 'our default',
    });
  }
  if (Math.abs(fit.rate) > 500e-6 && Math.abs(fit.rate) > 3 * fit.rateUncertainty) {
    findings.push({
      kind: 'clock-rate-high',
      weight: 'doubt',
      message: 'the clocks run further apart than crystal clocks do',
      numbers: { rate: fit.rate, rateUncertainty: fit.rateUncertainty, limit: 500e-6 },
      rule: 'common practice, no source',
    });
  }
}

function splitFinding(pieces: number, from: number): Finding {
  return {
    kind: 'clock-split',
    weight: 'note',
    message: 'a clock did not run on through a gap or a jump; each side has its own offset',
    place: { from },
    numbers: { pieces },
  };
}

function residualFinding(residual: number, run: { from: number; to: number }): Finding {
  return {
    kind: 'alignment-residual',
    weight: 'doubt',
    message: 'lags left over after alignment are large',
    place: { from: run.from, to: run.to },
    numbers: { residual, limit: 0.03 },
    rule: 'common practice, no source',
  };
}

function topOf(pieces: readonly SmoothPiece[]): number {
  let top = 0;
  for (const piece of pieces) for (const value of piece.values) if (value > top) top = value;
  return top;
}
