import type { Angle, Ratio, Temperature } from '../../../quantities/index.ts';
import type { CylinderShape } from '../mechanism/cylinder.ts';
import type { FrictionLaw } from './friction.ts';

/**
 * Valve timing at no phase shift, seen at the lift at which flow begins to matter (1 mm is usual): all positive in the usual case.
 */
export interface ValveTiming {
  /** Before top dead centre of gas exchange [rad]; negative when it opens later. */
  readonly intakeOpens: Angle;
  /** After bottom dead centre [rad]. */
  readonly intakeCloses: Angle;
  /** Before bottom dead centre [rad]. */
  readonly exhaustOpens: Angle;
  /** After top dead centre of gas exchange [rad]. */
  readonly exhaustCloses: Angle;
}

/** A four-stroke spark-ignition engine with a cylinder's numbers. What a fit may change stands in `fit`. */
export interface CycleEngine extends CylinderShape {
  readonly cylinders: number;
  readonly timing: ValveTiming;
  /** Mean effective flow area of one cylinder's intake valves over the stroke, by piston area [1]. */
  readonly intakeArea: Ratio;
  /** Mean temperature of the walls of the chamber [K]. */
  readonly wallTemperature: Temperature;
  /** Share of the fuel's heat of vaporisation that cools the charge before the valves close [1]. */
  readonly evaporationShare: Ratio;
  /** Share of the charge that burns; the rest stays in crevices and at the walls [1]. */
  readonly burnedShare: Ratio;
  /** Effective area of the leak past the rings of one cylinder [m²]; 0 for none. */
  readonly leakArea: number;
  readonly friction: FrictionLaw;
  readonly fit: CycleFit;
}

/** Factors near 1 (or shifts near 0) that a fit moves; see engine/parameters.ts for what each does. */
export interface CycleFit {
  readonly filling: number;
  readonly fillingSlope: number;
  readonly fillingBend: number;
  readonly intakeLag: number;
  readonly burnDelay: number;
  readonly burnDuration: number;
  readonly burnDurationSlope: number;
  readonly heatLoss: number;
  readonly friction: number;
  readonly pumping: number;
  readonly ignitionDelay: number;
  readonly exhaustHeat: number;
}

/** Crank angles of the valves after firing TDC with phases applied [rad]; intake closing is negative, exhaust opening positive. */
export interface ValveAngles {
  readonly intakeCloses: number;
  readonly exhaustOpens: number;
  /** From intake opening to exhaust closing; negative when there is none. */
  readonly overlap: number;
  /** After top dead centre of gas exchange. */
  readonly exhaustCloses: number;
}

/** @param phase advance of the intake and of the exhaust cam against `timing` [rad], earlier is positive @source geometry */
export function valveAngles(
  timing: ValveTiming,
  phase: { readonly intake: number; readonly exhaust: number },
): ValveAngles {
  const exhaustCloses = timing.exhaustCloses - phase.exhaust;
  return {
    intakeCloses: timing.intakeCloses - phase.intake - Math.PI,
    exhaustOpens: Math.PI - timing.exhaustOpens - phase.exhaust,
    overlap: timing.intakeOpens + phase.intake + exhaustCloses,
    exhaustCloses,
  };
}
