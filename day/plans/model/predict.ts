import { type Asked, airOf, askedAt } from './conditions.ts';
import type { EngineModel, PredictedCurve, PredictedLine, Prediction, Step } from './engine-model.ts';
import { everyLine, LINE_KINDS, LINES } from './line-kinds.ts';
import { linesAt } from './lines.ts';
import { numbersOf, uncertainOf } from './numbers.ts';
import { type Engine, engineAt, type Numbers, type OperatingPoint } from './operating-point.ts';
import { onFuel } from './other-fuel.ts';
import { cornersOf, ENTRIES, isBoosted, type Sensitivities, sensitivitiesOf, slopeAt } from './sensitivities.ts';
import { type KnownSpreads, keptVariance, type Variance } from './spread-form.ts';

/** What is worked out once per model: arrays of the engine, numbers, slopes. */
interface Prepared {
  readonly engine: Engine;
  readonly numbers: Numbers;
  readonly sensitivities: Sensitivities;
  /** From all that no step changes, without the numbers that this step takes out of play. */
  readonly variance: (without: readonly string[]) => Variance;
  /** Place of the first entry of a step among the names of the sensitivities. */
  readonly entries: number;
  /** Relative scatter of torque from pull to pull [1]. */
  readonly repeat: number;
  /** Share by which the model's own error of what depends on the course of burning is larger [1]. */
  readonly own: number;
}

/** Compression ignition: one burn law stands for premixed and diffusion burning. @source our default: half as much again */
const ONE_LAW_FOR_TWO = 0.5;
const OF_COMBUSTION: ReadonlySet<PredictedLine> = new Set<PredictedLine>(['peak pressure', 'exhaust temperature']);

/** Lines that scatter from pull to pull as torque does. */
const REPEATING: ReadonlySet<PredictedLine> = new Set<PredictedLine>([
  'engine torque',
  'engine power',
  'wheel power',
  'wheel force',
]);

const PREPARED = new WeakMap<EngineModel, Prepared>();

/**
 * Every line over engine speed for one step, with standard uncertainties.
 *
 * Charge temperature, exhaust pressure and air flow are settled together (within 0.1 K and 0.1 %). Uncertainty: covariance of the
 * parameters, other values, what the control does and the air through slopes worked out once per model, and the model's own.
 *
 * @param speeds engine speeds [rad/s]
 * @source  JCGM 100:2008, equation 13, first order
 */
export function predict(engine: EngineModel, step: Step, speeds: ArrayLike<number>): Prediction {
  const model = onFuel(engine, step);
  const prepared = preparedOf(model);
  const speed = Float64Array.from(speeds);
  const values = new Map(LINES.map((line) => [line, new Float64Array(speed.length).fill(Number.NaN)]));
  const spreads = new Map(LINES.map((line) => [line, new Float64Array(speed.length).fill(Number.NaN)]));
  const air = airOf(model, step);
  const missing = new Set<string>();
  const without = outOfPlay(step);
  let start: { chargeTemperature: number; exhaustPressure: number } | undefined;
  speed.forEach((omega, i) => {
    const asked = askedAt(model, step, { speed: omega, air });
    const numbers = withStep(prepared.numbers, step);
    const point = prepared.engine.at(numbers, { ...asked.query, start }, true);
    if (!point) {
      missing.add('state outside the range of the cycle model');
      return;
    }
    start = { chargeTemperature: point.chargeTemperature, exhaustPressure: point.exhaustPressure };
    if (point.border !== undefined) missing.add(`turbocharger speed: beyond the ${point.border} border of the map`);
    if (!point.settled) missing.add('charge temperature and exhaust pressure did not settle');
    const lines = linesAt(model.engine, { numbers, query: asked.query, gap: asked.gap }, point);
    LINES.forEach((line, l) => {
      const value = lines[line];
      set(values.get(line), i, value);
      set(spreads.get(line), i, spreadOf(prepared, { ...asked, without }, { line, index: l, value }));
    });
  });
  const curve = (line: PredictedLine): PredictedCurve => ({
    kind: LINE_KINDS[line].kind,
    value: values.get(line) ?? new Float64Array(0),
    standardUncertainty: spreads.get(line) ?? new Float64Array(0),
  });
  return { speed, lines: everyLine(curve), missing: [...missing, ...missingFacts(model)], assumed: assumedOf(model) };
}

/** The engine's steady state at each speed of a step; undefined where the cycle cannot be computed. As long as `speeds`. */
export function pointsOf(
  engine: EngineModel,
  step: Step,
  speeds: ArrayLike<number>,
): readonly (OperatingPoint | undefined)[] {
  const model = onFuel(engine, step);
  const { engine: own, numbers } = preparedOf(model);
  const air = airOf(model, step);
  return Array.from(speeds, (speed) =>
    own.at(withStep(numbers, step), askedAt(model, step, { speed, air }).query, true),
  );
}

function set(array: Float64Array | undefined, i: number, value: number): void {
  if (array) array[i] = value;
}

