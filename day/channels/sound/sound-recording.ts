import { answered, type Finding, type Outcome, REVOLUTION, refused } from '../../../core/quantities/index.ts';
import type { Recording } from '../channel.ts';
import { type Heard, hear, LEAST_CONFIDENCE, type SpeedTrack } from './heard.ts';
import { acousticRoughness } from './roughness.ts';
import { BLOCK, type Sound } from './sound.ts';
import { soundChannels } from './sound-channels.ts';

/** What is known of the engine that is heard; each part as the day's facts state it. */
export interface SoundFacts {
  readonly cylinders?: number | undefined;
  /** Assumed 4 when absent, with a finding. */
  readonly strokesPerCycle?: 2 | 4 | undefined;
}

export interface SoundOptions {
  /** Engine speed on the sound's clock, once a log is laid on the sound: then the sound is only asked for its orders. */
  readonly speed?: SpeedTrack | undefined;
  /** Slowest and fastest engine speed to look for [rad/s]; default {@link SPEED_RANGE}. A narrow range makes the course surer. */
  readonly range?: { readonly from: number; readonly to: number } | undefined;
}

/** 400–9500 rpm [rad/s]: below it an engine does not run by itself. @source our default */
export const SPEED_RANGE = { from: (400 / 60) * REVOLUTION, to: (9500 / 60) * REVOLUTION } as const;
/** Firing frequencies that are looked for when nobody says how many cylinders fire [Hz]. @source our default: two cylinders at 1200 rpm to eight at 9000 */
const FIRING_RANGE = { from: 20, to: 600 } as const;
/** Frames of believed firing without which nothing was heard. @source our default: 0.25 s */
const LEAST_FRAMES = 5;

/**
 * What a recording of sound tells of the engine, 20 times a second on the sound's own clock: engine speed with its uncertainty and confidence
 * (only when it was not given), and acoustic roughness, whole and in its two parts. Windows are 8 working cycles long, so neighbouring values share sound.
 *
 * Both are measurements in the sense of a channel's origin: made here from the sound itself. Loudness is used for nothing.
 * With no cylinder count there is no engine speed, only the firing frequency, and roughness is not split.
 *
 * Refuses: silent-sound, no-firing-heard, invalid-range, invalid-cylinders, no-speed-beside-sound.
 * Finds: strokes-assumed, cylinders-unknown, even-firing-assumed, firing-heard, weak-cylinder-course, roughness-compares, and what the reader found.
 *
 * @valid   engine speed inside the range: outside it another course, often the double or the half, may be told; even firing; one engine near the microphone; change of speed below 2.5 octaves per second
 */
