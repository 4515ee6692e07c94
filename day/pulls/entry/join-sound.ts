import { median, resample } from '../../../core/numerics/index.ts';
import { answered, type Finding, type Outcome, type Refusal, refused } from '../../../core/quantities/index.ts';
import {
  type Alignment,
  type AlignOptions,
  alignClocks,
  joinRecords,
  type Recording,
  sameClock,
} from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { trackOf, usableSamples } from '../rolls/find-track.ts';

/** A sound beside the logs of an entry. tracks: its roughness on the record's clock, [] where it could not be joined; `refusal` then says why. */
export interface JoinedSound {
  readonly file: string;
  readonly alignment: Alignment | undefined;
  readonly tracks: readonly Track[];
  readonly refusal?: Refusal;
  readonly findings: readonly Finding[];
}

export interface SoundQuestion {
  readonly sound: Recording;
  /** The log whose clock the record has: the roller's, else the engine's. */
  readonly base: Recording;
  /** The record of the logs, without any sound. */
  readonly record: JoinedRecord;
  readonly options: AlignOptions;
  /** False where an engine need not follow the rolls, as in a coast-down: then a sound that cannot be joined is no news. */
  readonly needed: boolean;
}

/** Two logs of one run agree better than this in how their speeds change [1, correlation]. @source our default, as for two logs */
const GOOD_AGREEMENT = 0.95;
/** Engine speed heard and engine speed logged agree better than this, in the middle [1]. @source our default: a sound's own error is below 0.2 %, a neighbouring course is 25 % away */
const SAME_SPEED = 0.03;
/** Moments with both speeds that are needed to compare them. @source our default: one second */
const LEAST_MOMENTS = 20;

/**
 * Lays a sound on the record's clock by the engine speed it tells, and hands on its roughness alone. Its engine speed stays out of the
 * record: a log knows it better, and without one a wrong octave would become power. What is handed on is `derived`, so nothing that judges
 * takes it for a measurement.
 */
export function joinSound(question: SoundQuestion): JoinedSound {
  const { sound, needed } = question;
  const { file } = sound;
  const aligned = alignedSound(question);
  const place = aboutRoughness(sound);
  if (!aligned.ok) {
    const { refusal } = aligned;
    const left: Finding = {
      kind: 'sound-not-joined',
      weight: needed ? 'doubt' : 'note',
      message: `${file} is left out: ${withNumbers(refusal)}`,
      place,
      ...(refusal.numbers ? { numbers: refusal.numbers } : {}),
    };
    return { file, alignment: undefined, tracks: [], refusal, findings: [left] };
  }
  const { alignment, tracks, findings } = aligned.value;
  return {
    file,
    alignment,
    tracks: tracks.filter(({ channel }) => channel.meaning === 'acoustic-roughness').map(derived),
    findings: [
      ...sound.findings.map((finding) => ({ ...finding, place: { ...finding.place, ...place } })),
      ...findings,
    ],
  };
}

/** A sound with no log beside it: its roughness on its own clock, to be looked at. */
export function soundAlone(sound: Recording): JoinedSound {
  const alignment = sameClock(sound);
  const { tracks } = joinRecords({ roller: sound, alignment });
  const place = aboutRoughness(sound);
  const finding: Finding = {
    kind: 'sound-alone',
    weight: 'doubt',
    message: `${sound.file} has no log beside it: a sound alone gives neither power nor a verdict`,
    place,
  };
  return {
    file: sound.file,
    alignment,
    tracks: tracks.filter(({ channel }) => channel.meaning === 'acoustic-roughness').map(derived),
    findings: [finding, ...sound.findings.map((one) => ({ ...one, place: { ...one.place, ...place } }))],
  };
}

interface AlignedSound {
  readonly alignment: Alignment;
  readonly tracks: readonly Track[];
  readonly findings: readonly Finding[];
}

