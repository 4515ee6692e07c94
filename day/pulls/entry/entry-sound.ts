import type { Outcome } from '../../../core/quantities/index.ts';
import { type Meaning, type Recording, type Sound, SPEED_RANGE, soundRecording } from '../../channels/index.ts';
import type { EngineFacts } from '../facts.ts';

/** How far above its stated redline an engine is looked for [1]. @source our default: a limiter that overshoots, an engine that is driven */
const ABOVE_REDLINE = 1.15;

/**
 * A sound of this engine as a recording on the sound's own clock. A stated redline bounds the speeds that are looked for.
 *
 * Refuses what {@link soundRecording} refuses.
 */
export function entrySound(sound: Sound, engine: EngineFacts): Outcome<Recording> {
  const { cylinders, strokesPerCycle, redline } = engine;
  const range = redline && { from: SPEED_RANGE.from, to: ABOVE_REDLINE * redline.value };
  return soundRecording(sound, { cylinders, strokesPerCycle }, { range });
}

/** What a sound tells. A log with roughness in it, as one that was written from a joined record, holds other channels too and is a log. */
const OF_SOUND: ReadonlySet<Meaning> = new Set<Meaning>(['acoustic-roughness', 'engine-speed', 'unknown']);

/** True for a recording that was made from a sound: told by what it holds, never by its name. */
export function isSoundRecording({ channels }: Pick<Recording, 'channels'>): boolean {
  return (
    channels.some(({ meaning }) => meaning === 'acoustic-roughness') &&
    channels.every(({ meaning }) => OF_SOUND.has(meaning))
  );
}
