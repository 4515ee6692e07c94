import { soakAfter, tankAfter, type WaterTank } from '../../../core/physics/index.ts';
import {
  duration,
  type Measured,
  measured,
  power,
  temperature,
  temperatureDifference,
} from '../../../core/quantities/index.ts';
import { airOf } from '../model/conditions.ts';
import { isWaterCooled, startTank } from '../model/coolant.ts';
import type { EngineModel, Step } from '../model/engine-model.ts';
import { numbersOf } from '../model/numbers.ts';
import type { Numbers } from '../model/operating-point.ts';
import { pointsOf } from '../model/predict.ts';
import { ledgerOf } from './ledger.ts';

/** pulls: how many, one after the other; pause: from the end of one to the load of the next [s]. */
export interface SeriesQuestion {
  readonly pulls: number;
  readonly pause: number;
}

/**
 * One pull of a series. start, end: what cools the charge above the air outside [K]; charge: behind the cooler at the end [K]; heat: taken from the charge [J].
 * water: of the tank at the end [K], ice: left in it then [kg]; absent without a tank.
 */
export interface SeriesPull {
  readonly start: number;
  readonly end: number;
  readonly charge: number;
  readonly heat: number;
  readonly water?: number;
  readonly ice?: number;
}

/** How long until the cooler is as it was before the pull, but for a tenth of what the pull brought. */
export type CoolerReady =
  | { readonly kind: 'at once' }
  | { readonly kind: 'after'; readonly wait: Measured }
  | { readonly kind: 'with new ice only' };

/** pulls: in their order. ready: after the first of them. iceFor: pulls at whose end ice is left, when looked at up to {@link FARTHEST} of them; absent without ice. */
export interface CoolerSeries {
  readonly pulls: readonly SeriesPull[];
  readonly ready: CoolerReady;
  readonly iceFor?: number;
  readonly assumed: readonly string[];
}

/** Recovery of a soaked charge cooler [s]. @source common practice, no source: 8 to 15 minutes until it is cold, taken as three time constants */
export const USUAL_RECOVERY = { value: 230, standardUncertainty: 70, source: 'common practice, no source' } as const;
/** Places of a pull at which the heat is looked at, from a third of the redline on. @source our default */
const PLACES = 8;
const FIRST_SHARE = 0.33;
/** Pulls that are looked at when asking how long ice lasts. @source our default */
export const FARTHEST = 30;

/**
 * The charge cooler over a series of equal pulls with equal pauses.
 *
 *     air to air      dθ/dt = q under load,  dθ/dt = −(θ − θ0)/τ in the pause, θ0 of a usual pull, which the pauses of the day left
 *     water to air    the tank's heat balance, P from the charge under load and none in the pause
 *
 * @valid   the pause is the engine's idling with fans and pump on; a tank well stirred
 * @source  {@link soakAfter}, {@link tankAfter}
 */
export function coolerSeriesOf(model: EngineModel, step: Step, { pulls, pause }: SeriesQuestion): CoolerSeries {
  const ledger = ledgerOf(model);
  const recovery = ledger.take('coolerTimeConstant', USUAL_RECOVERY);
  const asked: Asked = { model, step, numbers: numbersOf(model), recovery, air: airOf(model, step).temperature.value };
  const first = startOf(asked);
  const all: Passed[] = [];
  const count = (first.tank?.ice ?? 0) > 0 ? Math.max(pulls, FARTHEST) : pulls;
  for (let state = first; all.length < count; ) {
    const passed = pulled(asked, state);
    all.push(passed);
    state = rested(asked, passed.after, pause);
  }
  const gone = all.findIndex(({ after }) => (after.tank?.ice ?? 0) <= 0);
  return {
    pulls: all.slice(0, pulls).map(({ row }) => row),
    ready: readyOf(asked, first, all[0]?.after ?? first),
    ...((first.tank?.ice ?? 0) > 0 && { iceFor: gone < 0 ? count : gone }),
    assumed: ledger.assumed,
  };
}

interface Asked {
  readonly model: EngineModel;
  readonly step: Step;
  readonly numbers: Numbers;
  readonly recovery: Measured;
  /** Outside [K]. */
  readonly air: number;
}

