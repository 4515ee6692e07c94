/** The same bytes in memory of their own. `slice` will not do: on some subclasses it is only a view. */
export function copied(bytes: Uint8Array): Uint8Array {
  return new Uint8Array(bytes);
}

/** The parts one after the other. @param length sum of their lengths */
export function joined(parts: readonly Uint8Array[], length: number): Uint8Array {
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** Byte at which the line of this number (1-based) begins; the length when there are fewer lines. */
export function lineStart(bytes: Uint8Array, line: number): number {
  let i = 0;
  for (let number = 1; number < line && i < bytes.length; i++) {
    const isEnd = bytes[i] === LF || (bytes[i] === CR && bytes[i + 1] !== LF);
    if (isEnd) number++;
  }
  return i;
}

export function isLineEnd(byte: number): boolean {
  return byte === LF || byte === CR;
}

/** Index behind the first line end from `at` on; the length when there is none. */
export function firstLineEnd(bytes: Uint8Array, at: number): number {
  for (let i = at; i < bytes.length; i++) if (isLineEnd(bytes[i])) return i + 1;
  return bytes.length;
}

/** Index behind the last line end; `from` when there is none. */
export function lastLineEnd(bytes: Uint8Array, from: number): number {
  for (let i = bytes.length; i > from; i--) if (isLineEnd(bytes[i - 1])) return i;
  return from;
}

const LF = 10;
const CR = 13;
