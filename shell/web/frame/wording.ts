import type { FindingLine, Standing } from '../../contract/index.ts';

/** A place in words: file, column, line, seconds. */
export function placeInWords(place: FindingLine['place']): string {
  if (!place) return '';
  const { file, channel, line, column, from, to } = place;
  return [
    file,
    channel,
    line === undefined ? undefined : `line ${line}`,
    column === undefined ? undefined : `column ${column}`,
    from === undefined ? undefined : spanInWords(from, to),
  ]
    .filter((part) => part !== undefined && part !== '')
    .join(', ');
}

function spanInWords(from: number, to: number | undefined): string {
  if (to === undefined) return `from ${seconds(from)}`;
  return to === from ? `at ${seconds(from)}` : `${seconds(from)} to ${seconds(to)}`;
}

function seconds(value: number): string {
  return `${value.toFixed(2)} s`;
}

/** How an entry stands, in a word. */
export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  waiting: 'waits for you',
  refused: 'no answer',
  void: 'void',
  windows: 'valid in windows',
  doubtful: 'doubtful',
  valid: 'valid',
  none: '',
};

/** The same text with its numbers held to their units and bands, so that no line ends between them. */
export function unbroken(text: string): string {
  return text.replace(/(\d) (?=%|±|[kM]?W\b|N|rpm|kPa|km\/h|hp|lbf|s\b)/g, '$1\u00a0').replace(/± (?=\d)/g, '±\u00a0');
}

/** `1 file`, `3 files`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Bytes as a person reads them: `0 B`, `1.5 MB`. */
export function bytesInWords(bytes: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'];
  let value = bytes;
  let at = 0;
  while (value >= 1000 && at < units.length - 1) {
    value /= 1000;
    at += 1;
  }
  return `${at === 0 ? value : value.toFixed(1)} ${units[at]}`;
}
