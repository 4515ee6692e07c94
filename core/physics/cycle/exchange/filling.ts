import type { CycleEngine, ValveAngles } from '../engine/engine.ts';
import { cylinderVolume } from '../mechanism/cylinder.ts';

/** State of the intake, SI. */
export interface IntakeState {
  readonly pressure: number;
  readonly temperature: number;
  readonly meanPistonSpeed: number;
  /** Gas constant of the fresh charge [J/(kg·K)]. */
  readonly gasConstant: number;
}

/** Crank angle over which the cylinder fills up after bottom dead centre [rad]. @source our default (28°); fit as `intakeLag` */
const FILLING_ANGLE = (28 / 180) * Math.PI;
/** Pressure lacking at bottom dead centre, and pressure that the moving column adds in the end, per square of the Mach index [1]. @source our defaults */
const LACK = 1.4;
const RAM = 0.8;
/** Mach index beyond which the lack no longer grows with the square. @source Taylor, The Internal Combustion Engine, vol. 1: filling falls beyond about 0.6 (from memory) */
const CHOKE_INDEX = 0.6;

/** Mach index of the intake [1]: piston speed over (relative valve area × speed of sound). @source Taylor, vol. 1, ch. 6 (from memory) */
export function machIndex(engine: CycleEngine, intake: IntakeState): number {
  const sound = Math.sqrt(1.4 * intake.gasConstant * intake.temperature);
  return intake.meanPistonSpeed / (engine.intakeArea * sound);
}

/**
 * Pressure in the cylinder when the intake closes, over manifold pressure [1].
 *
 *     pc/pi = F·(1 + Y·[r − (a + r)·exp(−(θ_ivc − θ_bdc)/(k·28°))]),   Y = Z²/(1 + (Z/Z₀)²)
 *
 * Flow leaves the cylinder short at bottom dead centre by the square of the Mach index Z; while the valve stays open the moving
 * column makes the lack up and more. So a later closing loses volume and wins pressure, and the best cam phase moves later with speed.
 * F is the fit: filling·(1 + slope·u + bend·u²), u = c/12 m/s − 1.
 *
 * @valid   mean value; waves in long pipes are not in it, only what a fit puts into F
 * @source  our model; Mach index after Taylor, numbers are our defaults
 */
export function closingPressureRatio(engine: CycleEngine, intake: IntakeState, valves: ValveAngles): number {
  const { fit } = engine;
  const z = machIndex(engine, intake);
  const flow = (z * z) / (1 + (z / CHOKE_INDEX) ** 2);
  const after = valves.intakeCloses + Math.PI;
  const u = intake.meanPistonSpeed / 12 - 1;
  const fitted = fit.filling * (1 + fit.fillingSlope * u + fit.fillingBend * u * u);
  return fitted * (1 + flow * (RAM - (LACK + RAM) * Math.exp(-after / (fit.intakeLag * FILLING_ANGLE))));
}

/** Volume when the intake closes [m³]. */
export function closingVolume(engine: CycleEngine, valves: ValveAngles): number {
  return cylinderVolume(engine, valves.intakeCloses);
}

/** Share of the way from charge to wall temperature that the charge is warmed on its way in [1], and that wall [K]. @source our default: 8 … 15 K of a naturally aspirated engine */
export const INTAKE_WARMING = { share: 0.12, wall: 380 } as const;

export interface WarmingInput {
  readonly temperature: number;
  readonly evaporationShare: number;
  readonly latentHeat: number;
  /** Fuel over the rest of the fresh charge, by mass. */
  readonly fuelRatio: number;
}

/** Heat capacity of charge at constant pressure [J/(kg·K)]. @source common textbook value of air */
const CHARGE_HEAT = 1005;

/** Temperature of the fresh charge in the cylinder before it meets residual gas [K]. @source energy balance of warming and evaporation */
export function freshTemperature({ temperature, evaporationShare, latentHeat, fuelRatio }: WarmingInput): number {
  const warmed = temperature + INTAKE_WARMING.share * (INTAKE_WARMING.wall - temperature);
  return warmed - (evaporationShare * latentHeat * fuelRatio) / CHARGE_HEAT;
}

/**
 * Loss of the valves in the pumping work [Pa], both together: ½·ρ·(c/area)²·k.
 *
 * @source  quasi-steady flow through the mean area, common textbook form; k = 1.0 for intake and exhaust together: our default
 */
export function valvePumping(engine: CycleEngine, intake: IntakeState): number {
  const speed = intake.meanPistonSpeed / engine.intakeArea;
  return 0.5 * (intake.pressure / (intake.gasConstant * intake.temperature)) * speed * speed;
}
