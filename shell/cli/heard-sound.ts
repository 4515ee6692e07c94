import { stat } from 'node:fs/promises';
import { answered, type Outcome } from '../../core/quantities/index.ts';
import type { Recording } from '../../day/channels/index.ts';
import { type EngineFacts, entrySound } from '../../day/pulls/index.ts';
import { type FileReading, soundReading } from '../desk/index.ts';
import { isSoundFile, openSound } from '../files/index.ts';
import type { Surroundings } from './command.ts';
import { work } from './progress.ts';

/** A sound as it was recorded, and what it tells of the engine, or why it tells nothing. */
export interface HeardSound {
  readonly path: string;
  readonly reading: FileReading;
  readonly recording: Outcome<Recording>;
}

/** Which of these files are for the reader of sounds: by their first bytes; one that is only called a sound is, so that what is wrong with it is said. */
export async function soundsAmong(paths: readonly string[]): Promise<ReadonlySet<string>> {
  const asked = await Promise.all(paths.map(async (path) => ({ path, sound: await isSoundFile(path) })));
  return new Set(
    asked.flatMap(({ path, sound }) => ((sound.ok && sound.value) || /\.wave?$/i.test(path) ? [path] : [])),
  );
}

/** Reads a sound, with progress and cancel. `name`: under which it is spoken of. */
export async function heardSound(
  { path, name = path }: { readonly path: string; readonly name?: string },
  engine: EngineFacts,
  surroundings: Surroundings,
): Promise<Outcome<HeardSound>> {
  const { progress, signal, done } = work(surroundings);
  const sound = await openSound(path, {
    file: name,
    ...(signal ? { signal } : {}),
    progress: (share) => progress?.({ what: `reading ${path}`, share }),
  });
  done();
  if (!sound.ok) return sound;
  const { size } = await stat(path);
  const { atOnce = (compute) => compute() } = surroundings;
  const recording = atOnce(() => entrySound(sound.value, engine));
  return answered({ path, reading: soundReading(sound.value, size), recording });
}
