import { inventedSound } from '../../../day/channels/sound/testing/invented-sound.ts';
import { waveBytes } from '../../../day/channels/sound/testing/wave-bytes.ts';
import { openTable } from '../../files/index.ts';
import { readTable, recordingOf } from '../index.ts';

interface Wanted {
  readonly cylinders: number;
  /** The sound begins so long after the log [s]. */
  readonly late: number;
  /** [s] */
  readonly duration: number;
}

/** Invented sound of the engine whose log this is, as the bytes of a WAV file. */
export async function soundOfLog(log: Uint8Array, { cylinders, late, duration }: Wanted): Promise<Uint8Array> {
  const table = await openTable(log, { file: 'engine.csv' });
  if (!table.ok) throw new Error(table.refusal.message);
  const recording = recordingOf(readTable(table.value, () => undefined));
  if (!recording.ok) throw new Error(recording.refusal.message);
  const { clock, channels } = recording.value;
  const speed = channels.find(({ meaning }) => meaning === 'engine-speed')?.samples;
  if (!speed) throw new Error('the made log has no engine speed');
  let at = 0;
  const rpm = (time: number): number => {
    const wanted = (clock.times[0] ?? 0) + late + time;
    while (at + 2 < speed.length && (clock.times[at + 1] ?? 0) < wanted) at += 1;
    const [before = 0, after = 0] = [clock.times[at], clock.times[at + 1]];
    const [low = 0, high = 0] = [speed[at], speed[at + 1]];
    const share = Math.min(1, Math.max(0, (wanted - before) / (after - before)));
    return ((low + share * (high - low)) * 60) / (2 * Math.PI);
  };
  const { samples, rate } = inventedSound({ duration, rpm, cylinders, seed: 3, rate: 11025 });
  return waveBytes({ tracks: [samples], rate });
}
