import { type Decimator, decimator } from '../../../core/numerics/index.ts';
import { answered, type Finding, type Outcome } from '../../../core/quantities/index.ts';
import { type WaveHead, type WaveLayout, waveLayout } from './wave-layout.ts';
import { waveSamples } from './wave-samples.ts';

/**
 * A recording of sound, thinned to what engine orders need. Level is a share of full scale: it is not calibrated and says nothing of itself.
 * tracks: one per microphone, equally long, `rate` samples per second; sample k is at k/rate s. NaN in the file is 0 here and counted in `missing`.
 * clipped, missing: share of the samples at full scale, or without a value, per block of {@link BLOCK} s, mean of the tracks.
 */
export interface Sound {
  readonly source: string;
  readonly file: string;
  readonly rate: number;
  readonly recordedRate: number;
  readonly duration: number;
  readonly tracks: readonly Float64Array[];
  readonly clipped: Float64Array;
  readonly missing: Float64Array;
  readonly findings: readonly Finding[];
}

/** [s] @source our default */
export const BLOCK = 0.05;
/** Sound is thinned to the lowest rate from this on [Hz]: 0.4 of it holds three firing orders of eight cylinders at 9000 rpm. @source our default */
const ENOUGH = 5000;
/** Tracks after these are left out. @source our default */
const MOST_TRACKS = 8;

/** Takes the bytes of the samples, from `dataFrom` on, in pieces of any length. */
export interface SoundReader {
  readonly push: (bytes: Uint8Array) => void;
  /** @param source SHA-256 of the raw bytes, hex */
  readonly end: (source: string) => Sound;
}

/** Reads a sound of any length in bounded memory: what is kept is about 5000 samples per second and track. */
export function soundReader(layout: WaveLayout): SoundReader {
  const factor = Math.max(1, Math.floor(layout.rate / ENOUGH));
  const count = Math.min(layout.tracks, MOST_TRACKS);
  const thinned = Array.from({ length: count }, () => decimator({ factor, expected: layout.frames }));
  const blocks = Math.ceil(layout.frames / layout.rate / BLOCK);
  const tally = { clipped: new Float64Array(blocks), missing: new Float64Array(blocks) };
  let rest = new Uint8Array(0);
  let frame = 0;
  return {
    push(bytes) {
      const joined = rest.length === 0 ? bytes : concatenated(rest, bytes);
      const frames = Math.min(Math.floor(joined.length / layout.frameBytes), layout.frames - frame);
      const whole = joined.subarray(0, frames * layout.frameBytes);
      thinned.forEach((track, k) => {
        takeTrack({ samples: waveSamples(whole, layout, k), track, layout, frame, tally });
      });
      frame += frames;
      rest = frame < layout.frames ? joined.slice(whole.length) : new Uint8Array(0);
    },
    end(source) {
      const perBlock = layout.rate * BLOCK;
      const clipped = tally.clipped.map((n) => Math.min(1, n / perBlock / count));
      const missing = tally.missing.map((n) => Math.min(1, n / perBlock / count));
      const tracks = thinned.map((track) => track.end());
      const findings = [...layout.findings, ...soundFindings({ layout, tracks, clipped, missing, frame })];
      const { file, rate } = layout;
      return {
        source,
        file,
        rate: rate / factor,
        recordedRate: rate,
        duration: frame / rate,
        tracks,
        clipped,
        missing,
        findings,
      };
    },
  };
}

/** A whole WAV file as a {@link Sound}. Refuses what {@link waveLayout} refuses. */
export function readSound(input: {
  readonly bytes: Uint8Array;
  readonly file: string;
  readonly source: string;
}): Outcome<Sound> {
  const { bytes, file, source } = input;
  const layout = waveLayout({ head: bytes, size: bytes.length, file } satisfies WaveHead);
  if (!layout.ok) return layout;
  const reader = soundReader(layout.value);
  for (let at = layout.value.dataFrom; at < bytes.length; at += PIECE) reader.push(bytes.subarray(at, at + PIECE));
  const sound = reader.end(source);
  return answered(sound, sound.findings);
}

/** Bytes that are decoded at once. @source our default */
const PIECE = 1 << 20;

interface Taking {
  readonly samples: Float64Array;
  readonly track: Decimator;
  readonly layout: WaveLayout;
  readonly frame: number;
  readonly tally: { readonly clipped: Float64Array; readonly missing: Float64Array };
}

function takeTrack({ samples, track, layout, frame, tally }: Taking): void {
  const full = 1 - 2 ** -(layout.encoding === 'float' ? 15 : Math.min(layout.bits, 16) - 1);
  for (let i = 0; i < samples.length; i++) {
    const isMissing = Number.isNaN(samples[i]);
    if (!isMissing && Math.abs(samples[i]) < full) continue;
    const block = Math.floor((frame + i) / layout.rate / BLOCK);
    tally[isMissing ? 'missing' : 'clipped'][block]++;
    if (isMissing) samples[i] = 0;
  }
  track.push(samples);
}

interface Heard {
  readonly layout: WaveLayout;
  readonly tracks: readonly Float64Array[];
  readonly clipped: Float64Array;
  readonly missing: Float64Array;
  readonly frame: number;
}

function soundFindings({ layout, tracks, clipped, missing, frame }: Heard): readonly Finding[] {
  const place = { file: layout.file };
  const findings: Finding[] = [
    {
      kind: 'level-not-calibrated',
      weight: 'note',
      message: 'the level of the sound is not calibrated: loudness is not used as a sign of a fault',
      place,
    },
  ];
  const share = (counts: Float64Array): number => counts.reduce((sum, value) => sum + value, 0) / counts.length;
  if (clipped.some((value) => value > 0)) {
    const from = BLOCK * clipped.findIndex((value) => value > 0);
    const numbers = { share: share(clipped), blocks: clipped.filter((value) => value > 0).length };
    findings.push({
      kind: 'clipped-sound',
      weight: 'doubt',
      message: `${(100 * numbers.share).toFixed(2)} % of the samples stand at full scale, first near ${from.toFixed(2)} s: clipping makes harmonics that the engine did not`,
      place: { ...place, from },
      numbers,
    });
  }
  if (missing.some((value) => value > 0)) {
    findings.push({
      kind: 'missing-samples',
      weight: 'doubt',
      message: `${(100 * share(missing)).toFixed(2)} % of the samples have no value`,
      place,
      numbers: { share: share(missing) },
    });
  }
  if (frame < layout.frames) {
    findings.push({
      kind: 'truncated-sound',
      weight: 'doubt',
      message: `${frame} of ${layout.frames} frames could be read`,
      place,
      numbers: { frame, frames: layout.frames },
    });
  }
  if (layout.tracks > tracks.length) {
    findings.push({
      kind: 'tracks-left-out',
      weight: 'note',
      message: `only the first ${tracks.length} of ${layout.tracks} tracks are used`,
      place,
      numbers: { tracks: layout.tracks, used: tracks.length },
    });
  }
  return findings;
}

function concatenated(first: Uint8Array, second: Uint8Array): Uint8Array<ArrayBuffer> {
  const joined = new Uint8Array(first.length + second.length);
  joined.set(first);
  joined.set(second, first.length);
  return joined;
}
