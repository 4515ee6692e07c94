import { answered, type Finding, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { Dialect } from '../table.ts';
import type { Row } from './shape.ts';

export interface SignsFound {
  readonly decimal: Dialect['decimal'];
  readonly thousands: Dialect['thousands'];
  /** proven: a cell can be read one way only; none: no cell has a sign at all; assumed: see the finding. */
  readonly certainty: 'proven' | 'assumed' | 'none' | 'given';
  readonly evidence: string;
}

/** What the cells of the head say about one of the two signs. */
interface SignEvidence {
  decimal: number;
  thousands: number;
  open: number;
  example: string;
  openExample: string;
}

/**
 * Decimal sign and thousands mark, from cells that can be read one way only: `0,5`, `1234,5`, `12,34` prove a decimal comma;
 * `1,234,567` proves a thousands comma; `1,234` proves nothing. Refuses where no cell decides and where cells contradict.
 */
export function findSigns(
  rows: readonly Row[],
  options: { delimiter: Dialect['delimiter']; file: string; given: Partial<Dialect> },
): Outcome<SignsFound> {
  const cells = rows.flatMap((row) => row.cells.filter((_, k) => row.kinds[k] === 'value'));
  const seen = { ',': evidenceFor(cells, ','), '.': evidenceFor(cells, '.') };
  const spaced = cells.some((cell) => /^[+-]?\d{1,3}(?:[ \u00A0\u202F]\d{3})+(?:[.,]\d*)?$/.test(cell));
  const marked = cells.some((cell) => /^[+-]?\d{1,3}(?:['’]\d{3})+(?:[.,]\d*)?$/.test(cell));
  const mark: Dialect['thousands'] = spaced && options.delimiter !== ' ' ? ' ' : marked ? "'" : '';
  const { given } = options;
  if (given.decimal !== undefined) {
    return answered({
      decimal: given.decimal,
      thousands: given.thousands ?? (mark || otherMark(seen, given.decimal)),
      certainty: 'given',
      evidence: 'given',
    });
  }
  return decided(seen, { mark: given.thousands ?? mark, cells, ...options });
}

function decided(
  seen: Readonly<Record<',' | '.', SignEvidence>>,
  options: { mark: Dialect['thousands']; cells: readonly string[]; delimiter: Dialect['delimiter']; file: string },
): Outcome<SignsFound> {
  const { mark, cells, delimiter, file } = options;
  const [comma, point] = [seen[','], seen['.']];
  if (
    comma.decimal > 0 &&
    point.decimal > 0 &&
    20 * Math.min(comma.decimal, point.decimal) >= Math.max(comma.decimal, point.decimal)
  ) {
    return refused({
      kind: 'contradictory-decimal',
      message: `invalid decimal sign: "${comma.example}" and "${point.example}" in one file, expected one sign`,
      place: { file },
      numbers: { comma: comma.example, point: point.example, commaCells: comma.decimal, pointCells: point.decimal },
    });
  }
  for (const sign of [',', '.'] as const) {
    const [own, other] = sign === ',' ? [comma, point] : [point, comma];
    if (own.decimal > other.decimal) {
      const thousands = mark || otherMark(seen, sign);
      return answered(
        { decimal: sign, thousands, certainty: 'proven', evidence: `"${own.example}"` },
        thousandsNote(thousands, other, file),
      );
    }
  }
  if (comma.thousands > 0 && point.thousands === 0)
    return answered({ decimal: '.', thousands: ',', certainty: 'proven', evidence: `"${comma.example}"` });
  if (point.thousands > 0 && comma.thousands === 0)
    return answered({ decimal: ',', thousands: '.', certainty: 'proven', evidence: `"${point.example}"` });
  if (comma.open === 0 && point.open === 0)
    return answered({ decimal: '.', thousands: mark, certainty: 'none', evidence: 'no cell has a decimal sign' });
  const unmarked = cells.find((cell) => /^[+-]?\d{4,}$/.test(cell));
  if (comma.open > 0 && (point.open > 0 || unmarked === undefined || delimiter === ','))
    return ambiguous(comma, point, file);
  const sign = comma.open > 0 ? ',' : '.';
  const example = seen[sign].openExample;
  if (sign === '.' && delimiter === ',')
    return answered({ decimal: '.', thousands: mark, certainty: 'proven', evidence: 'commas delimit' });
  return answered({ decimal: sign, thousands: mark, certainty: 'assumed', evidence: `"${example}"` }, [
    assumed(example, unmarked, file),
  ]);
}

function ambiguous(comma: SignEvidence, point: SignEvidence, file: string): Outcome<SignsFound> {
  const example = comma.openExample;
  return refused({
    kind: 'ambiguous-decimal',
    message: `unknown decimal sign: "${example}" may be ${example.replace(',', '.')} or ${example.replace(',', '')}; no cell decides, say which`,
    place: { file },
    numbers: { value: example, cells: comma.open, pointCells: point.open },
    rule: 'three digits behind the only sign prove nothing',
  });
}

function assumed(example: string, unmarked: string | undefined, file: string): Finding {
  const reason = unmarked === undefined ? 'no cell proves it' : `"${unmarked}" has no thousands mark`;
  return {
    kind: 'decimal-assumed',
    weight: unmarked === undefined ? 'doubt' : 'note',
    message: `unknown decimal sign: "${example}" read with a decimal ${example.includes(',') ? 'comma' : 'point'}; ${reason}; please confirm`,
    place: { file },
    numbers: { value: example },
    rule: 'a sign without proof is taken as the decimal sign: our default',
  };
}

function thousandsNote(thousands: string, other: SignEvidence, file: string): readonly Finding[] {
  if (thousands === '' || other.open === 0 || other.thousands > 0) return [];
  return [
    {
      kind: 'thousands-mark',
      weight: 'note',
      message: `"${other.openExample}" read with "${thousands}" as thousands mark: the other sign is the decimal sign of this file`,
      place: { file },
      numbers: { value: other.openExample },
    },
  ];
}

function otherMark(seen: Readonly<Record<',' | '.', SignEvidence>>, decimal: ',' | '.'): Dialect['thousands'] {
  const other = decimal === ',' ? '.' : ',';
  return seen[other].thousands + seen[other].open > 0 ? other : '';
}

function evidenceFor(cells: readonly string[], sign: ',' | '.'): SignEvidence {
  const found: SignEvidence = { decimal: 0, thousands: 0, open: 0, example: '', openExample: '' };
  const other = sign === ',' ? '.' : ',';
  for (const cell of cells) {
    if (!cell.includes(sign)) continue;
    const kind = signMeaning(cell, sign, other);
    if (kind === undefined) continue;
    found[kind]++;
    if (kind === 'open') found.openExample ||= cell;
    else found.example ||= cell;
  }
  return found;
}

function signMeaning(cell: string, sign: ',' | '.', other: ',' | '.'): 'decimal' | 'thousands' | 'open' | undefined {
  const match = /^[+-]?([\d.,' \u00A0\u202F’]*?)([eE][+-]?\d+)?$/.exec(cell);
  if (!match) return undefined;
  const body = match[1];
  const groups = body.split(sign);
  if (body.includes(other)) {
    const signLast = body.lastIndexOf(sign) > body.lastIndexOf(other);
    if (signLast) return groups.length === 2 && MARKED_HEAD[other].test(groups[0]) ? 'decimal' : undefined;
    return body.split(other).length === 2 && MARKED_HEAD[sign].test(body.split(other)[0]) ? 'thousands' : undefined;
  }
  if (groups.length > 2)
    return groups[0].length <= 3 && groups.slice(1).every((group) => group.length === 3) ? 'thousands' : undefined;
  const [whole, fraction] = groups;
  if (/[' \u00A0\u202F’]/.test(whole) || match[2] !== undefined) return 'decimal';
  const canBeGroups = /^[1-9]\d{0,2}$/.test(whole) && /^\d{3}$/.test(fraction);
  return canBeGroups ? 'open' : 'decimal';
}

const MARKED_HEAD = { ',': /^\d{1,3}(,\d{3})+$/, '.': /^\d{1,3}(\.\d{3})+$/ } as const;
