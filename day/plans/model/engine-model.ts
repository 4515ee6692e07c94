import type { CompressorMap, CycleEngine, GasModel } from '../../../core/physics/index.ts';
import type { Measured, QuantityKind } from '../../../core/quantities/index.ts';
import type { FuelName } from '../../pulls/index.ts';

/** One number that an answer rests on: stated by a person, read from the day's clean pulls, or a usual value of the trade. SI by `kind`. */
export interface KnownValue extends Measured {
  readonly name: string;
  readonly kind: QuantityKind;
  readonly origin: 'stated' | 'measured today' | 'prior';
  readonly source: string;
  /** A border that the day showed: by what, in words. */
  readonly learnt?: string;
}

/** What the control asked for in the day's clean pulls, over engine speed and manifold pressure; the prior where no pull went. */
export interface Habits {
  /** Ignition timing before top dead centre [rad] at an engine speed [rad/s] and a manifold pressure [Pa]. */
  readonly timing: (speed: number, pressure: number) => Measured;
  readonly lambda: (speed: number, pressure: number) => Measured;
  /** Inlet cam, advance positive [rad]. */
  readonly camPhase: (speed: number, pressure: number) => Measured;
  /** Time under load at which a pull comes to an engine speed [s]. */
  readonly loadTime: (speed: number, pressure: number) => Measured;
}

/**
 * One engine with its parts, calibrated to the clean pulls of the day as far as they tell.
 * parameters, covariance (row after row): of the fit; empty before any pull. pulls: how many it rests on.
 */
export interface EngineModel {
  readonly engine: CycleEngine;
  readonly gas: GasModel;
  /** By name where it has one; absent: petrol. */
  readonly fuel?: FuelName;
  readonly map: CompressorMap | undefined;
  readonly values: ReadonlyMap<string, KnownValue>;
  readonly habits: Habits;
  readonly parameters: readonly {
    readonly name: string;
    readonly value: number;
    readonly standardUncertainty: number;
  }[];
  readonly covariance: Float64Array;
  readonly pulls: number;
  /** What the data cannot tell, in words: `phase effect unknown above 5500 rpm`. */
  readonly unknown: readonly string[];
  /** Does a compressor fill it; absent: told by the parts that were stated. */
  readonly boosted?: boolean;
  /** How far the fit left its observations, root mean square of what remains over its standard uncertainty [1]; absent before any pull. */
  readonly misfit?: number;
  /** What the day's clean pulls held, rising pressure; absent before any pull. */
  readonly held?: readonly Held[];
  /** Entries whose pulls it rests on, and those that were left out with the reason. */
  readonly rests?: { readonly used: readonly string[]; readonly leftOut: ReadonlyMap<string, string> };
}

/** One pull: its manifold pressure [Pa], and the lowest engine speed at which it had it [rad/s]. */
export interface Held {
  readonly pressure: number;
  readonly from: number;
}

/** A step that somebody thinks of. What is absent stays as it was on the day. SI. */
export interface Step {
  /** [Pa] */
  readonly manifoldPressure: number;
  /** On top of the day's timing, earlier is positive [rad]. */
  readonly timing?: number;
  readonly camPhase?: number;
  readonly lambda?: number;
  /** [m] */
  readonly plugGap?: number;
  /** [s] */
  readonly dwell?: number;
  /** Voltage at the coil [V]. */
  readonly coilVoltage?: number;
  readonly overallRatio?: number;
  /** Sum of the straps' downward pull [N]. */
  readonly strapForce?: number;
  /** Height above sea level [m]; with it pressure and temperature of the standard atmosphere unless they are given. */
  readonly altitude?: number;
  readonly ambientPressure?: number;
  readonly ambientTemperature?: number;
  readonly relativeHumidity?: number;
  /** Heat that the charge cooler has soaked up: what cools the charge is hotter than the air outside by this, over the whole pull [K]. */
  readonly soak?: number;
  /** Water of the cooler's tank when the pull begins [K], and ice in it [kg]. */
  readonly water?: number;
  readonly ice?: number;
  /** Additional loss before the compressor at the rated flow [Pa]. */
  readonly inletLoss?: number;
  readonly octane?: number;
  /** Another fuel than the day's; its octane number, air need and full-load mixture come with it. */
  readonly fuel?: FuelName;
  /** Ethanol by volume in petrol [1]. */
  readonly ethanolShare?: number;
  /** Added over the driven axle [kg]. */
  readonly ballast?: number;
  /** Of the tyres' tread [K]. */
  readonly treadTemperature?: number;
}

/** Arrays as long as `speed`; u…: standard uncertainty. What cannot be computed is NaN and named in `missing`. */
export interface Prediction {
  /** [rad/s] */
  readonly speed: Float64Array;
  readonly lines: Readonly<Record<PredictedLine, PredictedCurve>>;
  readonly missing: readonly string[];
  /** Values of the trade that were taken because nobody stated them, by name. */
  readonly assumed: readonly string[];
}

export interface PredictedCurve {
  readonly kind: QuantityKind;
  readonly value: Float64Array;
  readonly standardUncertainty: Float64Array;
}

export type PredictedLine =
  | 'engine torque'
  | 'engine power'
  | 'wheel power'
  | 'wheel force'
  | 'air flow'
  | 'charge temperature'
  | 'exhaust pressure'
  | 'turbocharger speed'
  | 'fuel flow'
  | 'injector duty'
  | 'peak pressure'
  | 'knock integral'
  | 'exhaust temperature'
  | 'spark voltage'
  | 'timing';
