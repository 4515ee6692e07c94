import type { Recording } from '../channel.ts';
import type { Meaning } from '../meanings.ts';
import { type Signal, signalOf } from './signal.ts';

/** Two signals that tell the same story on two clocks. `events`: only their sudden changes agree, not their values. */
export interface SignalPair {
  readonly own: Signal;
  readonly other: Signal;
  readonly by: 'speeds' | 'events';
}

const OWN_SPEED: readonly Meaning[] = ['roll-speed', 'roll-rotation', 'vehicle-speed'];
const OWN_FORCE: readonly Meaning[] = ['tractive-force', 'brake-force', 'roll-torque', 'roll-acceleration'];

type Wanted = readonly [readonly Meaning[], readonly Meaning[], SignalPair['by']];

/**
 * What the two logs have in common, best first: roll speed with engine speed, then engine speed on both sides, roll speed
 * with wheel or vehicle speed, and last the force that rises with the throttle. Behind a converter a wheel tells more than the engine.
 *
 * @source  common practice, no source
 */
export function signalPairs(roller: Recording, engine: Recording, converter = false): SignalPair[] {
  const throughTheEngine: Wanted = [OWN_SPEED, ['engine-speed'], 'speeds'];
  const wanted: readonly Wanted[] = [
    ...(converter ? [] : [throughTheEngine]),
    [['engine-speed'], ['engine-speed'], 'speeds'],
    [OWN_SPEED, ['wheel-speed', 'vehicle-speed'], 'speeds'],
    ...(converter ? [throughTheEngine] : []),
    [OWN_FORCE, ['throttle', 'pedal', 'manifold-pressure', 'manifold-gauge-pressure', 'air-flow'], 'events'],
  ];
  return wanted.flatMap(([ownMeanings, otherMeanings, by]) => {
    const own = signalOf(roller, ownMeanings);
    const other = signalOf(engine, otherMeanings);
    return own && other ? [{ own, other, by }] : [];
  });
}
