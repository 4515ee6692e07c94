import { type Measured, measured } from '../../../core/quantities/index.ts';
import { airOf } from '../model/conditions.ts';
import { isWaterCooled, startTank, USUAL_SOAK_SCATTER } from '../model/coolant.ts';
import type { EngineModel, Step } from '../model/engine-model.ts';
import { numbersOf, uncertainOf } from '../model/numbers.ts';
import { pointsOf } from '../model/predict.ts';
import { isBoosted } from '../model/sensitivities.ts';

/**
 * How warm the charge cooler is taken to be. start, end: what cools the charge above the air outside when the load begins and at the redline [K]. ice: in the
 * tank when the load begins [kg]; absent without a tank. water: of the tank then [K].
 */
export interface CoolerState {
  readonly kind: 'air-to-air' | 'water-to-air';
  readonly origin: 'asked' | 'pulls of the day' | 'usual values';
  readonly start: Measured;
  readonly end: Measured;
  readonly water?: number;
  readonly ice?: number;
}

/**
 * The charge cooler of a step: as the step says, else as in a usual pull of the day, else as usual in the trade. Undefined without a compressor.
 *
 * @source  parameters of the calibration with their covariance and the scatter between pulls: JCGM 100:2008, equation 13
 */
export function coolerStateOf(model: EngineModel, step: Step): CoolerState | undefined {
  if (!isBoosted(model)) return undefined;
  const numbers = numbersOf(model);
  const kind = isWaterCooled(numbers) ? 'water-to-air' : 'air-to-air';
  if (step.soak !== undefined) {
    const held = measured(step.soak, 0);
    return { kind, origin: 'asked', start: held, end: held };
  }
  const taught = model.values.get('soakScatter')?.origin === 'measured today';
  const outside = airOf(model, step).temperature.value;
  const tank = kind === 'water-to-air' ? startTank(numbers, { ...step, ambientTemperature: outside }) : undefined;
  const start = numbers.soakStart + (tank ? tank.temperature - outside : 0);
  const [last] = pointsOf(model, step, [numbers.redline]);
  const time = Math.max(0, model.habits.loadTime(numbers.redline, step.manifoldPressure).value);
  return {
    kind,
    origin: step.water !== undefined || step.ice !== undefined ? 'asked' : taught ? 'pulls of the day' : 'usual values',
    start: measured(start, soakSpread(model, 0)),
    end: measured(last?.coolantRise ?? start + numbers.soakRate * time, soakSpread(model, time)),
    ...(tank && { water: tank.temperature, ice: tank.ice }),
  };
}

/** Standard uncertainty of θ0 + q·t with the scatter between pulls [K]. */
function soakSpread(model: EngineModel, time: number): number {
  const { parameters } = uncertainOf(model);
  const at = (name: string): number => parameters.findIndex((one) => one.name === name);
  const [start, rate] = [at('soakStart'), at('soakRate')];
  const n = model.parameters.length;
  const shared = n > 0 ? model.covariance[start * n + rate] : 0;
  const own = parameters[start].spread ** 2 + 2 * time * shared + (time * parameters[rate].spread) ** 2;
  const scatter = model.values.get('soakScatter')?.value ?? USUAL_SOAK_SCATTER.kelvin;
  return Math.hypot(Math.sqrt(Math.max(0, own)), scatter);
}
