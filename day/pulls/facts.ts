import type { Measured } from '../../core/quantities/index.ts';
import type { Mapping } from '../channels/index.ts';
import type { PartsFacts } from './parts.ts';

/**
 * What a person knows about a day: everything that is not in the logs. SI throughout.
 * A value that is absent is unknown; a computation that needs it says so, or uses a default of ours and says that.
 */
export interface DayFacts {
  readonly title: string;
  /** ISO date, `2031-05-14`. */
  readonly date?: string;
  /** Where the data come from when they are not from a real engine, in plain words; shown on every page and report. */
  readonly invented?: string;
  readonly notes?: string;
  readonly place: PlaceFacts;
  readonly vehicle: VehicleFacts;
  readonly engine: EngineFacts;
  readonly roller: RollerFacts;
  readonly ambient: AmbientFacts;
  readonly parts?: PartsFacts;
  readonly entries: readonly EntryFacts[];
  readonly mappings: readonly Mapping[];
  /** Thresholds of the verdicts that were set for this day, as written with their unit: `boost-overshoot.pressure` → `10 kPa`. They go before those of the engine. */
  readonly thresholds?: Readonly<Record<string, string>>;
  /** The same, for this engine on every day. */
  readonly engineThresholds?: Readonly<Record<string, string>>;
}

export interface PlaceFacts {
  readonly name?: string;
  /** [m] above sea level. */
  readonly altitude?: Measured;
}

export interface VehicleFacts {
  readonly name?: string;
  /** Dynamic tyre radius [m]. */
  readonly tyreRadius?: Measured;
  /** Engine revolutions per wheel revolution in the gear of the pulls [1]. */
  readonly overallRatio?: Measured;
  /** Of the gearbox, from the first gear on, each smaller than the one before [1]. */
  readonly gearRatios?: readonly number[];
  /** Of everything between gearbox and wheel together [1]. */
  readonly finalDrive?: Measured;
  /** Which gear the pulls are in: 1 is the first. */
  readonly pullGear?: number;
  /** Force of the driven axle on the rolls [N]. */
  readonly axleLoad?: Measured;
  /** Wheels, shafts, axle as seen at the wheel [kg·m²]. */
  readonly wheelInertia?: Measured;
  /** Share of the engine torque lost in the meshes, proportional to torque [1]. */
  readonly torqueLoss?: Measured;
  readonly transmission?: 'manual' | 'converter' | 'direct';
}

export interface EngineFacts {
  readonly name?: string;
  /** [m³] */
  readonly displacement?: Measured;
  readonly cylinders?: number;
  readonly strokesPerCycle?: 2 | 4;
  /** Crankshaft, flywheel, clutch at the crank [kg·m²]. */
  readonly inertia?: Measured;
  readonly ignition?: 'spark' | 'compression';
  /** How the control treats the surrounding air: decides whether a pressure factor makes sense (domain rule of the trade). */
  readonly boostControl?: 'absolute' | 'gauge' | 'none' | 'unknown';
  /** [rad/s] */
  readonly redline?: Measured;
  /** Highest permitted speed of the turbocharger's wheel [rad/s]. */
  readonly turboSpeedLimit?: Measured;
  /** kg air per kg fuel at lambda 1. */
  readonly stoichiometricRatio?: Measured;
}

export interface RollerFacts {
  readonly name?: string;
  readonly kind?: 'brake' | 'inertia' | 'combined' | 'unknown';
  /** Mass that would have the same kinetic energy at the roll surface [kg]. */
  readonly equivalentMass?: Measured;
  /** Roll radius [m]; needed when the log gives torque or rotation instead of force and speed. */
  readonly rollRadius?: Measured;
  /** Relative standard uncertainty of the force calibration [1]. */
  readonly forceCalibration?: number;
  /** Standard uncertainty of the force zero [N]. */
  readonly forceZero?: number;
  /** Relative standard uncertainty of the speed [1]. */
  readonly speedCalibration?: number;
  /** Largest force [N], speed [m/s] and power [W] that the roller takes. */
  readonly maxForce?: Measured;
  readonly maxSpeed?: Measured;
  readonly maxPower?: Measured;
}

export interface AmbientFacts {
  /** Which rule corrects power to a reference state; `none` is the default for control of absolute manifold pressure. */
  readonly rule?: AmbientRuleName;
  readonly temperature?: Measured;
  /** Station pressure [Pa], not reduced to sea level. */
  readonly pressure?: Measured;
  readonly relativeHumidity?: Measured;
}

export type AmbientRuleName =
  | 'none'
  | 'SAE J1349'
  | 'ISO 1585 spark'
  | 'ISO 1585 compression'
  | 'DIN 70020'
  | 'SAE J607'
  | 'temperature only';

/** One thing that happened on the day, in order: a pull, a coast-down, a change, a note. */
export interface EntryFacts {
  readonly id: string;
  readonly kind: 'pull' | 'coast-down' | 'change' | 'note';
  /** Clock time `HH:MM` or `HH:MM:SS`. */
  readonly clock?: string;
  /** File names inside the day's folder. */
  readonly files: readonly string[];
  readonly title?: string;
  /** Free settings with units kept as written: `map target` → `200 kPa`. */
  readonly settings: Readonly<Record<string, string>>;
  readonly notes?: string;
  /** Coast-downs only. */
  readonly clutch?: 'open' | 'in gear';
  /** Set by a person: a nudge of the engine log's clock on top of what was found [s]. */
  readonly nudge?: number;
  readonly rule?: AmbientRuleName;
  readonly excluded?: string;
  /** What a person overruled, and why: fault → reason. It stays on record and no longer counts. */
  readonly overruled?: Readonly<Record<string, string>>;
}