/** Ratio of a step: the other gear changes what reaches the rolls. Octane of the step changes the knock law's delay. */
function withStep(numbers: Numbers, { overallRatio, octane }: Step): Numbers {
  if (overallRatio === undefined && octane === undefined) return numbers;
  // delay of the end gas grows with octane to the power 3.402: Douaud and Eyzat, SAE 780080 (from memory)
  const slower = octane === undefined ? 1 : (octane / numbers.octane) ** 3.402;
  return {
    ...numbers,
    overallRatio: overallRatio ?? numbers.overallRatio,
    ignitionDelay: numbers.ignitionDelay * slower,
  };
}

function preparedOf(model: EngineModel): Prepared {
  const kept = PREPARED.get(model);
  if (kept) return kept;
  const { parameters, fixed } = uncertainOf(model);
  const sensitivities = sensitivitiesOf(model);
  const known = {
    covariance: model.parameters.length > 0 ? model.covariance : diagonal(parameters.map(({ spread }) => spread)),
    parameters: parameters.length,
    fixed: fixed.map(({ spread }) => spread),
  };
  const made: Prepared = {
    engine: engineAt({ ...model, boosted: isBoosted(model) }),
    numbers: numbersOf(model),
    sensitivities,
    variance: variances(sensitivities, known),
    entries: known.parameters + known.fixed.length,
    repeat: model.values.get('torqueRepeat')?.value ?? 0,
    own: model.values.has('halfBurned') ? ONE_LAW_FOR_TWO : 0,
  };
  PREPARED.set(model, made);
  return made;
}

/** What a stated warmth of the cooler, or of its water, leaves without say. */
const OF_SOAK: readonly string[] = [
  ...['soakStart', 'soakRate', 'coolerWater', 'coolerIce', 'coolerWaterTemperature', 'coolerTimeConstant'],
];

function outOfPlay({ soak, water, ice }: Step): readonly string[] {
  if (soak !== undefined) return OF_SOAK;
  return [...(water === undefined ? [] : ['coolerWaterTemperature']), ...(ice === undefined ? [] : ['coolerIce'])];
}

/** Variances by what is left out; each made when it is first asked for. */
function variances(sensitivities: Sensitivities, known: KnownSpreads): Prepared['variance'] {
  const made = new Map<string, Variance>();
  return (without) => {
    const key = without.join();
    const variance = made.get(key) ?? keptVariance(sensitivities, leaving(sensitivities, known, without));
    made.set(key, variance);
    return variance;
  };
}

function leaving({ names }: Sensitivities, known: KnownSpreads, without: readonly string[]): KnownSpreads {
  if (without.length === 0) return known;
  const n = known.parameters;
  const out = names.map((name) => without.includes(name));
  return {
    ...known,
    covariance: known.covariance.map((value, at) => (out[Math.floor(at / n)] || out[at % n] ? 0 : value)),
    fixed: known.fixed.map((spread, k) => (out[n + k] ? 0 : spread)),
  };
}

function diagonal(spreads: readonly number[]): Float64Array {
  const n = spreads.length;
  const matrix = new Float64Array(n * n);
  spreads.forEach((spread, i) => {
    matrix[i * n + i] = spread * spread;
  });
  return matrix;
}

/** Standard uncertainty of one line at one speed. */
function spreadOf(
  { sensitivities, variance, entries, repeat, own }: Prepared,
  { query, spreads, without }: Asked & { readonly without: readonly string[] },
  { line, index, value }: { readonly line: PredictedLine; readonly index: number; readonly value: number },
): number {
  const place = { line: index, speed: query.speed, pressure: query.manifoldPressure };
  const { share, spread } = LINE_KINDS[line];
  const wider = own * (OF_COMBUSTION.has(line) ? 1 : 0);
  let square = ((share + wider * share) * value) ** 2 + (spread + wider * spread) ** 2 + variance(without)(place);
  if (REPEATING.has(line)) square += (repeat * value) ** 2;
  const corners = cornersOf(sensitivities, place);
  ENTRIES.forEach((entry, k) => {
    const u = spreads[entry];
    if (u > 0) square += (slopeAt(sensitivities, { corners, line: index, number: entries + k }) * u) ** 2;
  });
  return Math.sqrt(square);
}

function assumedOf(model: EngineModel): readonly string[] {
  return [...model.values.values()].filter(({ origin }) => origin === 'prior').map(({ name }) => name);
}

/** Lines that stay empty for want of a fact. */
function missingFacts(model: EngineModel): readonly string[] {
  const missing: string[] = [];
  if (!model.values.has('injectorFlow')) missing.push('injector duty: missing injector flow');
  if (!model.values.has('overallRatio')) missing.push('wheel power and force: missing overall ratio');
  else if (!model.values.has('lossConstant'))
    missing.push('wheel power and force: missing coast-down with the clutch open');
  if (isBoosted(model) && !model.map) missing.push('turbocharger speed: missing compressor map');
  return missing;
}
