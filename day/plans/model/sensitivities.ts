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

const ENTRIES: readonly UncertainEntry[] = ['timing', 'lambda', 'camPhase', 'ambientTemperature', 'ambientPressure'];
/** Steps of the entries for a difference, SI. @source our default: small against their use, large against the loop's tolerance */
const ENTRY_STEP: Readonly<Record<UncertainEntry, number>> = {
  timing: 0.02,
  lambda: 0.01,
  camPhase: 0.03,
  ambientTemperature: 3,
  ambientPressure: 1500,
};
/** Numbers that act behind the engine's steady state only. */
const BEHIND: ReadonlySet<string> = new Set([
  ...['injectorFlow', 'injectorDeadTime', 'injectorPressure', 'plugGap', 'torqueLoss', 'lossConstant', 'tyreRadius'],
  ...['rodLength', 'torqueScale', 'probeShortfall'],
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
    put(moved.length + k, change, evaluated(numbers, { ...query, [entry]: query[entry] + change }));
  });
  return slopes;
}

/** Slopes of one line at a speed and a pressure into `into`: bilinear over the nodes that have them, the border's outside; NaN where none has. */
export function slopesAtInto(
  into: Float64Array,
  { names, speeds, pressures, slopes }: Sensitivities,
  at: { readonly line: number; readonly speed: number; readonly pressure: number },
): void {
  const s = placeIn(speeds, at.speed);
  const p = placeIn(pressures, at.pressure);
  const n = names.length;
  for (let k = 0; k < n; k++) {
    let sum = 0;
    let weights = 0;
    for (let a = 0; a < 2; a++) {
      for (let b = 0; b < 2; b++) {
        const weight = Math.max(1e-6, (a === 0 ? 1 - s.part : s.part) * (b === 0 ? 1 - p.part : p.part));
        const value = slopes[(((s.at + a) * pressures.length + p.at + b) * LINES.length + at.line) * n + k];
        if (!Number.isFinite(value)) continue;
        sum += weight * value;
        weights += weight;
      }
    }
    into[k] = weights > 0 ? sum / weights : Number.NaN;
  }
}

function placeIn(nodes: readonly number[], value: number): { readonly at: number; readonly part: number } {
  let at = 0;
  while (at < nodes.length - 2 && nodes[at + 1] < value) at++;
  return { at, part: Math.min(1, Math.max(0, (value - nodes[at]) / (nodes[at + 1] - nodes[at]))) };
}
