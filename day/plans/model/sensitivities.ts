import { airOf, askedAt, type UncertainEntry } from './conditions.ts';
import type { EngineModel, PredictedLine } from './engine-model.ts';
import { LINES } from './line-kinds.ts';
import { linesAt } from './lines.ts';
import { numbersOf, type Uncertain, uncertainOf } from './numbers.ts';
import { type Engine, engineAt, type Numbers, type OperatingPoint, type Query } from './operating-point.ts';

/** Slopes of every line with every uncertain number on a grid of speed and manifold pressure; made once per model. */
export interface Sensitivities {
  readonly names: readonly string[];
  readonly speeds: readonly number[];
  readonly pressures: readonly number[];
  /** [((speed·pressures + pressure)·lines + line)·names + name], per unit of the number. */
  readonly slopes: Float64Array;
}

/** What a step enters, in the order of the last names of the sensitivities. */
export const ENTRIES: readonly UncertainEntry[] = [
  'timing',
  'lambda',
  'camPhase',
  'ambientTemperature',
  'ambientPressure',
  'soak',
];
/** Steps of the entries for a difference, SI. @source our default: small against their use, large against the loop's tolerance */
const ENTRY_STEP: Readonly<Record<UncertainEntry, number>> = {
  timing: 0.02,
  lambda: 0.01,
  camPhase: 0.03,
  ambientTemperature: 3,
  ambientPressure: 1500,
  soak: 3,
};
/** Numbers that act behind the engine's steady state only. */
const BEHIND: ReadonlySet<string> = new Set([
  ...['injectorFlow', 'injectorDeadTime', 'injectorPressure', 'plugGap', 'torqueLoss', 'lossConstant', 'tyreRadius'],
  ...['rodLength', 'torqueScale', 'probeShortfall', 'chargeLag'],
]);
/** Share of one standard uncertainty that a number is moved for its slope. @source our default */
const MOVED = 0.3;

const SPEED_SHARES = [0.3, 0.5, 0.7, 0.85, 1] as const;

/** Is air pressed into this engine. */
export function isBoosted(model: Pick<EngineModel, 'map' | 'values' | 'boosted'>): boolean {
  if (model.boosted !== undefined) return model.boosted;
  return model.map !== undefined || ['compressorWheel', 'turboSpeedLimit'].some((name) => model.values.has(name));
}

export function sensitivitiesOf(model: EngineModel): Sensitivities {
  const { parameters, fixed } = uncertainOf(model);
  const moved: readonly Uncertain[] = [...parameters, ...fixed];
  const names = [...moved.map(({ name }) => name), ...ENTRIES];
  const boosted = isBoosted(model);
  const ambient = model.values.get('ambientPressure')?.value ?? 100e3;
  const redline = model.values.get('redline')?.value ?? 700;
  const speeds = SPEED_SHARES.map((share) => share * redline);
  const pressures = boosted ? [1.3 * ambient, 2 * ambient, 2.7 * ambient] : [0.6 * ambient, 0.97 * ambient];
  const slopes = new Float64Array(speeds.length * pressures.length * LINES.length * names.length).fill(Number.NaN);
  const engine = engineAt({ ...model, boosted });
  const numbers = numbersOf(model);
  speeds.forEach((speed, s) => {
    pressures.forEach((manifoldPressure, p) => {
      const node = nodeSlopes(model, engine, { numbers, moved, speed, manifoldPressure });
      if (node) slopes.set(node, (s * pressures.length + p) * LINES.length * names.length);
    });
  });
  return { names, speeds, pressures, slopes };
}

interface Node {
  readonly numbers: Numbers;
  readonly moved: readonly Uncertain[];
  readonly speed: number;
  readonly manifoldPressure: number;
}