export function soundRecording(sound: Sound, facts: SoundFacts, options: SoundOptions = {}): Outcome<Recording> {
  const { cylinders, strokesPerCycle } = facts;
  const refuse = (kind: string, message: string, numbers: Readonly<Record<string, number>> = {}): Outcome<Recording> =>
    refused({ kind, message, place: { file: sound.file }, numbers });
  if (cylinders !== undefined && !(Number.isInteger(cylinders) && cylinders >= 1 && cylinders <= 64)) {
    return refuse('invalid-cylinders', `invalid number of cylinders: ${cylinders}, expected 1–64`, { cylinders });
  }
  const range = options.range ?? SPEED_RANGE;
  if (!(range.from > 0 && range.to > range.from)) {
    return refuse('invalid-range', `invalid range of engine speed: ${range.from}–${range.to} rad/s`, range);
  }
  if (sound.tracks.every((track) => track.every((value) => value === 0))) {
    return refuse('silent-sound', `missing sound: all ${sound.duration.toFixed(2)} s are digital silence`, {
      seconds: sound.duration,
    });
  }
  const times = Float64Array.from({ length: Math.floor(sound.duration / BLOCK + 1e-9) + 1 }, (_, k) => k * BLOCK);
  const turns = (strokesPerCycle ?? 4) / 2;
  // without a cylinder count a "cycle" is one firing
  const engine =
    cylinders === undefined
      ? { firing: 1, turns: 1, range: inFirings(FIRING_RANGE) }
      : { firing: cylinders, turns, range };
  const speed = cylinders === undefined ? undefined : options.speed;
  const heard = hear({ sound, times, speed, ...engine });
  const count = heard.rates.reduce((sum, rate) => sum + (Number.isNaN(rate) ? 0 : 1), 0);
  if (count < LEAST_FRAMES) {
    const most = heard.confidence.reduce((a, b) => Math.max(a, b), 0);
    return speed
      ? refuse('no-speed-beside-sound', 'missing engine speed: none of the given speed lies beside the sound', {
          frames: count,
        })
      : refuse(
          'no-firing-heard',
          `missing firing frequency: ${count} of ${times.length} frames reach a confidence of ${LEAST_CONFIDENCE}, the best ${most.toFixed(2)}`,
          { frames: count, confidence: most, limit: LEAST_CONFIDENCE },
        );
  }
  const roughness = acousticRoughness({ sound, times, rates: heard.rates, orders: heard.orders });
  const channels = soundChannels({
    sound,
    heard,
    roughness,
    turns: cylinders === undefined ? undefined : turns,
    given: speed !== undefined,
  });
  const findings = [...sound.findings, ...soundFindings({ sound, facts, heard, count, given: speed !== undefined })];
  const clock = { name: 'sound', times, pieces: [{ from: 0, to: times.length }] };
  return answered({ source: sound.source, file: sound.file, clock, channels, findings }, findings);
}

function inFirings({ from, to }: { readonly from: number; readonly to: number }): {
  readonly from: number;
  readonly to: number;
} {
  return { from: from * REVOLUTION, to: to * REVOLUTION };
}

interface Said {
  readonly sound: Sound;
  readonly facts: SoundFacts;
  readonly heard: Heard;
  readonly count: number;
  readonly given: boolean;
}

function soundFindings({ sound, facts, heard, count, given }: Said): readonly Finding[] {
  const place = { file: sound.file };
  const findings: Finding[] = [...engineFindings(facts, sound.file)];
  if (!given) {
    const share = count / heard.rates.length;
    const confidence = heard.confidence.reduce((sum, value) => sum + value, 0) / heard.confidence.length;
    findings.push({
      kind: 'firing-heard',
      weight: share < 0.9 ? 'doubt' : 'note',
      message: `firing is followed in ${(100 * share).toFixed(0)} % of the sound, mean confidence ${confidence.toFixed(2)}; the rest is left out`,
      place,
      numbers: { share, confidence },
    });
  }
  for (const multiple of heard.multiples) {
    findings.push({
      kind: 'weak-cylinder-course',
      weight: 'doubt',
      message: `the plainest course was 1/${multiple} of the firing frequency, as with one weak cylinder in ${multiple}: it was multiplied`,
      place,
      numbers: { multiple },
    });
  }
  findings.push({
    kind: 'roughness-compares',
    weight: 'note',
    message:
      'acoustic roughness compares pulls at the same engine speed with the microphone in the same place: background noise and the colour of the room are part of it',
    place,
  });
  return findings;
}

function engineFindings({ cylinders, strokesPerCycle }: SoundFacts, file: string): readonly Finding[] {
  const place = { file };
  if (cylinders === undefined) {
    return [
      {
        kind: 'cylinders-unknown',
        weight: 'doubt',
        message:
          'missing number of cylinders: the sound gives a firing frequency but no engine speed, and roughness is not split into half orders and the rest',
        place,
      },
    ];
  }
  const even: Finding = {
    kind: 'even-firing-assumed',
    weight: 'note',
    message: `all ${cylinders} cylinders are taken to fire at equal angles; with uneven firing an engine in order sounds rough here`,
    place,
  };
  if (strokesPerCycle !== undefined) return [even];
  return [
    even,
    { kind: 'strokes-assumed', weight: 'doubt', message: 'missing strokes per cycle: a four-stroke is assumed', place },
  ];
}
