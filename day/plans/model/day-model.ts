import type { CompressorMap } from '../../../core/physics/index.ts';
import type { DayFacts, EntryResult } from '../../pulls/index.ts';
import type { DayVerdicts } from '../../verdicts/index.ts';
import { type Calibration, calibrated } from './calibration.ts';
import type { EngineModel, KnownValue } from './engine-model.ts';
import { engineOf } from './engine-of.ts';
import { fuelChoice, fuelName } from './fuel-of.ts';
import { habitsOf, type SeenHabits } from './habits.ts';
import { heldOf } from './held.ts';
import { knownValues, type Numbers } from './known-values.ts';
import { numbersOf } from './numbers.ts';
import { type Observation, type Observations, observationsOf } from './observations.ts';
import { type Parameter, parametersOf } from './parameters.ts';
import { burningWords, priorModel } from './prior-model.ts';
import { measuredToday, settingNumbers } from './settings.ts';
import { unknownOf } from './unknown.ts';

export interface DayModelInput {
  readonly facts: DayFacts;
  readonly verdicts: DayVerdicts;
  /** Result of each entry by its id. */
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
  readonly map?: CompressorMap | undefined;
}

/**
 * The day's engine: stated parts, usual values, and what its clean pulls taught. Without a clean pull the prior one, and it says so.
 */
export function dayModel(input: DayModelInput): EngineModel {
  const { facts, verdicts, map } = input;
  const seen = new Map([...measuredToday(facts, input.results), ...electricOf(verdicts)]);
  const settings = settingNumbers(verdicts.asked[verdicts.asked.length - 1]?.scene.settings ?? {});
  const before = priorModel(facts, map, seen);
  const observations = observationsOf(input);
  const rests = { used: observations.used, leftOut: observations.leftOut };
  if (observations.points.length === 0) {
    return { ...before, values: knownValues(facts, seen, settings), rests };
  }
  return taught({ input, seen, settings, before, observations });
}

interface Lesson {
  readonly input: DayModelInput;
  readonly seen: Numbers;
  readonly settings: Numbers;
  readonly before: EngineModel;
  readonly observations: Observations;
}

function taught({ input, seen, settings, before, observations }: Lesson): EngineModel {
  const { facts, map } = input;
  const { points, used, leftOut } = observations;
  const values = knownValues(facts, seen, settings);
  const redline = values.get('redline')?.value ?? 700;
  const fuel = fuelName(facts);
  const boosted = (before.boosted ?? false) || points.some((p) => p.manifoldPressure > 1.1 * p.ambientPressure);
  const parts = engineOf(values, fuelChoice(facts));
  const habits = habitsOf(habitsSeen(points), { redline, fuel });
  const parameters = parametersOf(values).map((one) => withShared(one, observations.shared));
  const numbers = numbersOf({ values, parameters: [] });
  const fit = calibrated({ ...parts, map, boosted, parameters, numbers, observations, habits });
  return {
    ...parts,
    ...(fuel === undefined ? {} : { fuel }),
    engine: { ...parts.engine, fit: fitOf(parts.engine.fit, fit) },
    map,
    values: withLearnt(values, parameters, fit),
    habits,
    parameters: fit.parameters,
    covariance: fit.covariance,
    pulls: used.length,
    unknown: [...burningWords(facts, parts.gas.fuel), ...unknownOf(points, { parameters, fit, redline, boosted, map })],
    boosted,
    misfit: fit.misfit,
    held: boosted ? heldOf(points) : [],
    rests: { used, leftOut },
  };
}

/** What the roller shows over the truth is as uncertain as the day's budgets say. */
function withShared(parameter: Parameter, shared: number): Parameter {
  if (parameter.name !== 'torqueScale') return parameter;
  return { ...parameter, spread: shared, low: 1 - 6 * shared, high: 1 + 6 * shared };
}

function fitOf(usual: EngineModel['engine']['fit'], { parameters }: Calibration): EngineModel['engine']['fit'] {
  const fitted = new Map(parameters.map(({ name, value }) => [name, value]));
  const of = (name: keyof typeof usual): number => fitted.get(name) ?? usual[name];
  return {
    filling: of('filling'),
    fillingSlope: of('fillingSlope'),
    fillingBend: of('fillingBend'),
    intakeLag: of('intakeLag'),
    burnDelay: of('burnDelay'),
    burnDuration: of('burnDuration'),
    burnDurationSlope: of('burnDurationSlope'),
    heatLoss: of('heatLoss'),
    friction: of('friction'),
    pumping: of('pumping'),
    ignitionDelay: of('ignitionDelay'),
    exhaustHeat: of('exhaustHeat'),
  };
}

/** Share of the prior spread below which a part's value counts as measured. @source our default */
const LEARNT = 0.8;

function withLearnt(
  values: ReadonlyMap<string, KnownValue>,
  parameters: readonly Parameter[],
  fit: Calibration,
): ReadonlyMap<string, KnownValue> {
  const learnt = new Map(values);
  const spread = "between the day's clean pulls, with the trade's 0.5 %";
  const repeat = { kind: 'fraction', standardUncertainty: 0, origin: 'measured today', source: spread } as const;
  learnt.set('torqueRepeat', { name: 'torqueRepeat', value: fit.repeat, ...repeat });
  const pulls = "between the day's clean pulls, with the trade's 4 K";
  const scatter = { kind: 'temperature-difference', standardUncertainty: 0, source: pulls } as const;
  const origin = fit.soakScatter.pulls > 0 ? 'measured today' : 'prior';
  learnt.set('soakScatter', { name: 'soakScatter', value: fit.soakScatter.value, ...scatter, origin });
  parameters.forEach(({ name, spread }, j) => {
    const known = values.get(name);
    const { value, standardUncertainty } = fit.parameters[j];
    if (!known || standardUncertainty > LEARNT * spread) return;
    learnt.set(name, {
      ...known,
      value,
      standardUncertainty,
      origin: 'measured today',
      source: "fitted to the day's clean pulls",
    });
  });
  return learnt;
}

function habitsSeen(points: readonly Observation[]): SeenHabits {
  const line = (read: (point: Observation) => number) =>
    points.flatMap((point) => {
      const value = read(point);
      return Number.isFinite(value) ? [{ speed: point.speed, pressure: point.manifoldPressure, value }] : [];
    });
  return {
    timing: line(({ timing, timingShift }) => timing - timingShift),
    lambda: line(({ lambda }) => lambda),
    camPhase: line(({ camPhase }) => camPhase),
    loadTime: line(({ loadTime }) => loadTime),
  };
}

/** Voltage in the pulls, lowest twentieth of each: that of the moment that counts. */
function electricOf({ asked }: DayVerdicts): Numbers {
  const lows = asked.flatMap(({ scene }) => {
    const track = scene.tracks.find(({ meaning }) => meaning === 'battery-voltage');
    const values = [...(track?.values ?? [])].filter(Number.isFinite).sort((a, b) => a - b);
    return values.length > 0 ? [values[Math.floor(values.length / 20)]] : [];
  });
  const last = lows[lows.length - 1];
  return last === undefined ? new Map() : new Map([['coilVoltage', { value: last, standardUncertainty: 0.15 }]]);
}
