import { answered, type Finding, type Outcome, refused } from '../../../core/quantities/index.ts';

/**
 * How samples are written. sampleBytes: bytes of one sample; frameBytes: of one sample of every track. bits: those of a sample that carry
 * sound. rate: frames per second [Hz].
 */
export interface WaveFormat {
  readonly encoding: 'integer' | 'float';
  readonly bits: number;
  readonly sampleBytes: number;
  readonly frameBytes: number;
  readonly tracks: number;
  readonly rate: number;
}

/** Codes of the `fmt ` chunk. @source RFC 2361; multichannel extension of the WAVE format (2001) */
const INTEGER = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;
/** Bytes 2–15 of a subformat that is a plain code. @source multichannel extension of the WAVE format (2001) */
const PLAIN_SUBFORMAT = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];
/** More tracks than this are taken for a damaged header. @source our default */
const MOST_TRACKS = 256;
/** A faster rate [Hz] is taken for a damaged header. @source our default */
const FASTEST = 10_000_000;

/** What a `fmt ` chunk says. Refuses: truncated-header, unsupported-encoding, invalid-header. Finds: odd-header. */
export function waveFormat(chunk: DataView): Outcome<WaveFormat> {
  if (chunk.byteLength < 16)
    return refuse(
      'truncated-header',
      `invalid WAV header: "fmt " chunk of ${chunk.byteLength} bytes, expected 16 at least`,
    );
  const first = chunk.getUint16(0, true);
  if (first === EXTENSIBLE && chunk.byteLength < 40)
    return refuse(
      'truncated-header',
      `invalid WAV header: extensible "fmt " chunk of ${chunk.byteLength} bytes, expected 40`,
    );
  const code = first === EXTENSIBLE ? subformat(chunk) : first;
  if (code !== INTEGER && code !== FLOAT)
    return refuse(
      'unsupported-encoding',
      `unknown WAV encoding: ${codeText(code)}, expected uncompressed integer (1) or floating point (3)`,
    );
  const tracks = chunk.getUint16(2, true);
  const rate = chunk.getUint32(4, true);
  const bits = chunk.getUint16(14, true);
  const frameBytes = chunk.getUint16(12, true);
  if (tracks < 1 || tracks > MOST_TRACKS)
    return refuse('invalid-header', `invalid number of tracks: ${tracks}, expected 1–${MOST_TRACKS}`);
  if (rate < 1 || rate > FASTEST)
    return refuse('invalid-header', `invalid sample rate: ${rate} Hz, expected 1–${FASTEST}`);
  const sampleBytes = Math.ceil(bits / 8);
  const isFloat = code === FLOAT;
  if (isFloat ? bits !== 32 && bits !== 64 : bits < 1 || bits > 32)
    return refuse(
      'unsupported-encoding',
      `invalid sample size: ${bits} bits, expected ${isFloat ? '32 or 64' : '1–32'}`,
    );
  if (frameBytes !== tracks * sampleBytes)
    return refuse('invalid-header', `invalid frame size: ${frameBytes} bytes, expected ${tracks} × ${sampleBytes}`);
  const findings: Finding[] = [];
  const byteRate = chunk.getUint32(8, true);
  if (byteRate !== rate * frameBytes) {
    findings.push({
      kind: 'odd-header',
      weight: 'doubt',
      message: `the header says ${byteRate} bytes per second and ${rate} Hz × ${frameBytes} bytes: the sample rate is believed`,
      numbers: { byteRate, rate, frameBytes },
    });
  }
  const valid = first === EXTENSIBLE ? chunk.getUint16(18, true) : bits;
  const carrying = valid >= 1 && valid <= bits ? valid : bits;
  return answered(
    { encoding: isFloat ? 'float' : 'integer', bits: carrying, sampleBytes, frameBytes, tracks, rate },
    findings,
  );
}

/** The code inside an extensible format; undefined when the subformat is of another kind. */
function subformat(chunk: DataView): number | undefined {
  return PLAIN_SUBFORMAT.every((byte, i) => chunk.getUint8(26 + i) === byte) ? chunk.getUint16(24, true) : undefined;
}

function codeText(code: number | undefined): string {
  return code === undefined ? 'a subformat of its own' : `code ${code}`;
}

function refuse(kind: string, message: string): Outcome<WaveFormat> {
  return refused({ kind, message });
}