function alignedSound({ sound, base, record, options }: SoundQuestion): Outcome<AlignedSound> {
  if (!sound.channels.some(({ meaning }) => meaning === 'engine-speed')) {
    return refused({
      kind: 'missing-cylinders',
      message:
        'missing number of cylinders: the sound gives a firing frequency but no engine speed to lay it on the logs by',
      place: { file: sound.file },
    });
  }
  const first = alignClocks(base, sound, options);
  const logged = first.ok ? undefined : engineSpeedLog(record, base);
  const second = logged && alignClocks(logged, sound);
  const outcome = second?.ok ? second : first;
  if (!outcome.ok) return outcome;
  const alignment = outcome.value;
  // The tracks of the base stand first.
  const tracks = joinRecords({ roller: base, engine: sound, alignment }).tracks.slice(base.channels.length);
  const speed = tracks.find(({ channel }) => channel.meaning === 'engine-speed');
  const ratio = speed && speedRatio(speed, record);
  if (ratio !== undefined && Math.abs(ratio - 1) > SAME_SPEED) return anotherSpeed(sound, ratio);
  return answered({ alignment, tracks, findings: findingsOf(sound, alignment, ratio) });
}

/** The record's engine speed as a log on the record's clock; undefined where there is none, or where the base's clock was moved on. */
function engineSpeedLog(record: JoinedRecord, base: Recording): Recording | undefined {
  const track = trackOf(record, 'engine-speed');
  if (!track || track.file === base.file || record.tracks[0]?.times !== base.clock.times) return undefined;
  const { channel, times, pieces, file } = track;
  return { source: '', file, clock: { name: base.clock.name, times, pieces }, channels: [channel], findings: [] };
}

/** Engine speed heard over engine speed logged, in the middle [1]; undefined where too few moments have both. */
function speedRatio(heard: Track, record: JoinedRecord): number | undefined {
  const logged = trackOf(record, 'engine-speed');
  if (!logged) return undefined;
  const { times, pieces } = logged;
  const there = resample({ times, samples: usableSamples(logged), pieces, at: heard.times });
  const ratios = usableSamples(heard)
    .map((value, i) => value / there[i])
    .filter(Number.isFinite);
  return ratios.length < LEAST_MOMENTS ? undefined : median(ratios, 'skip');
}

function anotherSpeed({ file }: Recording, ratio: number): Outcome<never> {
  return refused({
    kind: 'speeds-disagree',
    message: `invalid engine speed in the sound: ${ratio.toFixed(2)} times the logged one, expected 1 within ${100 * SAME_SPEED} %: is it a sound of this run, and are the cylinders right?`,
    place: { file },
    numbers: { ratio, limit: SAME_SPEED },
    rule: 'our default',
  });
}

function findingsOf(sound: Recording, alignment: Alignment, ratio: number | undefined): readonly Finding[] {
  const { file } = sound;
  const place = aboutRoughness(sound);
  const { correlation, pieces } = alignment;
  const [piece] = pieces;
  const spread = Math.max(...pieces.map(({ offsetUncertainty }) => offsetUncertainty));
  const findings: Finding[] = [
    {
      kind: 'sound-joined',
      weight: 'note',
      message: `${file} is laid on the logs by the engine speed in it, to ${(2 * spread).toFixed(2)} s; its roughness is shown and judges nothing`,
      place,
      numbers: { offset: piece?.offset ?? Number.NaN, offsetUncertainty: spread, correlation },
    },
  ];
  if (correlation < GOOD_AGREEMENT) {
    findings.push({
      kind: 'sound-agrees-poorly',
      weight: 'doubt',
      message: `the engine speed in ${file} changes like the log's only to ${correlation.toFixed(2)}, in one run usually to 0.98: is it a sound of this run?`,
      place,
      numbers: { correlation, limit: GOOD_AGREEMENT },
      rule: 'our default',
    });
  }
  if (ratio === undefined) {
    findings.push({
      kind: 'sound-speed-unchecked',
      weight: 'note',
      message: `the engine speed in ${file} could not be held against a logged one: a double or a half of it would not be seen`,
      place,
    });
  }
  return findings;
}

/** Findings of a sound are about its roughness: they leave the standing of power as it is. */
function aboutRoughness({ file, channels }: Recording): { readonly file: string; readonly channel: string } {
  const rough = channels.find(({ meaning }) => meaning === 'acoustic-roughness');
  return { file, channel: rough?.name ?? 'acoustic roughness' };
}

function derived(track: Track): Track {
  return { ...track, channel: { ...track.channel, origin: 'derived' } };
}

function withNumbers({ message, numbers }: Refusal): string {
  const { correlation, limit } = numbers ?? {};
  if (typeof correlation !== 'number' || typeof limit !== 'number' || message.includes('two lags')) return message;
  return `${message} of the speeds: ${correlation.toFixed(2)}, expected at least ${limit}`;
}
