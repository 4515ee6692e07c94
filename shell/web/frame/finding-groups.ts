import type { FindingLine } from '../../contract/index.ts';

/** Findings that say the same of several places: the first of them, and the others. */
export interface FindingGroup {
  readonly first: FindingLine;
  readonly others: readonly FindingLine[];
}

/** From this many on, findings of one kind stand together. */
const LEAST = 3;

/** Findings of one kind and weight stand together where the first of them came; one or two of a kind stay alone. */
export function groupedByKind(findings: readonly FindingLine[]): readonly FindingGroup[] {
  const groups = new Map<string, FindingLine[]>();
  for (const finding of findings) {
    const name = `${finding.weight} ${finding.kind}`;
    groups.set(name, [...(groups.get(name) ?? []), finding]);
  }
  return [...groups.values()].flatMap((members) => {
    const [first, ...others] = members;
    if (first && members.length >= LEAST) return [{ first, others }];
    return members.map((finding) => ({ first: finding, others: [] }));
  });
}

const MOST_PLACES = 8;

/** Channels or files of findings, each once, the first few by name. */
export function placesOf(findings: readonly FindingLine[]): string {
  const names = [...new Set(findings.map(({ place }) => place?.channel ?? place?.file ?? ''))].filter(
    (name) => name !== '',
  );
  const shown = names.slice(0, MOST_PLACES).join(', ');
  return names.length > MOST_PLACES ? `${shown} …` : shown;
}
