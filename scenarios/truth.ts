import type { Rig } from './rig/rig.ts';

/**
 * What really happened on an invented day. It is never written into the files of the day.
 * SI throughout; times on the roller's clock in s from the first row of the roller file (a jump of the written clock is not in them).
 */
export interface DayTruth {
  readonly seed: number;
  /** The vehicle and the roller as they really are, with the drawn errors of what is stated about them. */
  readonly rig: Rig;
  readonly instruments: InstrumentErrors;
  readonly entries: readonly EntryTruth[];
  /** Highest speed the turbocharger may turn [rad/s]; virtual days with a turbocharger only. */
  readonly turboLimit?: number;
}

/** Errors of the instruments and of the stated facts. Gains and shares relative [1]; forceZero: N at the first entry; zeroDrift: N over the morning. */
export interface InstrumentErrors {
  readonly forceGain: number;
  readonly speedGain: number;
  readonly rollMass: number;
  readonly wheelInertia: number;
  readonly engineInertia: number;
  /** Points of the torque loss share [1]. */
  readonly lossShare: number;
  readonly forceZero: number;
  readonly zeroDrift: number;
}

export interface EntryTruth {
  readonly id: string;
  readonly kind: 'pull' | 'coast-down';
  /** Engine clock against roller clock: t_engine = offset + (1 + rate)·t_roller. Absent with one file. */
  readonly clock?: { readonly offset: number; readonly rate: number };
  /** The full-load part, every 20 ms; empty for a coast-down. */
  readonly curve: TruthCurve;
  /** Signals before any sensor, as long as the curve: `manifold pressure` [Pa], `peak pressure` [Pa], `spark need` [V], …; demonstration day only. */
  readonly signals?: Readonly<Record<string, readonly number[]>>;
  /** The whole run, every 20 ms. */
  readonly slip: { readonly time: readonly number[]; readonly slip: readonly number[] };
  readonly faults: readonly InjectedFault[];
  /** [K], [Pa], [1]: of the hall, not of the roller's probe. */
  readonly ambient: { readonly temperature: number; readonly pressure: number; readonly relativeHumidity: number };
  /** Drag on top of the rig's own [N]; with a torque lost at the axle [N·m]. */
  readonly extraDrag: number;
  readonly axleTorque: number;
  /** Error of the cell at no load [N]. */
  readonly forceZero: number;
  /** Channels in the files of this entry, by their meaning (`manifold-pressure`, …); virtual days only. */
  readonly channels?: readonly string[];
}

/** As long as each other. cleanTorque: engine torque at the same air without what the injected faults take; a hotter charge is in both. */
export interface TruthCurve {
  readonly time: readonly number[];
  readonly engineSpeed: readonly number[];
  readonly torque: readonly number[];
  readonly cleanTorque: readonly number[];
  readonly enginePower: readonly number[];
  readonly tyrePower: readonly number[];
  readonly rollPower: readonly number[];
  readonly tyreForce: readonly number[];
}

/** One fault put in on purpose. fromSpeed, toSpeed: lowest and highest engine speed in the window [rad/s]. size: numbers that say how much, in the unit their name tells. decoy: looks like a fault and is none. */
export interface InjectedFault {
  readonly kind: string;
  readonly fromTime: number;
  readonly toTime: number;
  readonly fromSpeed: number;
  readonly toSpeed: number;
  readonly size: Readonly<Record<string, number>>;
  readonly decoy?: boolean;
  /** Size over the threshold that the trade names [1]; virtual days only. */
  readonly strength?: number;
  readonly variant?: string;
  /** 0 note … 3 end the day: what the size deserves. Virtual days only. */
  readonly stopClass?: 0 | 1 | 2 | 3;
  /** Channels that it moves, logged or not; virtual days only. */
  readonly moved?: readonly string[];
  /** The fault that a decoy looks like. */
  readonly resembles?: string;
}

/** A file as it would lie on the practitioner's disk. */
export interface MadeFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** An invented day: its files and what really happened. */
export interface MadeDay {
  readonly files: readonly MadeFile[];
  readonly truth: DayTruth;
}

/** Value of a truth curve's column at an engine speed [rad/s], by straight lines; NaN outside the ramp. */
export function truthAt(
  curve: TruthCurve,
  column: Exclude<keyof TruthCurve, 'engineSpeed'>,
  engineSpeed: number,
): number {
  const speeds = curve.engineSpeed;
  for (let index = 1; index < speeds.length; index += 1) {
    const low = speeds[index - 1] ?? Number.NaN;
    const high = speeds[index] ?? Number.NaN;
    if (low <= engineSpeed && engineSpeed <= high && high > low) {
      const share = (engineSpeed - low) / (high - low);
      const from = curve[column][index - 1] ?? Number.NaN;
      const to = curve[column][index] ?? Number.NaN;
      return from + share * (to - from);
    }
  }
  return Number.NaN;
}
