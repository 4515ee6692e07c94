import type { Finding } from '../../../core/quantities/index.ts';
import type { Meaning, Recording } from '../../channels/index.ts';

/** Which of an entry's recordings is which. One that holds both sides is the roller's, and `engine` is absent. */
export interface EntryLogs {
  readonly roller: Recording | undefined;
  readonly engine: Recording | undefined;
  readonly findings: readonly Finding[];
}

const ROLLER_MEANINGS: readonly Meaning[] = [
  'roll-speed',
  'roll-rotation',
  'brake-force',
  'tractive-force',
  'roll-torque',
];
const ENGINE_MEANINGS: readonly Meaning[] = [
  'engine-speed',
  'manifold-pressure',
  'manifold-gauge-pressure',
  'ignition-timing',
  'injector-duty',
  'throttle',
  'lambda',
];

/** Sorts an entry's recordings into the roller's and the engine's by what they hold, never by their names. */
export function entryLogs(recordings: readonly Recording[]): EntryLogs {
  const roller = mostOf(recordings, ROLLER_MEANINGS);
  const rest = recordings.filter((recording) => recording !== roller);
  const engine = mostOf(rest, ENGINE_MEANINGS) ?? (roller ? undefined : rest[0]);
  const extra = rest.filter((recording) => recording !== engine);
  return { roller, engine, findings: extra.map(unused) };
}

function mostOf(recordings: readonly Recording[], meanings: readonly Meaning[]): Recording | undefined {
  let best: Recording | undefined;
  let most = 0;
  for (const recording of recordings) {
    const count = recording.channels.filter(({ meaning }) => meanings.includes(meaning)).length;
    if (count > most) {
      best = recording;
      most = count;
    }
  }
  return best;
}

function unused(recording: Recording): Finding {
  return {
    kind: 'log-not-used',
    weight: 'doubt',
    message: `${recording.file} is not used: an entry takes one roller log and one engine log, and others in it hold more of both`,
    place: { file: recording.file },
  };
}
