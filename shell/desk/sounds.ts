import type { Refusal } from '../../core/quantities/index.ts';
import type { Sound } from '../../day/channels/index.ts';
import type { EngineFacts } from '../../day/pulls/index.ts';
import type { FileReading } from './desk.ts';

/** What is shown of a sound that was brought in: how it was recorded, and what spoils it. What it tells needs the engine of a day. */
export function soundReading(
  { source, file, duration, tracks, recordedRate, findings }: Sound,
  bytes: number,
): FileReading {
  return {
    ...{ source, file, bytes },
    table: {
      format: { kind: 'sound', seconds: duration, tracks: tracks.length, recordedRate },
      rows: Math.round(duration * recordedRate),
      preamble: [],
      findings: [],
    },
    columns: [],
    columnSet: '',
    remembered: false,
    findings,
  };
}

/** Whether a file that is no table is to be read as sound: its first bytes say so, or it is called one and its reader shall say what is wrong. */
export function isForSoundReader({ kind }: Pick<Refusal, 'kind'>, name: string): boolean {
  return kind === 'sound-file' || (/\.wave?$/i.test(name) && kind !== 'cancelled' && kind !== 'missing-file');
}

/** What a recording of a sound is made of: the same bytes under the same name, and what is known of the engine. */
export function soundKey(source: string, file: string, { cylinders, strokesPerCycle, redline }: EngineFacts): string {
  return JSON.stringify(['sound', source, file, cylinders, strokesPerCycle, redline?.value]);
}
