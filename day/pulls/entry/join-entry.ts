import type { Finding, Refusal } from '../../../core/quantities/index.ts';
import { type Alignment, alignClocks, joinRecords, nudged, type Recording, sameClock } from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { isSoundRecording } from './entry-sound.ts';
import { type JoinedSound, joinSound, soundAlone } from './join-sound.ts';
import { type EntryLogs, entryLogs } from './logs.ts';

/** An entry's logs on one clock. Without an alignment the record holds one side alone, and `refusal` says why they were not joined. */
export interface JoinedEntry {
  /** Joined through a converter, whose slip is no tyre's. */
  readonly converter?: boolean;
  readonly logs: EntryLogs;
  readonly record: JoinedRecord;
  readonly alignment: Alignment;
  readonly refusal?: Refusal;
  /** Sounds beside the logs; absent where there is none. Their tracks stand last in the record. */
  readonly sounds?: readonly JoinedSound[];
  readonly findings: readonly Finding[];
}

export interface JoinQuestion {
  readonly recordings: readonly Recording[];
  /** Set by a person: shift of the engine log on top of what was found [s]. */
  readonly nudge?: number | undefined;
  /** Mass of the rolls at their surface [kg], when stated. */
  readonly rollMass?: number | undefined;
  /** False where the roller's log answers alone, as in a coast-down. */
  readonly needed?: boolean;
  /** A converter's slip follows torque and can pass for a lag: the offset is known less well. */
  readonly converter?: boolean;
}

/**
 * Joins an entry's logs. Two logs that cannot be joined leave the roller's side alone: its power is known, slip and the engine are not.
 * Sounds are never one of the logs: of each that lies on them the roughness is added.
 */
export function joinEntry(question: JoinQuestion): JoinedEntry | undefined {
  const sounds = question.recordings.filter(isSoundRecording);
  const recordings = question.recordings.filter((recording) => !sounds.includes(recording));
  const joined = joinLogs({ ...question, recordings });
  if (sounds.length === 0) return joined;
  if (!joined) return onlySounds(sounds, entryLogs([]));
  const base = joined.logs.roller ?? joined.logs.engine;
  if (!base) return joined;
  const { rollMass, needed = true } = question;
  const options = rollMass === undefined ? {} : { rollMass };
  const laid = sounds.map((sound) => joinSound({ sound, base, record: joined.record, options, needed }));
  return {
    ...joined,
    sounds: laid,
    record: withTracks(joined.record, laid),
    findings: [...joined.findings, ...laid.flatMap(({ findings }) => findings)],
  };
}

/** A record with the roughness of the sounds beside it. */
export function withTracks<Joined extends { readonly tracks: readonly Track[] }>(
  record: Joined,
  sounds: readonly JoinedSound[] = [],
): Joined {
  return { ...record, tracks: [...record.tracks, ...sounds.flatMap(({ tracks }) => tracks)] };
}

/** The first sound's clock is the record's; nothing tells how another would lie on it. */
function onlySounds([first, ...rest]: readonly Recording[], logs: EntryLogs): JoinedEntry | undefined {
  if (!first) return undefined;
  const alone = soundAlone(first);
  const left = rest.map(soundAlone).flatMap(({ findings }) => findings);
  return {
    logs,
    alignment: sameClock(first),
    record: { tracks: alone.tracks, alignment: sameClock(first), findings: [] },
    sounds: [alone],
    findings: [...alone.findings, ...left],
  };
}

function joinLogs({
  recordings,
  nudge,
  rollMass,
  needed = true,
  converter = false,
}: JoinQuestion): JoinedEntry | undefined {
  const logs = entryLogs(recordings);
  const { roller, engine, findings } = logs;
  const first = roller ?? engine;
  if (!first) return undefined;
  if (!roller || !engine) return { logs, ...alone(first), findings };
  const outcome = alignClocks(roller, engine, { converter, ...(rollMass === undefined ? {} : { rollMass }) });
  if (!outcome.ok && nudge !== undefined) {
    const alignment = alignedByHand(roller, engine, nudge);
    return {
      logs,
      alignment,
      record: joinRecords({ roller, engine, alignment }),
      findings: [...findings, joinedByHand(outcome.refusal, nudge)],
    };
  }
  if (!outcome.ok)
    return {
      logs,
      ...alone(roller),
      refusal: outcome.refusal,
      findings: [...findings, notJoined(outcome.refusal, needed)],
    };
  const alignment = nudge === undefined ? outcome.value : nudged(outcome.value, nudge);
  const record = joinRecords({ roller, engine, alignment });
  return {
    logs,
    record,
    alignment,
    converter,
    findings: [...findings, ...outcome.findings, ...poorAgreement(alignment, engine)],
  };
}

/** Two logs of one run agree better than this in how their speeds change [1, correlation]. @source our default, measured on invented and real logs: 0.98 and more */
const GOOD_AGREEMENT = 0.95;

function poorAgreement({ correlation, by }: Alignment, { file }: Recording): readonly Finding[] {
  if (by !== 'speed' || correlation >= GOOD_AGREEMENT) return [];
  return [
    {
      kind: 'logs-agree-poorly',
      weight: 'doubt',
      message: `the speeds of the two logs change alike only to ${correlation.toFixed(2)}, two logs of one run usually to 0.98: is ${file} the log of this run?`,
      place: { file },
      numbers: { correlation, limit: GOOD_AGREEMENT },
    },
  ];
}

/** How well a person lays two logs together by eye [s]. @source our default */
const BY_HAND = 0.1;

/** The offset that a person set, where none could be found: nothing is known of the rate. */
function alignedByHand(roller: Recording, engine: Recording, offset: number): Alignment {
  const { pieces, ...rest } = sameClock(roller);
  const placed = pieces.map((piece) => ({
    ...piece,
    offset,
    offsetUncertainty: BY_HAND,
    rateUncertainty: 200e-6,
    residual: Number.NaN,
  }));
  return { ...rest, other: engine.clock.name, pieces: placed, by: 'hand' };
}

function joinedByHand(refusal: Refusal, offset: number): Finding {
  return {
    kind: 'joined-by-hand',
    weight: 'doubt',
    message: `the logs are joined at the offset of ${offset.toFixed(2)} s that was set by hand: ${refusal.message}`,
    numbers: { offset },
  };
}

function alone(recording: Recording): { record: JoinedRecord; alignment: Alignment } {
  const alignment = sameClock(recording);
  return { alignment, record: joinRecords({ roller: recording, alignment }) };
}

function notJoined(refusal: Refusal, needed: boolean): Finding {
  return {
    kind: 'logs-not-joined',
    weight: needed ? 'doubt' : 'note',
    message: `the engine log is left out: ${refusal.message}; set the offset by hand to join it`,
    ...(refusal.numbers ? { numbers: refusal.numbers } : {}),
  };
}
