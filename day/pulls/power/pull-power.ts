import type { Finding } from '../../../core/quantities/index.ts';
import type { Piece } from '../../channels/index.ts';
import type { BudgetLine, PowerCurve } from '../curve.ts';
import type { LossModel } from '../losses/loss-model.ts';
import type { FactorLine, PullResult } from '../result.ts';
import type { ForceZero } from '../rolls/force-zero.ts';
import { type ChainLines, powerChain } from './chain.ts';
import { type ChainFacts, chainSetting } from './chain-inputs.ts';
import { curveGrid, type Grid, onGrid } from './grid.ts';
import { type Effect, effects } from './influences.ts';
import { type Noise, total } from './noise.ts';
import { curvePeaks, extraPeaks, peakLoss } from './peaks.ts';
import { ASSUMED_SLIP, type PullReading, type PullSources, pullReading } from './signals.ts';
import { slipWindows } from './slip-windows.ts';
import { randomPart, steadinessFindings, steadyPart } from './steadiness.ts';
import { insidePieces, withinPull } from './within-pull.ts';

export interface PullQuestion {
  readonly sources: Omit<PullSources, 'forceZero'>;
  readonly zero: ForceZero;
  readonly facts: ChainFacts;
  readonly losses: LossModel | undefined;
  /** The ambient rule that was chosen for the day, evaluated for this pull; its factor multiplies engine power. */
  readonly factor: FactorLine;
}

/** What one full-load pull made: curve, peaks, budget. Needs a roll side; everything else missing is named and left out. */
export function pullPower(question: PullQuestion): PullResult {
  const { sources, zero, facts } = question;
  const losses = usableLosses(question);
  const within = withinPull(sources);
  const reading = pullReading({ ...within, forceZero: zero.zero.value });
  const setting = chainSetting(facts, {
    ...{ side: sources.side, zero, losses, reference: sources.reference },
    slip: reading.signals.slip,
  });
  const lines = powerChain(reading.signals, setting.inputs);
  const moved = effects(reading.signals, setting.inputs, setting.known);
  const grid = curveGrid(reading.signals, innerPieces(sources));
  const known = { zero: zero.zero.value, inputs: setting.inputs, lag: lagOf(sources), axis: axisOf(question) };
  const { random, steady } = randomPart({ reading, lines }, within, known);
  const slipped = slipWindows(reading.signals, sources.reference, setting.inputs.rollMass);
  const steadyAt = Uint8Array.from(onGrid(grid, Float64Array.from(steady)), (value) => (value === 1 ? 1 : 0));
  const curve = {
    ...powerCurve({ question, reading, lines, moved, random, grid, gross: slipped.gross }),
    steady: steadyAt,
  };
  const spread = total(
    moved.map(({ roll }) => roll),
    random.roll,
  );
  const peaks = [
    ...curvePeaks(steadyPart(curve), question.factor.standardUncertainty ?? 0),
    ...extraPeaks(sources.side, reading, { lines, spread }),
  ];
  return {
    segment: sources.segment,
    curve,
    peaks,
    budget: budgetAt(bestPoint(curve), { moved, random, grid }),
    findings: [
      ...zero.findings,
      ...steadinessFindings(steady, reading.signals.time),
      ...setting.findings,
      ...(losses?.findings ?? []),
      ...bandwidthFinding(curve),
      ...leapFinding(reading),
      ...slipped.findings,
    ],
  };
}

/** Standard uncertainty of the engine log's time against the roller's during the pull [s]. */
function lagOf({ alignment, engine }: PullQuestion['sources']): number {
  return engine ? Math.max(0, ...alignment.pieces.map(({ offsetUncertainty }) => offsetUncertainty)) : 0;
}

/** Standard uncertainty of a dynamic tyre radius that was stated without one [1]. @source common practice, no source */
const RADIUS_SHARE = 0.01;

/** Relative standard uncertainty of an engine speed that was computed from roll speed: tyre radius and slip that nobody saw [1]; 0 of a logged one. */
function axisOf({ sources, facts }: PullQuestion): number {
  if (sources.engine) return 0;
  const radius = facts.vehicle.tyreRadius;
  const stated = radius && radius.standardUncertainty > 0 ? radius.standardUncertainty / radius.value : RADIUS_SHARE;
  return Math.hypot(ASSUMED_SLIP.standardUncertainty, stated);
}

/** What a converter takes cannot be told from slip and is in no coast-down: then no loss is known. */
function usableLosses({ facts, losses }: PullQuestion): LossModel | undefined {
  return facts.vehicle.transmission === 'converter' ? undefined : losses;
}

interface Computed {
  readonly question: PullQuestion;
  readonly reading: PullReading;
  readonly lines: ChainLines;
  readonly moved: readonly Effect[];
  readonly random: Noise;
  readonly grid: Grid;
  /** 1 where the tyres slip so much that power is not used, as long as the pull's times. */
  readonly gross: Uint8Array;
}

