import type { Finding, Refusal } from '../../../core/quantities/index.ts';
import { wrapped } from './table.ts';

const MARK = { note: '·', doubt: '?', fault: '!' } as const;
const ORDER = { fault: 0, doubt: 1, note: 2 } as const;

/** From how many channels on a finding that they share is one line. @source our default */
const MANY = 3;

/** Findings one a line, faults first: `!` fault, `?` doubt, `·` note. What many channels of a file share is said once. */
export function findingLines(findings: readonly Finding[], width: number): readonly string[] {
  return saidOnce(findings).map((finding) =>
    wrapped(`${MARK[finding.weight]} ${finding.message}${placeText(finding)}`, width, '  '),
  );
}

/** Findings of several entries: faults and doubts, each said once with the entries that share it; notes are only counted. */
export function entryFindingLines(
  entries: readonly { readonly id: string; readonly findings: readonly Finding[] }[],
  width: number,
): readonly string[] {
  const told = entries.flatMap(({ id, findings }) =>
    saidOnce(findings).map((finding) => ({ id, finding, key: `${finding.kind}|${finding.place?.channel ?? ''}` })),
  );
  const groups = [...Map.groupBy(told, ({ key, finding }) => `${finding.weight}|${key}`).values()];
  const lines = groups
    .flatMap((group) => {
      const [first] = group;
      if (!first || first.finding.weight === 'note') return [];
      const ids = [...new Set(group.map(({ id }) => id))];
      return [{ ...first, ids, same: group.every(({ finding }) => finding.message === first.finding.message) }];
    })
    .sort((a, b) => ORDER[a.finding.weight] - ORDER[b.finding.weight])
    .map(({ finding, ids, same, id }) => {
      const lead = same || ids.length === 1 ? ids.join(', ') : id;
      const more = same || ids.length === 1 ? '' : `; the like in ${ids.filter((other) => other !== id).join(', ')}`;
      return wrapped(`${MARK[finding.weight]} ${lead}: ${finding.message}${more}`, width, '  ');
    });
  const notes = told.filter(({ finding }) => finding.weight === 'note').length;
  return notes > 0 ? [...lines, `· ${notes} notes in the entries; --entry ID shows those of one`] : lines;
}

/** A refusal as one block: what, where, which rule. */
export function refusalText(refusal: Refusal): string {
  return `${refusal.message}${placeText(refusal)}${refusal.rule ? ` (rule: ${refusal.rule})` : ''}`;
}

/** Faults first, repetitions gone, and one finding where many channels of a file share it. */
export function saidOnce(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  const once = findings.filter(({ message, place }) => {
    const key = JSON.stringify([message, place]);
    return !seen.has(key) && seen.add(key);
  });
  const groups = Map.groupBy(once, ({ kind, weight, place }) =>
    JSON.stringify(place?.channel === undefined ? [kind, weight, once.length] : [kind, weight, place.file]),
  );
  return [...groups.values()]
    .flatMap((group) => (group.length >= MANY && group[0]?.place?.channel !== undefined ? [together(group)] : group))
    .sort((a, b) => ORDER[a.weight] - ORDER[b.weight]);
}

function together(group: readonly Finding[]): Finding {
  const [first, ...rest] = group;
  if (!first) throw new Error('no finding to say');
  const { channel, ...place } = first.place ?? {};
  const message =
    first.kind === 'staircase'
      ? staircaseText(group)
      : `${first.message}; the like in ${rest.map((one) => one.place?.channel).join(', ')}`;
  return { ...first, message, place };
}

/** `24 channels are renewed less often than the file's 100 rows a second: 10 Hz IAT, CLT; 20 Hz Batt`. */
function staircaseText(group: readonly Finding[]): string {
  const rowRate = Number(group[0]?.numbers?.['rowRate']).toPrecision(3);
  const rates = Map.groupBy(group, ({ numbers }) => `${Number(numbers?.['refreshRate']).toPrecision(2)} Hz`);
  const parts = [...rates]
    .sort(([a], [b]) => Number.parseFloat(a) - Number.parseFloat(b))
    .map(([rate, alike]) => `${rate} ${alike.map(({ place }) => place?.channel).join(', ')}`);
  return `${group.length} channels are renewed less often than the ${rowRate} rows a second: about ${parts.join('; about ')}`;
}

function placeText({ place }: Finding | Refusal): string {
  if (!place) return '';
  const line = place.line === undefined ? '' : `:${place.line}${place.column === undefined ? '' : `:${place.column}`}`;
  const time =
    place.from === undefined
      ? ''
      : ` at ${place.from.toFixed(2)}${place.to === undefined || place.to === place.from ? '' : `–${place.to.toFixed(2)}`} s`;
  const where = [place.file === undefined ? '' : `${place.file}${line}`, place.channel ?? '']
    .filter((part) => part !== '')
    .join(', ');
  const text = `${where}${time}`.trim();
  return text === '' ? '' : ` [${text}]`;
}
