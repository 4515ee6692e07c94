import {
  answered,
  type Finding,
  type Measured,
  measured,
  type Outcome,
  refused,
} from '../../../core/quantities/index.ts';
import { type Piece, sampleTrack } from '../../channels/index.ts';
import type { RollerFacts } from '../facts.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { trackOf, usableSamples } from './find-track.ts';

/**
 * What the roller measured, on the times of its speed channel. All arrays as long as `times`.
 * force [N] at the roll surface: `brake` leaves out what accelerates the roll itself, `whole` contains it, `none`: an inertia roller.
 * setting: share of the brake's range, when logged.
 */
export interface RollSide {
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
  readonly speed: Float64Array;
  readonly force: Float64Array | undefined;
  readonly forceKind: 'brake' | 'whole' | 'none';
  readonly setting: Float64Array | undefined;
  readonly mass: Measured;
  readonly massOrigin: string;
  readonly refreshRate: number;
  readonly findings: readonly Finding[];
}

/** Slowest true refresh of roll speed from which a derivative or a power can be claimed [Hz]. @source our default: ten values over a 2.5 s rise */
export const SLOWEST_SPEED_REFRESH = 4;

/** Relative standard uncertainty of an equivalent mass that was stated without one [1]. @source common practice, no source: 0.5–1 % */
export const DEFAULT_MASS_UNCERTAINTY = 0.01;

/**
 * Roll speed, force and equivalent mass of a record, or why no roll power can be known from it.
 *
 * Refusals: `missing-roll-speed`, `rate-too-low`, `missing-force` (neither a force nor a mass to accelerate).
 */
export function rollSide(record: JoinedRecord, roller: RollerFacts): Outcome<RollSide> {
  const speed = speedOf(record, roller);
  if (!speed.ok) return speed;
  const { track, scale } = speed.value;
  const { refreshRate } = track.channel;
  if (refreshRate < SLOWEST_SPEED_REFRESH) return tooSlow(track);
  const force = forceOf(record, roller, track.times);
  if (force.kind === 'none' && roller.kind !== 'inertia') return refusalWithoutForce(record, roller);
  const mass = massOf(roller, force.kind);
  if (force.kind !== 'whole' && mass === undefined) return refusalWithoutMass(force.kind);
  const setting = trackOf(record, 'brake-setting');
  return answered({
    times: track.times,
    pieces: track.pieces,
    speed: usableSamples(track).map((sample) => sample * scale),
    force: force.samples,
    forceKind: force.kind,
    setting: setting && sampleTrack(setting, track.times),
    mass: mass?.mass ?? measured(0, 0),
    massOrigin: mass?.origin ?? 'not needed: the force is the whole force at the roll surface',
    refreshRate,
    findings: force.findings,
  });
}

/** Speed and mass alone say what an inertia roller was given; of any other roller they say too little, and nobody may guess which it is. */
function refusalWithoutForce(record: JoinedRecord, roller: RollerFacts): Outcome<RollSide> {
  const braked =
    roller.kind === 'brake' || roller.kind === 'combined' || trackOf(record, 'brake-setting') !== undefined;
  return refused({
    kind: 'missing-force',
    message: braked
      ? 'missing roll force: this roller has a brake, and no channel was decided to be its force'
      : 'missing roll force: no channel was decided to be it; if this roller has no brake, state `kind: inertia` and its equivalent mass',
  });
}

function speedOf(record: JoinedRecord, roller: RollerFacts): Outcome<{ track: Track; scale: number }> {
  const surface = trackOf(record, 'roll-speed');
  if (surface) return answered({ track: surface, scale: 1 });
  const rotation = trackOf(record, 'roll-rotation');
  if (rotation && roller.rollRadius) return answered({ track: rotation, scale: roller.rollRadius.value });
  if (rotation) {
    return refused({
      kind: 'missing-roll-speed',
      message:
        'missing roll radius: the log gives roll rotation, and without the radius neither speed nor power follows from it',
    });
  }
  return refused({ kind: 'missing-roll-speed', message: `missing roll speed: ${withoutRolls(record)}` });
}

/** Why there is no power in a log from the road or from the engine alone. */
function withoutRolls(record: JoinedRecord): string {
  const none = 'no channel gives the speed of the rolls, so no roll power can be known';
  const road = trackOf(record, 'vehicle-speed') ?? trackOf(record, 'wheel-speed');
  if (!road) return none;
  const rate = road.channel.refreshRate;
  const slow =
    rate < SLOWEST_SPEED_REFRESH
      ? ` and is renewed only ${rate.toFixed(1)} times a second, too slowly for an acceleration (from ${SLOWEST_SPEED_REFRESH})`
      : '';
  return `${none}; "${road.channel.name}" is a speed of the vehicle, which says nothing of the force that made it${slow}`;
}

function tooSlow(track: Track): Outcome<RollSide> {
  return refused({
    kind: 'rate-too-low',
    message: `roll speed out of validity: renewed ${track.channel.refreshRate.toFixed(1)} times a second, valid from ${SLOWEST_SPEED_REFRESH}; acceleration and power cannot be claimed`,
    place: { file: track.file, channel: track.channel.name },
    numbers: { refreshRate: track.channel.refreshRate, limit: SLOWEST_SPEED_REFRESH },
    rule: 'slowest speed refresh, our default',
  });
}

interface ForceReading {
  readonly kind: RollSide['forceKind'];
  readonly samples: Float64Array | undefined;
  readonly findings: readonly Finding[];
}

/** Whole force first, then brake force, then shaft torque over the roll radius. An inertia roller's force column is not used. */
function forceOf(record: JoinedRecord, roller: RollerFacts, times: Float64Array): ForceReading {
  const whole = trackOf(record, 'tractive-force');
  if (whole) return { kind: 'whole', samples: sampleTrack(whole, times), findings: [] };
  const brake = trackOf(record, 'brake-force');
  if (brake && roller.kind !== 'inertia') return { kind: 'brake', samples: sampleTrack(brake, times), findings: [] };
  const shaft = trackOf(record, 'roll-torque');
  const radius = roller.rollRadius?.value;
  if (shaft && radius) {
    return { kind: 'brake', samples: sampleTrack(shaft, times).map((torque) => torque / radius), findings: [] };
  }
  return { kind: 'none', samples: undefined, findings: shaft ? [withoutRadius(shaft)] : [] };
}

function withoutRadius(shaft: Track): Finding {
  return {
    kind: 'missing-roll-radius',
    weight: 'doubt',
    message: `roll torque "${shaft.channel.name}" is not used: missing roll radius`,
    place: { file: shaft.file, channel: shaft.channel.name },
  };
}

function massOf(roller: RollerFacts, kind: RollSide['forceKind']): { mass: Measured; origin: string } | undefined {
  const stated = roller.equivalentMass;
  if (kind === 'whole' || stated === undefined) return undefined;
  if (stated.standardUncertainty > 0) return { mass: stated, origin: 'stated with its uncertainty' };
  const mass = measured(stated.value, stated.value * DEFAULT_MASS_UNCERTAINTY);
  return { mass, origin: 'stated without an uncertainty: 1 % taken, common practice, no source' };
}

function refusalWithoutMass(kind: RollSide['forceKind']): Outcome<RollSide> {
  return refused({
    kind: kind === 'none' ? 'missing-force' : 'missing-equivalent-mass',
    message:
      kind === 'none'
        ? 'missing roll force and equivalent mass: speed alone does not say what was made'
        : 'missing equivalent mass: part of the force accelerates the rolls, and without their mass that part is unknown; ask the roller’s owner or its plate',
  });
}
