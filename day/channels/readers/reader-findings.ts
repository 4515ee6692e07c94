import type { Finding } from '../../../core/quantities/index.ts';
import type { Counted } from './counted.ts';
import type { Settled } from './settle.ts';
import type { ColumnTally } from './tally.ts';

/** What must be known about the lines of a file. */
export function rowFindings(counted: Counted): readonly Finding[] {
  const { rows, layout, file, lastLine } = counted;
  const found = LINE_FINDINGS.filter(({ seen }) => rows[seen].count > 0).map(
    ({ seen, kind, weight, wording }): Finding => {
      const { count, firstLine } = rows[seen];
      const message = `${wording(count, counted)}, first on line ${firstLine}`;
      return { kind, weight, message, place: { file, line: firstLine }, numbers: { count } };
    },
  );
  if (lastLine !== 'ended') found.push(incompleteLastLine(counted));
  if (rows.rows === 0) {
    const message = 'missing values: the file has names but no rows';
    found.push({ kind: 'no-rows', weight: 'fault', message, place: { file } });
  }
  if (layout.unnamed > 0) {
    const message = `missing names: the header names ${layout.names.length - layout.unnamed} of ${layout.names.length} columns; are the names in their places?`;
    found.push({
      kind: 'unnamed-columns',
      weight: 'doubt',
      message,
      place: { file },
      numbers: { count: layout.unnamed },
    });
  }
  if (layout.repeatedNames > 0) {
    const message = `${layout.repeatedNames} columns bear a name that was taken; they got a number behind it`;
    const numbers = { count: layout.repeatedNames };
    found.push({ kind: 'repeated-names', weight: 'note', message, place: { file }, numbers });
  }
  return found;
}

function incompleteLastLine({ rows, file, lastLine, firstLine }: Counted): Finding {
  const isDropped = lastLine === 'dropped';
  const end = isDropped ? 'has too few cells and was left out' : 'may be cut';
  return {
    kind: 'incomplete-last-line',
    weight: isDropped ? 'doubt' : 'note',
    message: `missing line end: the last line ${end}; is the file still being written?`,
    place: { file, line: rows.lines + firstLine - 1 },
  };
}

const LINE_FINDINGS: readonly {
  readonly seen: 'short' | 'extra' | 'stray' | 'repeatedHeader' | 'comment' | 'blank' | 'nul' | 'openQuote';
  readonly kind: string;
  readonly weight: Finding['weight'];
  readonly wording: (count: number, counted: Counted) => string;
}[] = [
  {
    seen: 'short',
    kind: 'short-rows',
    weight: 'doubt',
    wording: (n, { layout }) =>
      `missing cells: ${n} rows have fewer than ${layout.kept.length} cells, the rest is empty`,
  },
  {
    seen: 'extra',
    kind: 'extra-cells',
    weight: 'doubt',
    wording: (n, { layout }) =>
      `unknown cells: ${n} rows have more than ${layout.kept.length} cells, the rest was left out`,
  },
  {
    seen: 'stray',
    kind: 'stray-lines',
    weight: 'note',
    wording: (n, { rows }) => `${n} lines are no rows and were left out ("${rows.strayText}")`,
  },
  {
    seen: 'repeatedHeader',
    kind: 'repeated-header',
    weight: 'note',
    wording: (n) => `header or unit row repeated ${n} times inside the values`,
  },
  {
    seen: 'comment',
    kind: 'comment-lines',
    weight: 'note',
    wording: (n) => `${n} lines begin with # and were left out`,
  },
  { seen: 'blank', kind: 'blank-lines', weight: 'note', wording: (n) => `${n} blank lines left out` },
  {
    seen: 'nul',
    kind: 'nul-bytes',
    weight: 'doubt',
    wording: (n) => `invalid bytes: zero bytes in ${n} places (storage cut off while writing)`,
  },
  {
    seen: 'openQuote',
    kind: 'open-quote',
    weight: 'doubt',
    wording: (n) => `invalid quotes: ${n} quotes do not close, read as text`,
  },
];

/** What must be known about one column. */
export function columnFindings(
  channel: string,
  column: { readonly tally: ColumnTally; readonly settled: Settled; readonly file: string },
): readonly Finding[] {
  const { tally, settled, file } = column;
  const found: Finding[] = [];
  const filled = tally.rows - tally.empty;
  const place = tally.firstTextLine > 0 ? { file, channel, line: tally.firstTextLine } : { file, channel };
  if (settled.writing !== 'text' && settled.unreadable > 0) {
    const example = tally.firstText === '' ? '' : `, first "${tally.firstText}" on line ${tally.firstTextLine}`;
    found.push({
      kind: 'unreadable-cells',
      weight: settled.unreadable * 10 > filled ? 'fault' : 'doubt',
      message: `invalid cells: ${settled.unreadable} of ${filled} are no ${settled.writing}${example}`,
      place,
      numbers: { count: settled.unreadable, filled, value: tally.firstText },
    });
  }
  if (tally.otherDecimal > 0) {
    found.push({
      kind: 'other-decimal-sign',
      weight: 'fault',
      message: `invalid decimal sign: ${tally.otherDecimal} cells such as "${tally.firstText}" would be numbers under the other sign; left unreadable`,
      place,
      numbers: { count: tally.otherDecimal, value: tally.firstText },
    });
  }
  const doubt = DOUBTS[settled.doubt];
  if (doubt) found.push({ kind: settled.doubt, ...doubt, place: { file, channel } });
  if (settled.cellUnit !== '') {
    found.push({
      kind: 'unit-in-cells',
      weight: 'note',
      message: `unit "${settled.cellUnit}" stands behind every number`,
      place: { file, channel },
    });
  }
  return found;
}

const DOUBTS: Readonly<
  Record<Settled['doubt'], { weight: Finding['weight']; message: string; rule?: string } | undefined>
> = {
  none: undefined,
  'two-part-clock': {
    weight: 'doubt',
    message: 'unknown clock: two parts read as minutes and seconds; no cell decides against hours and minutes',
    rule: 'mm:ss for two parts: our default',
  },
  'day-or-month': {
    weight: 'doubt',
    message:
      'unknown date: read month first, no cell decides against day first; differences within one day do not depend on it',
    rule: 'month first: our default',
  },
  'contradictory-dates': {
    weight: 'fault',
    message: 'invalid dates: some can only be day first, others only month first; only the more frequent kind is kept',
  },
  'several-units': {
    weight: 'fault',
    message: 'invalid units: numbers with different units in one column, read as text',
  },
  'on-off': { weight: 'note', message: 'words of the kind on and off read as 1 and 0' },
};