/** soak: warmth of the cooler above the air, beside that of the tank [K]. */
interface State {
  readonly soak: number;
  readonly tank?: WaterTank;
}

interface Passed {
  readonly row: SeriesPull;
  readonly after: State;
}

function startOf({ numbers, step, air }: Asked): State {
  const soak = step.soak ?? numbers.soakStart;
  if (!isWaterCooled(numbers)) return { soak };
  const tank = startTank(numbers, { ...step, ambientTemperature: air });
  return step.soak === undefined
    ? { soak, tank }
    : { soak: 0, tank: { ...tank, temperature: temperature(air + step.soak) } };
}

const riseOf = ({ soak, tank }: State, air: number): number => soak + (tank ? tank.temperature - air : 0);

function pulled(asked: Asked, start: State): Passed {
  const { model, step, numbers, air } = asked;
  const { redline, soakRate } = numbers;
  const timeAt = (speed: number): number => Math.max(0, model.habits.loadTime(speed, step.manifoldPressure).value);
  let state = start;
  let heat = 0;
  let charge = Number.NaN;
  let before = 0;
  for (let k = 0; k < PLACES; k++) {
    // the heat of a stretch is that of its middle
    const speed = redline * (FIRST_SHARE + ((1 - FIRST_SHARE) * (k + 0.5)) / PLACES);
    const until = k === PLACES - 1 ? timeAt(redline) : timeAt(speed + (redline * (1 - FIRST_SHARE)) / (2 * PLACES));
    const time = duration(Math.max(0, until - before));
    before = Math.max(before, until);
    const [point] = pointsOf(model, { ...step, soak: riseOf(state, air) }, [speed]);
    const own = Math.max(0, point?.coolerHeat ?? 0);
    heat += own * time;
    const soak = state.soak + soakRate * time;
    const { tank } = state;
    state = tank ? { soak, tank: tankAfter(tank, { heat: power(own), ambient: temperature(air), time }) } : { soak };
    charge = point?.chargeTemperature ?? charge;
  }
  const end = riseOf(state, air);
  const [last] = pointsOf(model, { ...step, soak: end }, [redline]);
  const { tank } = state;
  const row = { start: riseOf(start, air), end, charge: last?.chargeTemperature ?? charge, heat };
  return { row: tank ? { ...row, water: tank.temperature, ice: tank.ice } : row, after: state };
}

/** After a pause; warmth beside the tank's leaves by itself. */
function rested(asked: Asked, { soak, tank }: State, pause: number): State {
  const { numbers, recovery, air } = asked;
  if (tank) {
    const load = { heat: power(0), ambient: temperature(air), time: duration(pause) };
    return { soak: numbers.soakStart, tank: tankAfter(tank, load) };
  }
  const base = baseOf(asked);
  const rise = temperatureDifference(soak - base);
  return { soak: base + soakAfter({ rise, heating: 0, timeConstant: duration(recovery.value) }, duration(pause)) };
}

/** Where a cooler without a tank settles above the air outside [K]: where a usual pull begins, or below it as the step says. */
function baseOf({ numbers, step }: Pick<Asked, 'numbers' | 'step'>): number {
  return step.soak === undefined ? numbers.soakStart : Math.min(numbers.soakStart, step.soak);
}

/** Share of what the pull brought that may be left [1]. @source our default */
const LEFT = 0.1;

function readyOf(asked: Asked, before: State, after: State): CoolerReady {
  const { air, recovery } = asked;
  if ((after.tank?.ice ?? 0) > 0) return { kind: 'at once' };
  const [first, last] = [before, after].map((state) => (state.tank ? state.tank.temperature - air : state.soak));
  const brought = last - first;
  if (!(brought > 0)) return { kind: 'at once' };
  const wanted = first + LEFT * brought;
  const base = before.tank ? 0 : baseOf(asked);
  // below the air outside nothing cools it but ice
  if (wanted <= base) return { kind: 'with new ice only' };
  const times = Math.log((last - base) / (wanted - base));
  return { kind: 'after', wait: measured(times * recovery.value, times * recovery.standardUncertainty) };
}
