import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { Dialect } from '../table.ts';
import { sequenceLength } from './characters.ts';
import { foreignFormat } from './foreign.ts';

/** How the bytes of a text stand for characters, and what that was decided from. */
export interface EncodingFound {
  readonly encoding: Dialect['encoding'];
  readonly byteOrderMark: boolean;
  /** Bytes of the byte-order mark. */
  readonly skip: number;
  readonly evidence: string;
}

/**
 * Encoding of a text from its first bytes: byte-order mark, then the zero bytes of UTF-16, then valid UTF-8, then Latin-1
 * as a suggestion with a finding. Refuses an empty file and what is not text, saying what it is.
 */
export function detectEncoding(head: Uint8Array, file: string): Outcome<EncodingFound> {
  if (head.length === 0)
    return refused({ kind: 'empty-file', message: 'missing content: file is empty', place: { file } });
  const mark = byteOrderMark(head);
  if (mark) return answered(mark);
  const foreign = foreignFormat(head);
  if (foreign) return notText(foreign, file);
  const wide = wideEncoding(head);
  if (wide) return answered(wide);
  const text = withoutPadding(head);
  const odd = controlBytes(text);
  if (text.length === 0 || odd > text.length * CONTROL_SHARE) return notText('binary data', file, odd);
  const bad = firstInvalid(text);
  if (bad < 0) return answered({ encoding: 'utf-8', byteOrderMark: false, skip: 0, evidence: 'valid UTF-8' });
  return answered({ encoding: 'latin-1', byteOrderMark: false, skip: 0, evidence: `byte ${bad} is not UTF-8` }, [
    {
      kind: 'encoding-assumed',
      weight: 'note',
      message: `unknown encoding: not UTF-8 at byte ${bad}, read as Latin-1; check letters beyond a–z in names and units`,
      place: { file },
      numbers: { byte: bad, value: head[bad] },
      rule: 'Latin-1 where UTF-8 is invalid: our default',
    },
  ]);
}

function notText(what: string, file: string, controls?: number): Outcome<EncodingFound> {
  return refused({
    kind: 'not-delimited-text',
    message: `invalid file: this is ${what}, expected delimited text`,
    place: { file },
    numbers: controls === undefined ? { content: what } : { content: what, controlBytes: controls },
  });
}

function byteOrderMark(head: Uint8Array): EncodingFound | undefined {
  const evidence = 'byte-order mark';
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) {
    return { encoding: 'utf-8', byteOrderMark: true, skip: 3, evidence };
  }
  if (head[0] === 0xff && head[1] === 0xfe) return { encoding: 'utf-16le', byteOrderMark: true, skip: 2, evidence };
  if (head[0] === 0xfe && head[1] === 0xff) return { encoding: 'utf-16be', byteOrderMark: true, skip: 2, evidence };
  return undefined;
}

/** UTF-16 of mostly ASCII text has a zero at nearly every second byte and hardly any at the others. */
function wideEncoding(head: Uint8Array): EncodingFound | undefined {
  const length = Math.min(head.length & ~1, 4096);
  let even = 0;
  let odd = 0;
  for (let i = 0; i < length; i += 2) {
    if (head[i] === 0) even++;
    if (head[i + 1] === 0) odd++;
  }
  const half = length / 2;
  const found = (encoding: Dialect['encoding']): EncodingFound => ({
    encoding,
    byteOrderMark: false,
    skip: 0,
    evidence: 'zero at every second byte',
  });
  if (half >= 4 && odd > 0.7 * half && even < 0.05 * half) return found('utf-16le');
  if (half >= 4 && even > 0.7 * half && odd < 0.05 * half) return found('utf-16be');
  return undefined;
}

/** Zeros at the end are the padding that a power cut leaves, not content. */
function withoutPadding(head: Uint8Array): Uint8Array {
  let end = head.length;
  while (end > 0 && head[end - 1] === 0) end--;
  return head.subarray(0, end);
}

function controlBytes(head: Uint8Array): number {
  let count = 0;
  for (let i = 0; i < head.length; i++) {
    const byte = head[i];
    if (byte < 9 || (byte > 13 && byte < 32) || byte === 127) count++;
  }
  return count;
}

function firstInvalid(head: Uint8Array): number {
  for (let i = 0; i < head.length; ) {
    if (head[i] < 0x80) {
      i++;
      continue;
    }
    const length = sequenceLength(head, i, head.length);
    if (length < 0) return -1;
    if (length === 0) return i;
    i += length;
  }
  return -1;
}

/** More control characters than this share of the head is not text. @source our default */
const CONTROL_SHARE = 0.02;
