import { type CycleEngine, chargeAtSpark, injectorUse, sparkDemand, valveAngles } from '../../../core/physics/index.ts';
import {
  absolutePressure,
  angle,
  angularSpeed,
  duration,
  length,
  massFlow,
  pressureDifference,
  ratio,
  temperature,
} from '../../../core/quantities/index.ts';
import type { PredictedLine } from './engine-model.ts';
import type { Numbers, OperatingPoint, Query } from './operating-point.ts';

/** Exponent of the compression before the spark [1]. @source common practice 1.30 … 1.35 (Heywood 9.2, from memory) */
const COMPRESSION = 1.32;

/** Every line of a prediction at one speed [SI]; NaN where a number that it needs is not known. */
export function linesAt(
  engine: CycleEngine,
  { numbers, query, gap }: { readonly numbers: Numbers; readonly query: Query; readonly gap: number },
  point: OperatingPoint,
): Record<PredictedLine, number> {
  const { cycle } = point;
  const torque = torqueOf(numbers, query, point);
  const power = torque * query.speed;
  const road = wheelPower(numbers, query.speed, power);
  const sparkLit = !Number.isFinite(numbers.halfBurned);
  return {
    'engine torque': torque,
    'engine power': power,
    'wheel power': road.power,
    'wheel force': road.power / road.speed,
    'air flow': point.airFlow,
    'charge temperature': point.chargeTemperature,
    'exhaust pressure': point.exhaustPressure,
    'turbocharger speed': point.turboSpeed,
    'fuel flow': point.fuelFlow,
    'injector duty': dutyOf(numbers, query.speed, point.fuelFlow),
    'peak pressure': cycle.peakPressure,
    'knock integral': sparkLit ? cycle.knockIntegral : Number.NaN,
    'exhaust temperature': cycle.exhaustTemperature - numbers.probeShortfall,
    'spark voltage': sparkLit ? sparkVoltage(engine, { numbers, query, gap }, point) : Number.NaN,
    timing: sparkLit ? query.timing : Number.NaN,
  };
}

/** Manifold pressure about which the work's correction turns [Pa]. @source our default */
const TURNING_PRESSURE = 180e3;
/** The same for speed, as a share of the redline [1]. @source our default */
const TURNING_SHARE = 0.7;

/**
 * Brake torque [N·m]: the cycle's, its gross work corrected by what calibration found that the cycle gets wrong.
 *
 * @source  T = mep·Vd/(4π), four strokes
 */
export function torqueOf(
  numbers: Numbers,
  { speed, manifoldPressure, timingShift }: Pick<Query, 'speed' | 'manifoldPressure' | 'timingShift'>,
  { cycle }: OperatingPoint,
): number {
  const change =
    numbers.workScale -
    1 +
    numbers.workByPressure * Math.log(manifoldPressure / TURNING_PRESSURE) +
    numbers.workBySpeed * (speed / numbers.redline - TURNING_SHARE) +
    numbers.workByTiming * timingShift;
  return cycle.brakeTorque * (1 + (change * cycle.grossIndicated) / cycle.brake);
}

/**
 * Power at the rolls in a steady state [W] and their speed [m/s]: less the meshes' share and the coast-downs' force; no inertia.
 * Overall ratio: engine speed over roll surface speed where the day measured it, else stated ratio over tyre radius.
 */
function wheelPower(
  numbers: Numbers,
  speed: number,
  power: number,
): { readonly power: number; readonly speed: number } {
  const v = (speed / numbers.overallRatio) * numbers.tyreRadius;
  const force = numbers.lossConstant + numbers.lossSlope * v + numbers.lossSquare * v * v;
  return { power: power * (1 - numbers.torqueLoss) - force * v, speed: v };
}

/** @source {@link injectorUse} */
export function dutyOf(numbers: Numbers, speed: number, fuelFlow: number): number {
  return injectorUse({
    rating: { flow: massFlow(numbers.injectorFlow), at: pressureDifference(numbers.injectorPressure) },
    fuelFlow: massFlow(fuelFlow),
    injectors: numbers.injectors,
    difference: pressureDifference(numbers.injectorPressure),
    deadTime: duration(numbers.injectorDeadTime),
    engineSpeed: angularSpeed(speed),
  }).duty;
}

/**
 * Voltage that a plug in service takes [V].
 *
 * As stated; wear that nobody stated lies anywhere between new and worn: the middle is taken, its spread is in the line's own.
 *
 * @source  {@link sparkDemand}; even between its two states: our default
 */
function sparkVoltage(
  engine: CycleEngine,
  { numbers, query, gap }: { readonly numbers: Numbers; readonly query: Query; readonly gap: number },
  { cycle }: OperatingPoint,
): number {
  const closing = valveAngles(engine.timing, { intake: query.camPhase, exhaust: 0 }).intakeCloses;
  const state = chargeAtSpark(
    {
      cylinder: {
        bore: length(numbers.bore),
        stroke: length(numbers.stroke),
        rodLength: length(numbers.rodLength),
        compressionRatio: ratio(numbers.compressionRatio),
      },
      closing: angle(closing),
      pressure: absolutePressure(cycle.closingPressure),
      temperature: temperature(cycle.closingTemperature),
      exponent: COMPRESSION,
    },
    angle(-query.timing),
  );
  const worn = (electrodes: 'new' | 'worn'): number =>
    sparkDemand({ ...state, gap: length(gap), electrodes, lambda: ratio(query.lambda) }).demand.value;
  return Number.isFinite(numbers.electrodeFactor)
    ? numbers.electrodeFactor * worn('new')
    : (worn('new') + worn('worn')) / 2;
}
