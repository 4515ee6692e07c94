import type { Dialect } from '../table.ts';

/** Turns chunks of one encoding into chunks of UTF-8. A character cut by the end of a chunk waits for the next one. */
export interface Transcoder {
  /** UTF-8 bytes of what is complete; the chunk itself when nothing had to change. */
  push(chunk: Uint8Array): Uint8Array;
}

/** Transcoder for an encoding, without the byte-order mark. Characters that cannot be are written as U+FFFD. */
export function transcoder(encoding: Dialect['encoding']): Transcoder {
  switch (encoding) {
    case 'utf-8':
      return { push: (chunk) => chunk };
    case 'latin-1':
      return { push: latin1ToUtf8 };
    case 'utf-16le':
    case 'utf-16be':
      return utf16Transcoder(encoding === 'utf-16be');
  }
}

/** Text of UTF-8 bytes [from, to). Bytes that are not UTF-8 become U+FFFD. */
export function utf8Text(bytes: Uint8Array, from = 0, to = bytes.length): string {
  const parts: string[] = [];
  let run = from;
  let i = from;
  while (i < to) {
    if (bytes[i] < 0x80) {
      i++;
      if (i - run < RUN) continue;
    }
    if (i > run) parts.push(asciiText(bytes.subarray(run, i)));
    if (i < to && bytes[i] >= 0x80) {
      const length = sequenceLength(bytes, i, to);
      parts.push(length > 0 ? String.fromCodePoint(codePoint(bytes, i, length)) : '\uFFFD');
      i += Math.max(1, length);
    }
    run = i;
  }
  if (i > run) parts.push(asciiText(bytes.subarray(run, i)));
  return parts.length === 1 ? parts[0] : parts.join('');
}

/**
 * Length of the UTF-8 sequence at `at`; 0 when it is not one; -1 when it is cut off by the end.
 * @source RFC 3629, section 4 (overlong forms and surrogates are not sequences)
 */
export function sequenceLength(bytes: Uint8Array, at: number, to: number): number {
  const lead = bytes[at];
  const length = lead < 0x80 ? 1 : lead < 0xc2 ? 0 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : lead < 0xf5 ? 4 : 0;
  for (let k = 1; k < length; k++) {
    if (at + k >= to) return -1;
    if ((bytes[at + k] & 0xc0) !== 0x80) return 0;
  }
  if (length < 3) return length;
  const second = bytes[at + 1];
  const tooLow = (lead === 0xe0 && second < 0xa0) || (lead === 0xf0 && second < 0x90);
  const tooHigh = (lead === 0xed && second > 0x9f) || (lead === 0xf4 && second > 0x8f);
  return tooLow || tooHigh ? 0 : length;
}

/** Reflect takes any list of numbers; spreading one into arguments walks it element by element, much slower. */
function asciiText(bytes: Uint8Array): string {
  return Reflect.apply(String.fromCharCode, undefined, bytes);
}

function codePoint(bytes: Uint8Array, at: number, length: number): number {
  let value = length === 2 ? bytes[at] & 0x1f : length === 3 ? bytes[at] & 0x0f : bytes[at] & 0x07;
  for (let k = 1; k < length; k++) value = (value << 6) | (bytes[at + k] & 0x3f);
  return value;
}

function latin1ToUtf8(chunk: Uint8Array): Uint8Array {
  const out = new Uint8Array(chunk.length * 3);
  let n = 0;
  for (let i = 0; i < chunk.length; i++) {
    const byte = chunk[i];
    n = byte < 0x80 || byte > 0x9f ? append(out, n, byte) : append(out, n, WINDOWS_1252[byte - 0x80]);
  }
  return out.subarray(0, n);
}

function utf16Transcoder(bigEndian: boolean): Transcoder {
  let oddByte = -1;
  let highSurrogate = 0;
  return {
    push(chunk) {
      const out = new Uint8Array((chunk.length + 2) * 3);
      let n = 0;
      for (let i = 0; i < chunk.length; i++) {
        if (oddByte < 0) {
          oddByte = chunk[i];
          continue;
        }
        const unit = bigEndian ? (oddByte << 8) | chunk[i] : (chunk[i] << 8) | oddByte;
        oddByte = -1;
        const isLow = unit >= 0xdc00 && unit < 0xe000;
        if (highSurrogate > 0 && isLow) {
          n = append(out, n, 0x10000 + ((highSurrogate - 0xd800) << 10) + (unit - 0xdc00));
          highSurrogate = 0;
          continue;
        }
        if (highSurrogate > 0) n = append(out, n, 0xfffd);
        highSurrogate = unit >= 0xd800 && unit < 0xdc00 ? unit : 0;
        if (highSurrogate === 0) n = append(out, n, isLow ? 0xfffd : unit);
      }
      return out.subarray(0, n);
    },
  };
}

function append(out: Uint8Array, at: number, point: number): number {
  if (point < 0x80) {
    out[at] = point;
    return at + 1;
  }
  const length = point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
  for (let k = length - 1, rest = point; k > 0; k--, rest >>= 6) out[at + k] = 0x80 | (rest & 0x3f);
  out[at] = (length === 2 ? 0xc0 : length === 3 ? 0xe0 : 0xf0) | (point >> (6 * (length - 1)));
  return at + length;
}

/** Longest run handed to one call with spread arguments: our default, far below the engine's limit. */
const RUN = 4096;

/**
 * What bytes 0x80–0x9F mean to the programs that call their files Latin-1; where nothing is assigned, U+FFFD.
 * @source WHATWG Encoding standard, index windows-1252 (used there for the label "latin1")
 */
const WINDOWS_1252: readonly number[] = [
  0x20ac, 0xfffd, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0xfffd,
  0x017d, 0xfffd, 0xfffd, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a,
  0x0153, 0xfffd, 0x017e, 0x0178,
];