function nodeSlopes(model: EngineModel, engine: Engine, node: Node): Float64Array | undefined {
  const { numbers, moved, speed, manifoldPressure } = node;
  const step = { manifoldPressure };
  const { query, gap } = askedAt(model, step, { speed, air: airOf(model, step) });
  const point = engine.at(numbers, query, false);
  if (!point) return undefined;
  const start = { chargeTemperature: point.chargeTemperature, exhaustPressure: point.exhaustPressure };
  const evaluated = (
    with_: Numbers,
    asked: Query,
    known?: OperatingPoint,
  ): Record<PredictedLine, number> | undefined => {
    const at = known ?? engine.at(with_, { ...asked, start }, false);
    return at && linesAt(model.engine, { numbers: with_, query: asked, gap: gap + (with_.gapShift ?? 0) }, at);
  };
  const base = evaluated(numbers, query);
  const columns = moved.length + ENTRIES.length;
  const slopes = new Float64Array(LINES.length * columns).fill(Number.NaN);
  const put = (column: number, change: number, lines: Record<PredictedLine, number> | undefined): void => {
    if (!lines || !base) return;
    LINES.forEach((line, l) => {
      slopes[l * columns + column] = (lines[line] - base[line]) / change;
    });
  };
  moved.forEach(({ name, spread }, column) => {
    const change = MOVED * spread;
    const shifted =
      name === 'plugGap' ? { ...numbers, gapShift: change } : { ...numbers, [name]: numbers[name] + change };
    put(column, change, evaluated(shifted, query, BEHIND.has(name) ? point : undefined));
  });
  ENTRIES.forEach((entry, k) => {
    const change = ENTRY_STEP[entry];
    const shifted =
      entry === 'soak' ? { ...query, soak: point.coolantRise + change } : { ...query, [entry]: query[entry] + change };
    put(moved.length + k, change, evaluated(numbers, shifted));
  });
  return slopes;
}

/** Where slopes are asked for: a line's place in {@link LINES}, engine speed [rad/s], manifold pressure [Pa]. */
export interface Place {
  readonly line: number;
  readonly speed: number;
  readonly pressure: number;
}

/** Slopes of one line at a place into `into`: bilinear over the nodes that have them, the border's outside; NaN where none has. */
export function slopesAtInto(into: Float64Array, sensitivities: Sensitivities, place: Place): void {
  const corners = cornersOf(sensitivities, place);
  for (let k = 0; k < into.length; k++) into[k] = slopeAt(sensitivities, { corners, line: place.line, number: k });
}

/** Slope with one number, see {@link slopesAtInto}. @param number its place among the names */
export function slopeAt(
  { names, slopes }: Sensitivities,
  {
    corners: { nodes, weights },
    line,
    number,
  }: { readonly corners: Corners; readonly line: number; readonly number: number },
): number {
  let sum = 0;
  let whole = 0;
  for (let a = 0; a < 4; a++) {
    const value = slopes[(nodes[a] * LINES.length + line) * names.length + number];
    if (!Number.isFinite(value)) continue;
    sum += weights[a] * value;
    whole += weights[a];
  }
  return whole > 0 ? sum / whole : Number.NaN;
}

/** The four nodes about a place and their weights; the first node tells the cell. */
export interface Corners {
  readonly nodes: readonly [number, number, number, number];
  readonly weights: readonly [number, number, number, number];
}

export function cornersOf(
  { speeds, pressures }: Pick<Sensitivities, 'speeds' | 'pressures'>,
  at: Pick<Place, 'speed' | 'pressure'>,
): Corners {
  const s = placeIn(speeds, at.speed);
  const p = placeIn(pressures, at.pressure);
  const first = s.at * pressures.length + p.at;
  const next = first + pressures.length;
  const weight = (one: number, other: number): number => Math.max(LEAST_WEIGHT, one * other);
  const [s0, p0] = [1 - s.part, 1 - p.part];
  return {
    nodes: [first, first + 1, next, next + 1],
    weights: [weight(s0, p0), weight(s0, p.part), weight(s.part, p0), weight(s.part, p.part)],
  };
}

/** So that a node without slopes leaves its place to its neighbours wherever it is. @source our default: no effect on the rest */
const LEAST_WEIGHT = 1e-6;

function placeIn(nodes: readonly number[], value: number): { readonly at: number; readonly part: number } {
  let at = 0;
  while (at < nodes.length - 2 && nodes[at + 1] < value) at++;
  return { at, part: Math.min(1, Math.max(0, (value - nodes[at]) / (nodes[at + 1] - nodes[at]))) };
}
