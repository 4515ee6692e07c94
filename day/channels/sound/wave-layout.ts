import { answered, type Finding, type Outcome, refused } from '../../../core/quantities/index.ts';
import { type WaveFormat, waveFormat } from './wave-format.ts';

/** Where the samples of a WAV file lie and how they are written. frames: one sample of every track; whole ones that are really there. */
export interface WaveLayout extends WaveFormat {
  readonly file: string;
  /** First byte of the samples. */
  readonly dataFrom: number;
  readonly frames: number;
  readonly findings: readonly Finding[];
}

export interface WaveHead {
  /** First bytes of the file, up to {@link WAVE_HEAD_BYTES}. */
  readonly head: Uint8Array;
  /** Length of the whole file [bytes]. */
  readonly size: number;
  readonly file: string;
}

/** The samples must begin within so many bytes. @source our default */
export const WAVE_HEAD_BYTES = 1 << 20;

/** True when the first bytes are those of a WAV file of any kind. @source RIFF specification (1991), chapter 2; EBU Tech 3306; ITU-R BS.2088 */
export function isWave(head: Uint8Array): boolean {
  return head.length >= 12 && ['RIFF', 'RIFX', 'RF64', 'BW64'].includes(tag(head, 0)) && tag(head, 8) === 'WAVE';
}

/**
 * Layout of a WAV file from its head.
 *
 * Refuses: not-a-wave, truncated-header, missing-chunk, invalid-header, unsupported-encoding, empty-sound; each says at which byte.
 * Finds: truncated-sound (fewer samples than the header says), unfinished-header (the length was never written), odd-header.
 *
 * @source RIFF specification, "Multimedia Programming Interface and Data Specifications 1.0" (1991); 64-bit sizes: EBU Tech 3306
 */
export function waveLayout(input: WaveHead): Outcome<WaveLayout> {
  const { head, file } = input;
  const refuse = (kind: string, message: string, at: number) =>
    refused<WaveLayout>({ kind, message: `${message}, at byte ${at}`, place: { file }, numbers: { byte: at } });
  if (head.length < 12)
    return refuse(
      'truncated-header',
      `invalid WAV header: ends after ${head.length} bytes, expected 12 at least`,
      head.length,
    );
  if (!isWave(head))
    return refuse(
      'not-a-wave',
      `invalid WAV file: begins with "${shown(head, 0)}…${shown(head, 8)}", expected RIFF…WAVE`,
      0,
    );
  if (tag(head, 0) === 'RIFX')
    return refuse('unsupported-encoding', 'invalid WAV file: RIFX (big-endian), expected RIFF', 0);
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  let format: WaveFormat | undefined;
  let longData: number | undefined;
  const findings: Finding[] = [];
  for (let at = 12; ; ) {
    if (at + 8 > head.length) return endOfHead({ at, input, format, refuse });
    const id = tag(head, at);
    const length = view.getUint32(at + 4, true);
    const body = at + 8;
    if (id === 'data') {
      if (!format) return refuse('missing-chunk', 'missing "fmt " chunk before the samples', at);
      const said = length === UNKNOWN && longData !== undefined ? longData : length;
      return placed({ format, dataFrom: body, said, input, findings });
    }
    if (body + length > input.size)
      return refuse(
        'truncated-header',
        `invalid WAV header: chunk "${shown(head, at)}" of ${length} bytes in a file of ${input.size}`,
        at,
      );
    if (id === 'ds64' && length >= 16 && body + 16 <= head.length) longData = Number(view.getBigUint64(body + 8, true));
    if (id === 'fmt ') {
      const read = waveFormat(
        new DataView(head.buffer, head.byteOffset + body, Math.min(length, Math.max(0, head.length - body))),
      );
      if (!read.ok) return refuse(read.refusal.kind, read.refusal.message, body);
      format = read.value;
      findings.push(...read.findings.map((finding) => ({ ...finding, place: { file } })));
    }
    at = body + length + (length % 2);
  }
}

/** A length that was not known when the header was written, or that stands in another chunk. */
const UNKNOWN = 0xffffffff;

interface Ended {
  readonly at: number;
  readonly input: WaveHead;
  readonly format: WaveFormat | undefined;
  readonly refuse: (kind: string, message: string, at: number) => Outcome<WaveLayout>;
}

function endOfHead({ at, input, format, refuse }: Ended): Outcome<WaveLayout> {
  const { head, size } = input;
  if (size > head.length) return refuse('missing-chunk', `missing "data" chunk in the first ${head.length} bytes`, at);
  if (at < size)
    return refuse('truncated-header', `invalid WAV header: file ends inside the head of a chunk (${size} bytes)`, at);
  return refuse('missing-chunk', `missing "${format ? 'data' : 'fmt '}" chunk: the file ends`, at);
}

interface Placing {
  readonly format: WaveFormat;
  readonly dataFrom: number;
  readonly said: number;
  readonly input: WaveHead;
  readonly findings: readonly Finding[];
}

function placed({ format, dataFrom, said, input, findings }: Placing): Outcome<WaveLayout> {
  const { file, size } = input;
  const there = Math.max(0, size - dataFrom);
  const unfinished = (said === 0 || said === UNKNOWN) && there > 0;
  const bytes = unfinished ? there : Math.min(said, there);
  const frames = Math.floor(bytes / format.frameBytes);
  if (frames === 0) {
    return refused({
      kind: 'empty-sound',
      message: `missing samples: ${bytes} bytes of sound, one frame has ${format.frameBytes}`,
      place: { file },
      numbers: { bytes, frameBytes: format.frameBytes },
    });
  }
  const seen = [...findings];
  const seconds = frames / format.rate;
  const about = (kind: string, message: string, numbers: Readonly<Record<string, number>>): Finding => ({
    kind,
    weight: 'doubt',
    message,
    place: { file },
    numbers,
  });
  if (unfinished) {
    seen.push(
      about(
        'unfinished-header',
        `the header does not say how long the sound is: everything after it is taken, ${seconds.toFixed(3)} s`,
        { seconds },
      ),
    );
  } else if (said > there) {
    const wanted = said / format.frameBytes / format.rate;
    seen.push(
      about(
        'truncated-sound',
        `the file ends early: ${seconds.toFixed(3)} s of ${wanted.toFixed(3)} s of sound are there`,
        { seconds, wanted },
      ),
    );
  }
  return answered({ ...format, file, dataFrom, frames, findings: seen }, seen);
}

function tag(head: Uint8Array, at: number): string {
  return String.fromCharCode(...head.subarray(at, at + 4));
}

function shown(head: Uint8Array, at: number): string {
  return tag(head, at).replace(/[^ -~]/g, '?');
}
