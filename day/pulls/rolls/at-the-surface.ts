import type { Channel, Recording } from '../../channels/index.ts';
import type { RollerFacts } from '../facts.ts';

/**
 * A recording whose roll rotation and shaft torque stand as speed and force at the roll surface, which is what everything after asks for:
 *
 *     v = ω·r        F = T/r
 *
 * Channels that the log gives at the surface already go before. Without a roll radius the recording stays as it is.
 *
 * @source rigid roll of radius r
 */
export function atTheSurface(recording: Recording, { rollRadius }: RollerFacts): Recording {
  const radius = rollRadius?.value;
  if (radius === undefined || !(radius > 0)) return recording;
  const has = (...meanings: readonly Channel['meaning'][]): boolean =>
    recording.channels.some(({ meaning }) => meanings.includes(meaning));
  const moveSpeed = !has('roll-speed');
  const moveForce = !has('brake-force', 'tractive-force');
  const channels = recording.channels.map((channel): Channel => {
    if (moveSpeed && channel.meaning === 'roll-rotation') {
      return {
        ...channel,
        meaning: 'roll-speed',
        kind: 'speed',
        samples: channel.samples.map((omega) => omega * radius),
      };
    }
    if (moveForce && channel.meaning === 'roll-torque') {
      return {
        ...channel,
        meaning: 'brake-force',
        kind: 'force',
        samples: channel.samples.map((torque) => torque / radius),
      };
    }
    return channel;
  });
  return { ...recording, channels };
}
