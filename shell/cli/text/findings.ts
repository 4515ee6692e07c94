import type { Finding, Refusal } from '../../../core/quantities/index.ts';
import { wrapped } from './table.ts';

const MARK = { note: '·', doubt: '?', fault: '!' } as const;

/** Findings one a line, faults first: `!` fault, `?` doubt, `·` note. */
export function findingLines(findings: readonly Finding[], width: number): readonly string[] {
  const order = { fault: 0, doubt: 1, note: 2 };
  return [...findings]
    .sort((a, b) => order[a.weight] - order[b.weight])
    .map((finding) => wrapped(`${MARK[finding.weight]} ${finding.message}${placeText(finding)}`, width, '  '));
}

/** A refusal as one block: what, where, which rule. */
export function refusalText(refusal: Refusal): string {
  return `${refusal.message}${placeText(refusal)}${refusal.rule ? ` (rule: ${refusal.rule})` : ''}`;
}

function placeText({ place }: Finding | Refusal): string {
  if (!place) return '';
  const line = place.line === undefined ? '' : `:${place.line}${place.column === undefined ? '' : `:${place.column}`}`;
  const time =
    place.from === undefined
      ? ''
      : ` at ${place.from.toFixed(2)}${place.to === undefined ? '' : `–${place.to.toFixed(2)}`} s`;
  const where = [place.file === undefined ? '' : `${place.file}${line}`, place.channel ?? '']
    .filter((part) => part !== '')
    .join(', ');
  const text = `${where}${time}`;
  return text === '' ? '' : ` [${text.trim()}]`;
}