function powerCurve({ question, reading, lines, moved, random, grid, gross }: Computed): PowerCurve {
  const { factor } = question;
  const at = (series: Float64Array): Float64Array => onGrid(grid, series);
  const engine = at(lines.engine);
  const roll = at(lines.roll);
  const spread = (which: keyof Noise): Float64Array =>
    at(
      total(
        moved.map((effect) => effect[which]),
        random[which],
      ),
    );
  const multiplier = factor.factor ?? Number.NaN;
  const { bandwidth } = reading;
  return {
    axis: grid.axis,
    engineSpeed: at(reading.signals.engineSpeed),
    time: at(reading.signals.time),
    rollSpeed: at(reading.signals.speed),
    brakePower: at(lines.brake),
    rollInertiaPower: at(lines.rollInertia),
    rollPower: roll,
    slip: at(reading.signals.slip),
    tyrePower: at(lines.tyre),
    rollingLossPower: at(lines.rollingLoss),
    wheelInertiaPower: at(lines.wheelInertia),
    torqueLossPower: at(lines.torqueLoss),
    engineInertiaPower: at(lines.engineInertia),
    enginePower: engine,
    correctedPower: engine.map((power) => power * multiplier),
    factor: multiplier,
    rule: factor.rule,
    rollPowerUncertainty: spread('roll'),
    tyrePowerUncertainty: spread('tyre'),
    enginePowerUncertainty: spread('engine'),
    valid: Uint8Array.from(at(Float64Array.from(gross)), (slipped, i) =>
      Number.isFinite(roll[i]) && !(slipped > 0) ? 1 : 0,
    ),
    missing: missingLines(question),
    bandwidth,
    peakBias: peakLoss(roll, at(reading.signals.time), bandwidth),
  };
}

/** Pieces inside the segment, on the indices of the segment's own arrays. */
function innerPieces({ side, segment }: PullQuestion['sources']): readonly Piece[] {
  return insidePieces(side.pieces, segment).map(({ from, to }) => ({
    from: from - segment.from,
    to: to - segment.from,
  }));
}

function missingLines({ sources, losses, facts, factor }: PullQuestion): string[] {
  const missing: string[] = [];
  if (!sources.engine) {
    missing.push(
      sources.statedRatio === undefined
        ? 'missing engine speed: power against roll speed only, no torque; state the overall ratio and the tyre radius to have both'
        : 'missing engine speed: worked out from roll speed, the stated ratio and tyre radius, and 1.5 ± 0.8 % slip',
    );
  }
  if (!sources.reference)
    missing.push('missing ratio without slip: slip cannot be seen, 1.5 ± 0.8 % is taken for wheel and engine power');
  if (facts.vehicle.transmission === 'converter')
    missing.push('missing slip of the converter: what it takes cannot be seen, engine power is not claimed');
  else if (!losses)
    missing.push('missing coast-down with the clutch open: losses unknown, engine power is not claimed');
  if (factor.factor === undefined && factor.rule !== 'none')
    missing.push(`missing conditions for ${factor.rule}: ${factor.why}`);
  return missing;
}

/** The point that the budget is drawn up for: the highest of the furthest power that is known. */
function bestPoint(curve: PowerCurve): number {
  const known = [curve.enginePower, curve.tyrePower, curve.rollPower].find((power) => power.some(Number.isFinite));
  let best = 0;
  known?.forEach((power, i) => {
    if (power > known[best] || Number.isNaN(known[best])) best = i;
  });
  return best;
}

function budgetAt(
  point: number,
  { moved, random, grid }: Pick<Computed, 'moved' | 'random' | 'grid'>,
): readonly BudgetLine[] {
  const at = (series: Float64Array): number => Math.abs(onGrid(grid, series)[point] ?? Number.NaN);
  const stated = moved.map(({ influence, roll, tyre, engine }) => ({
    ...influence,
    roll: at(roll),
    tyre: at(tyre),
    engine: at(engine),
  }));
  const noise: BudgetLine = {
    name: 'noise of the record',
    sharing: 'random',
    origin: 'scatter between neighbouring samples of this pull',
    roll: at(random.roll),
    tyre: at(random.tyre),
    engine: at(random.engine),
  };
  return [...stated, noise].filter(({ roll, tyre, engine }) => roll > 0 || tyre > 0 || engine > 0);
}

/** Lowering of the peak from which it is mentioned [1]. @source our default */
const NOTED_BIAS = 0.002;

function bandwidthFinding({ bandwidth, peakBias }: PowerCurve): readonly Finding[] {
  if (!(Math.abs(peakBias) > NOTED_BIAS)) return [];
  return [
    {
      kind: 'bandwidth-bias',
      weight: 'note',
      message: `the curve is smoothed to ${bandwidth.toFixed(1)} Hz, which moves its peak by about ${(-100 * peakBias).toFixed(1)} %`,
      numbers: { bandwidth, peakBias, limit: NOTED_BIAS },
    },
  ];
}

function leapFinding({ leaps, signals }: PullReading): readonly Finding[] {
  if (leaps === 0) return [];
  return [
    {
      kind: 'engine-speed-leaps',
      weight: 'doubt',
      message: `engine speed leaves the rolls for a moment ${leaps} ${leaps === 1 ? 'time' : 'times'}, which no tyre and no gear can do: those moments are left out of engine speed and slip`,
      place: { from: signals.time[0], to: signals.time[signals.time.length - 1] },
      numbers: { leaps },
    },
  ];
}
