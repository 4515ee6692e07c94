import { keptStep } from '../../pulls/index.ts';
import { torqueOf } from '../model/lines.ts';
import {
  type Engine,
  type EngineParts,
  engineAt,
  type Numbers,
  type OperatingPoint,
} from '../model/operating-point.ts';
import { KNOTS, knotName, type Parameter } from '../model/parameters.ts';
import { CLOSING, PHASE_FEATURES } from './effects.ts';
import type { PullPoint } from './pull-points.ts';

/** Natural logarithm of the torque that the roller would show, and its slope by each uncertain number times that number's spread. */
export interface PointSlopes {
  readonly logTorque: number;
  readonly slopes: ReadonlyMap<string, number>;
}

/** The engine about which slopes are taken. key: everything it is made of, as text. */
export interface Linearised {
  readonly parts: EngineParts;
  readonly parameters: readonly Parameter[];
  readonly numbers: Numbers;
  readonly key: string;
}

interface Asked {
  readonly at: Linearised;
  readonly points: readonly PullPoint[];
}

/** Slopes at the points of one pull; undefined where the cycle has no answer. Kept while neither the pull's state nor the engine changes. */
export const pointSlopes = keptStep(
  ({ at, points }: Asked): readonly (PointSlopes | undefined)[] => {
    const engine = engineAt(at.parts);
    return points.map((point) => slopesAt(engine, at, point));
  },
  ({ at, points }, nameOf) =>
    JSON.stringify([nameOf(at.parts), at.key, points.map(({ query, measured }) => [query, measured])]),
);

/** Share of one spread that a number is moved for its slope. @source our default, as in the calibration */
const MOVED = 0.3;
/** Numbers that torque does not feel, or that act through others here. */
const NOT_FELT: ReadonlySet<string> = new Set([
  ...['ignitionDelay', 'injectorFlow', 'injectorDeadTime', 'coolerFlow', 'mapSpeed', 'probeShortfall', 'workByTiming'],
  ...PHASE_FEATURES,
  ...KNOTS.map(knotName),
]);
/** Numbers that act on the work of the cycle alone, not on the state in it. */
const OF_WORK: ReadonlySet<string> = new Set(['workScale', 'workByPressure', 'workBySpeed', 'torqueScale']);
/** Numbers that act through exhaust pressure or charge temperature alone. */
const OF_EXHAUST: ReadonlySet<string> = new Set([
  ...['exhaustHeat', 'turbineArea', 'turbineEfficiency', 'compressorEfficiency', 'mapEfficiency'],
  ...['inletLoss', 'coolerLoss', 'exhaustLoss'],
]);

function slopesAt(engine: Engine, { parameters, numbers }: Linearised, point: PullPoint): PointSlopes | undefined {
  const { query, measured } = point;
  const base = engine.at(numbers, query, false);
  const logTorque = base && shown(numbers, point, base);
  if (!base || logTorque === undefined) return undefined;
  const start = { chargeTemperature: base.chargeTemperature, exhaustPressure: base.exhaustPressure };
  const slopes = new Map<string, number>();
  const settled = measured.charge && measured.exhaust;
  for (const { name, spread } of parameters) {
    if (NOT_FELT.has(name) || (settled && OF_EXHAUST.has(name))) continue;
    if (name === 'coolerEffectiveness' && measured.charge) continue;
    const moved = { ...numbers, [name]: numbers[name] + MOVED * spread };
    const at = OF_WORK.has(name) ? base : engine.at(moved, { ...query, start }, false);
    const found = at && shown(moved, point, at);
    if (found !== undefined) slopes.set(name, (found - logTorque) / MOVED);
  }
  const unmoved = query.camPhase === 0 ? undefined : engine.at(numbers, { ...query, start, camPhase: 0 }, false);
  const level = unmoved && shown(numbers, point, unmoved);
  if (level !== undefined) slopes.set(CLOSING, logTorque - level);
  return { logTorque, slopes: withFilling(slopes, { parameters, numbers, point }) };
}

/**
 * Beside the calibration's own beliefs: a phase that somebody chose lies near its best, so that both ways cost something, ± 2 % at 6°.
 *
 * @source our default
 */
const BEND_WIDER = 2;

/** Bends of filling and the cam phase act as filling does: by the share that they change it. */
function withFilling(
  slopes: Map<string, number>,
  {
    parameters,
    numbers,
    point,
  }: { readonly parameters: readonly Parameter[]; readonly numbers: Numbers; readonly point: PullPoint },
): ReadonlyMap<string, number> {
  const spreadOf = (name: string): number => parameters.find((one) => one.name === name)?.spread ?? 0;
  const byShare = ((slopes.get('filling') ?? 0) / (spreadOf('filling') || 1)) * numbers.filling;
  const share = point.speed / numbers.redline;
  const phase = point.query.camPhase;
  const put = (name: string, change: number): unknown => slopes.set(name, byShare * change * spreadOf(name));
  put('phaseEffect', phase);
  put('phaseSlope', phase * (share - 0.7));
  put('phaseBend', BEND_WIDER * phase * phase);
  KNOTS.forEach((knot, k) => {
    const below = k === 0 ? Number.NEGATIVE_INFINITY : KNOTS[k - 1];
    const above = k === KNOTS.length - 1 ? Number.POSITIVE_INFINITY : KNOTS[k + 1];
    const part = share <= knot ? (share - below) / (knot - below) : (above - share) / (above - knot);
    const weight = Number.isFinite(part) ? Math.max(0, part) : 1;
    if (weight > 0) put(knotName(knot), weight);
  });
  return slopes;
}

function shown(numbers: Numbers, { query }: PullPoint, point: OperatingPoint): number | undefined {
  const torque = torqueOf(numbers, query, point) * numbers.torqueScale;
  return torque > 0 ? Math.log(torque) : undefined;
}
