import { formatQuantity } from '../../../core/quantities/index.ts';
import { borderSeen } from '../limits/border-seen.ts';
import type { Foresight } from '../limits/foresight.ts';
import { headLiftPressureOf } from '../limits/head-lift-evidence.ts';
import { knockIntegralLimitOf } from '../limits/knock-evidence.ts';
import { limitBy } from '../limits/limits-of.ts';
import { sparkDemandFactorOf } from '../limits/spark-evidence.ts';
import { surgeFlowFactorOf } from '../limits/surge-evidence.ts';
import type { KnownValue, PredictedLine } from '../model/engine-model.ts';
import type { Moment } from './moment.ts';
import { type Found, placesOf, type Search, type WatchedPull, wordsOf } from './places.ts';

/** What one fault of the day teaches about one border; undefined where it teaches nothing. */
export type Lesson = (foresight: Foresight, pulls: readonly WatchedPull[]) => KnownValue | undefined;

/** Every lesson, in the order in which they are learnt. */
export const LESSONS: readonly Lesson[] = [knockLesson, sparkLesson, headLesson, gripLesson, pumpLesson, surgeLesson];

const rpm = (speed: number): string => formatQuantity(speed, 'engine-speed', { decimals: 0 });

/** Knock seen or not: the integral at which this engine knocks. @source {@link knockIntegralLimitOf} */
function knockLesson(foresight: Foresight, pulls: readonly WatchedPull[]): KnownValue | undefined {
  const found = placesOf(foresight, pulls, {
    ...{ faults: ['knock'], sign: 'at once', lasting: false },
    hardness: (moment) => lineAt('knock integral', moment),
  });
  const seen = found.map(({ moment: { speed, step, timing }, passed }) => ({
    ...{ speed, manifoldPressure: step.manifoldPressure, timing, step, knocked: passed },
  }));
  return told(knockIntegralLimitOf(foresight, seen), 'knock', found);
}

/** Breakup seen or not: how the spark's demand compares with what is predicted. @source {@link sparkDemandFactorOf} */
function sparkLesson(foresight: Foresight, pulls: readonly WatchedPull[]): KnownValue | undefined {
  const found = placesOf(foresight, pulls, {
    ...{ faults: ['ignition-breakup', 'spark-energy'], sign: 'at once', lasting: false },
    hardness: ({ step, told: prediction }) => {
      const { required, available } = limitBy('spark voltage', { model: foresight.model, prediction, step });
      return required[0] / available[0];
    },
  });
  const seen = found.map(({ moment: { speed, step }, passed }) => ({ speed, step, brokeUp: passed }));
  return told(sparkDemandFactorOf(foresight, seen), 'ignition breakup', found);
}

/** Head lift seen or not: the peak pressure at which the head lifts. Without a lift and without a stated pressure nothing is learnt. @source {@link headLiftPressureOf} */
function headLesson(foresight: Foresight, pulls: readonly WatchedPull[]): KnownValue | undefined {
  const found = placesOf(foresight, pulls, {
    ...{ faults: ['head-lift'], sign: 'late', lasting: true },
    hardness: (moment) => lineAt('peak pressure', moment),
  });
  if (!hasBorder(foresight, 'headLiftPressure', found)) return undefined;
  const seen = found.map(({ moment: { speed, step }, passed }) => ({ speed, step, lifted: passed }));
  return told(headLiftPressureOf(foresight, seen), 'head lift', found);
}

/**
 * Relative width of the edge of slip [1]: straps bed in and nobody weighs them in the pull, treads warm up.
 *
 * @source our default
 */
const GRIP_EDGE = 0.1;

/** Wheel slip seen or not: force over load at which the tyres slip. @source {@link borderSeen} */
function gripLesson(foresight: Foresight, pulls: readonly WatchedPull[]): KnownValue | undefined {
  const { values } = foresight.model;
  const axle = values.get('axleLoad')?.value;
  const grip = values.get('grip');
  if (axle === undefined || !grip) return undefined;
  const straps = values.get('strapForce')?.value ?? 0;
  const hardness = (moment: Moment): number =>
    lineAt('wheel force', moment) / (axle + (moment.step.strapForce ?? straps));
  const found = placesOf(foresight, pulls, { faults: ['wheel-slip'], sign: 'at once', lasting: false, hardness });
  const belief = { value: grip.value, spread: Math.max(0.02, grip.standardUncertainty / grip.value) };
  return learntFrom(
    { name: 'grip', kind: 'ratio', what: 'wheel slip', found, hardness },
    { ...belief, sharpness: GRIP_EDGE },
  );
}

