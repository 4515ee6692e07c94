import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import { isWave, readSound, type Sound, soundReader, WAVE_HEAD_BYTES, waveLayout } from '../../day/channels/index.ts';
import { cancelled, eachChunk, headOf, type Watch, withFile } from './bytes-source.ts';
import { sha256Hex } from './sha256.ts';

export interface OpenSoundOptions extends Watch {
  /** Name for the messages; the last part of the path when absent. */
  readonly file?: string | undefined;
}

/**
 * A recording of sound (WAV), in one pass and bounded memory however long it is: what is kept is about 5000 samples per second and track.
 *
 * Refuses: missing-file, unreadable-file, not-a-file, cancelled and what `waveLayout` refuses.
 */
export async function openSound(from: string | Uint8Array, options: OpenSoundOptions = {}): Promise<Outcome<Sound>> {
  if (typeof from !== 'string') {
    if (options.signal?.aborted) return refused(cancelled(0));
    return readSound({ bytes: from, file: options.file ?? 'bytes', source: sha256Hex(from) });
  }
  const file = options.file ?? basename(from);
  return withFile(from, async (handle, size) => {
    const layout = waveLayout({ head: await headOf(handle, Math.min(size, WAVE_HEAD_BYTES)), size, file });
    if (!layout.ok) return layout;
    const reader = soundReader(layout.value);
    const hash = createHash('sha256');
    let before = layout.value.dataFrom;
    const stopped = await eachChunk(handle, size, {
      ...options,
      chunk(bytes) {
        hash.update(bytes);
        const skipped = Math.min(before, bytes.length);
        before -= skipped;
        reader.push(bytes.subarray(skipped));
      },
    });
    if (stopped) return refused(stopped);
    const sound = reader.end(hash.digest('hex'));
    return answered(sound, sound.findings);
  });
}

/** True when a file is a recording of sound that `openSound` reads: told by its first bytes, never by its name. */
export async function isSoundFile(path: string): Promise<Outcome<boolean>> {
  return withFile(path, async (handle) => answered(isWave(await headOf(handle, 12))));
}
