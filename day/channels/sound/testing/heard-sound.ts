import type { Recording } from '../../channel.ts';
import { readSound, type Sound } from '../sound.ts';
import { type SoundOptions, soundRecording } from '../sound-recording.ts';
import { type InventedSound, inventedSound } from './invented-sound.ts';
import { waveBytes } from './wave-bytes.ts';

/** A sound through a WAV file, as a recorder would hand it on. */
export function throughWave(tracks: readonly Float64Array[], rate: number): Sound {
  const read = readSound({ bytes: waveBytes({ tracks, rate }), file: 'invented.wav', source: 'none' });
  if (!read.ok) throw new Error(read.refusal.message);
  return read.value;
}

/** An invented engine as it is heard; throws when it is refused. */
export function heardSound(invented: InventedSound, options: SoundOptions = {}): Recording {
  const { samples, rate } = inventedSound(invented);
  const { cylinders = 4, turns = 2 } = invented;
  const found = soundRecording(
    throughWave([samples], rate),
    { cylinders, strokesPerCycle: turns === 1 ? 2 : 4 },
    options,
  );
  if (!found.ok) throw new Error(found.refusal.message);
  return found.value;
}

/** Samples of a channel by its name. */
export function samplesOf(recording: Recording, name: string): Float64Array {
  const channel = recording.channels.find((candidate) => candidate.name === name);
  if (!channel) throw new Error(`missing channel: ${name}`);
  return channel.samples;
}