/**
 * Relative width of the edge at which a pump falls behind [1]; what is believed of its flow when nobody stated it [1]; how far the voltage may
 * lie from the usual one for the moment to say something [1]: a pump starved of voltage tells little of a fed one.
 *
 * @source our default
 */
const PUMP = { edge: 0.04, spread: 0.3, voltage: 0.03 } as const;

/**
 * Fuel pressure falling or not: what the pumps bring at the day's usual voltage; moments at another voltage are left out.
 *
 * @source  {@link borderSeen}
 */
function pumpLesson(foresight: Foresight, pulls: readonly WatchedPull[]): KnownValue | undefined {
  const { values } = foresight.model;
  const usual = values.get('coilVoltage')?.value ?? Number.NaN;
  const hardness = (moment: Moment): number => {
    const away = Math.abs((moment.step.coilVoltage ?? usual) / usual - 1);
    return away > PUMP.voltage ? Number.NaN : lineAt('fuel flow', moment);
  };
  const search: Search = { faults: ['fuel-pressure-drop'], sign: 'at once', lasting: false, hardness };
  const found = placesOf(foresight, pulls, search);
  if (!hasBorder(foresight, 'fuelPumpFlow', found) || isContradicted(found, hardness, PUMP.edge)) return undefined;
  const stated = values.get('fuelPumpFlow');
  const there = found.filter(({ passed }) => passed).map(({ moment }) => hardness(moment));
  const value = stated?.value ?? Math.min(...there);
  const spread = stated ? Math.max(0.02, stated.standardUncertainty / stated.value) : PUMP.spread;
  const border = { name: 'fuelPumpFlow', kind: 'mass-flow', what: 'fuel pressure falling', found, hardness } as const;
  return learntFrom(border, { value, spread, sharpness: PUMP.edge });
}

/** Surge under load seen or not: where the map's border of small flow lies on this engine. @source {@link surgeFlowFactorOf} */
function surgeLesson(foresight: Foresight, pulls: readonly WatchedPull[]): KnownValue | undefined {
  if (!foresight.model.map) return undefined;
  const found = placesOf(foresight, pulls, {
    ...{ faults: ['surge'], sign: 'at once', lasting: false, underLoad: true },
    hardness: ({ step, told: prediction }) => {
      const { required, available } = limitBy('compressor surge', { model: foresight.model, prediction, step });
      return required[0] / available[0];
    },
  });
  const seen = found.map(({ moment: { speed, step }, passed }) => ({ speed, step, surged: passed }));
  return told(surgeFlowFactorOf(foresight, seen), 'surge', found);
}

interface Border {
  readonly name: string;
  readonly kind: KnownValue['kind'];
  readonly what: string;
  readonly found: readonly Found[];
  readonly hardness: (moment: Moment) => number;
}

function learntFrom(
  { name, kind, what, found, hardness }: Border,
  belief: Parameters<typeof borderSeen>[1],
): KnownValue | undefined {
  const places = found
    .map(({ moment, passed }) => ({ value: hardness(moment), passed }))
    .filter(({ value }) => value > 0);
  if (places.length === 0) return undefined;
  return told({ name, kind, ...borderSeen(places, belief), origin: 'measured today', source: '' }, what, found);
}

/** Edges by which the fault may come earlier than somewhere without it [1]. @source our default */
const OUT_OF_ORDER = 3;

/** Whether the fault came where much more had passed without it: then it is not this border that was met, and nothing is learnt. */
function isContradicted(found: readonly Found[], hardness: (moment: Moment) => number, edge: number): boolean {
  const side = (wanted: boolean) =>
    found.filter(({ passed }) => passed === wanted).map(({ moment }) => hardness(moment));
  return Math.min(...side(true)) < Math.max(...side(false)) * (1 - OUT_OF_ORDER * edge);
}

function hasBorder({ model }: Foresight, name: string, found: readonly Found[]): boolean {
  return model.values.has(name) || found.some(({ passed }) => passed);
}

function told(value: KnownValue | undefined, what: string, found: readonly Found[]): KnownValue | undefined {
  return value && { ...value, learnt: wordsOf(what, found, rpm), source: `from ${wordsOf(what, found, rpm)}` };
}

function lineAt(line: PredictedLine, { told: prediction }: Moment): number {
  return prediction.lines[line].value[0];
}
