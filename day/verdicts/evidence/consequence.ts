import type { Meaning } from '../../channels/index.ts';
import type { Fault, StopClass, Voids } from '../fault.ts';
import { type PullScene, tracksAt } from '../scene/scene.ts';
import type { SceneTrack } from '../scene/track.ts';

/** Channels that warn of a broken engine: without one of them there is no guard. @source common practice, no source */
const GUARDS: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure', 'lambda', 'turbo-speed'] as const),
  ...(['oil-pressure', 'coolant-pressure', 'coolant-temperature', 'oil-temperature', 'exhaust-temperature'] as const),
  ...(['fuel-pressure', 'fuel-pressure-difference', 'knock-level', 'crankcase-pressure', 'exhaust-pressure'] as const),
]);
/** Channels that power is made of. */
const MAKES_POWER: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['roll-speed', 'roll-rotation', 'brake-force', 'tractive-force', 'roll-torque', 'engine-speed'] as const),
]);

/**
 * What follows when a channel cannot be used: the only guard of its kind holds the load, where a second one still watches it does not; a
 * channel of the power chain voids power, any other voids itself.
 */
export function withoutChannel(
  scene: PullScene,
  { meaning, name }: Pick<SceneTrack, 'meaning' | 'name'>,
): { readonly stopClass: StopClass; readonly voids: Voids } {
  const watched = tracksAt(scene, meaning).some((other) => other.name !== name);
  return {
    stopClass: GUARDS.has(meaning) && !watched ? 2 : 1,
    voids: MAKES_POWER.has(meaning) ? 'power' : 'channel',
  };
}

/** Sensors whose value has its own noise or moves with load: they are judged for standing still. Commands, states and places are not. @source common practice, no source */
const LIVING: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure', 'exhaust-pressure'] as const),
  ...(['compressor-inlet-pressure', 'air-flow', 'turbo-speed', 'lambda', 'fuel-flow', 'fuel-volume-flow'] as const),
  ...(['fuel-pressure', 'fuel-pressure-difference', 'oil-pressure', 'coolant-pressure', 'crankcase-pressure'] as const),
  ...(['charge-temperature', 'compressor-outlet-temperature', 'exhaust-temperature'] as const),
  ...(['coolant-temperature', 'oil-temperature', 'gearbox-temperature', 'axle-temperature'] as const),
  ...(['engine-speed', 'roll-speed', 'roll-rotation', 'wheel-speed', 'vehicle-speed'] as const),
  ...(['brake-force', 'tractive-force', 'roll-torque', 'battery-voltage', 'cam-angle', 'knock-level'] as const),
]);

/** True for a measured quantity that lives. */
export function lives(meaning: Meaning): boolean {
  return LIVING.has(meaning);
}

/** Faults that one channel alone shows: under another channel's name it says nothing of them. */
const JUDGED: Readonly<Partial<Record<Meaning, readonly Fault[]>>> = {
  'oil-pressure': ['oil-pressure-low'],
  'fuel-pressure': ['fuel-pressure-drop'],
  'fuel-pressure-difference': ['fuel-pressure-drop'],
  'coolant-pressure': ['head-lift'],
  'crankcase-pressure': ['crankcase-pressure'],
  'exhaust-pressure': ['exhaust-restriction'],
  'charge-temperature': ['charge-heat-soak'],
  'ambient-temperature': ['ambient-probe'],
};

/** Faults that are judged by a channel alone; a rail's pressure is held against the manifold's where their difference is not logged. */
export function judgedBy(scene: PullScene, { meaning }: Pick<SceneTrack, 'meaning'>): readonly Fault[] {
  const isManifold = meaning === 'manifold-pressure' || meaning === 'manifold-gauge-pressure';
  const underRail = isManifold && tracksAt(scene, 'fuel-pressure-difference').length === 0;
  return [...(JUDGED[meaning] ?? []), ...(underRail ? (['fuel-pressure-drop'] as const) : [])];
}
