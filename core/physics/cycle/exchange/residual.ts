import type { CycleEngine, ValveAngles } from '../engine/engine.ts';
import { cylinderSize, cylinderVolume } from '../mechanism/cylinder.ts';

/** What the gas exchange leaves behind depends on; SI. */
export interface ResidualInput {
  readonly valves: ValveAngles;
  readonly manifoldPressure: number;
  readonly exhaustPressure: number;
  readonly chargeTemperature: number;
  readonly residualTemperature: number;
  /** Gas constant of residual gas [J/(kg·K)]. */
  readonly residualConstant: number;
  /** ω [rad/s] */
  readonly turning: number;
}

/** Flow of both valves together while they overlap, as a share of the intake's area, per radian of overlap. @source our default */
const OVERLAP_AREA = 0.12;
/** Pressure difference at which overlap flow turns gently from one law to the other [Pa]. @source our default, for smoothness */
const SMOOTH_PRESSURE = 1500;
/** Overlap below which it fades out [rad]. @source our default (4°) */
const SMOOTH_OVERLAP = 0.07;

/**
 * Mass of burned gas left in one cylinder at intake closing [kg].
 *
 * Burned gas fills the volume at exhaust closing at exhaust pressure. During overlap, gas flows towards the lower pressure:
 * from the exhaust it adds to the residual, from the intake it sweeps it out, m = m₀·exp(−swept/m₀).
 *
 * @valid   mean value; pressure waves in the exhaust are not in it
 * @source  ideal gas and orifice flow; kind of dependence as Fox, Cheng, Heywood SAE 931025 (from memory); areas are our defaults
 */
export function residualMass(engine: CycleEngine, input: ResidualInput): number {
  const { valves, exhaustPressure, manifoldPressure, turning } = input;
  const volume = cylinderVolume(engine, valves.exhaustCloses);
  const left = (exhaustPressure * volume) / (input.residualConstant * input.residualTemperature);
  const overlap = 0.5 * (valves.overlap + Math.hypot(valves.overlap, SMOOTH_OVERLAP));
  const { pistonArea } = cylinderSize(engine);
  const areaTime = OVERLAP_AREA * overlap * (engine.intakeArea * pistonArea) * (overlap / turning);
  const difference = exhaustPressure - manifoldPressure;
  const root = difference / Math.sqrt(Math.hypot(difference, SMOOTH_PRESSURE));
  const split = Math.hypot(root, Math.sqrt(SMOOTH_PRESSURE));
  const back = 0.5 * (root + split);
  const forth = 0.5 * (split - root);
  const hotDensity = exhaustPressure / (input.residualConstant * input.residualTemperature);
  const coldDensity = manifoldPressure / (287 * input.chargeTemperature);
  const added = areaTime * Math.sqrt(2 * hotDensity) * back;
  // swept by volume: fresh gas that comes in pushes out as much volume of burned gas
  const swept = areaTime * Math.sqrt(2 / coldDensity) * forth * hotDensity;
  return (left + added) * Math.exp(-swept / left);
}
