import type { CoverageRowView, CoverageView, Reach } from '../../contract/index.ts';

export const REACH_WORDS: Readonly<Record<Reach, string>> = {
  full: 'would show',
  weak: 'would show weakly',
  blind: 'would not show',
};
export const REACH_SIGNS: Readonly<Record<Reach, string>> = { full: '●', weak: '◐', blind: '○' };

/** Two faults that these channels cannot tell apart, each pair once, in a sentence of its own; first one pair of every fault, then the rest. */
export function confusions(rows: readonly Pick<CoverageRowView, 'title' | 'unparted'>[]): readonly string[] {
  const told = new Set<string>();
  const most = Math.max(0, ...rows.map(({ unparted }) => unparted.length));
  return Array.from({ length: most }, (_, at) => at).flatMap((at) =>
    rows.flatMap(({ title, unparted }) => {
      const other = unparted[at];
      if (!other) return [];
      const pair = [title, other.title].sort().join(' | ');
      if (told.has(pair)) return [];
      told.add(pair);
      const add = other.add.length > 0 ? `: ${other.add.join(' or ')} would tell` : '';
      return [`${title} – or ${other.title}${add}`];
    }),
  );
}

/** How many faults are seen, seen weakly, and not seen at all. */
export function reaches(rows: readonly Pick<CoverageRowView, 'reach'>[]): Readonly<Record<Reach, number>> {
  const count = (reach: Reach) => rows.filter((row) => row.reach === reach).length;
  return { full: count('full'), weak: count('weak'), blind: count('blind') };
}

/** Channels that are not ticked, by how many blind faults each would open by itself, the best first. */
export function bestAdditions(
  rows: readonly CoverageRowView[],
): readonly { channel: string; opens: readonly string[] }[] {
  const opens = new Map<string, string[]>();
  for (const { title, reach, lacking } of rows) {
    if (reach !== 'blind') continue;
    for (const { channel, adds } of lacking) {
      if (adds === 'an answer') opens.set(channel, [...(opens.get(channel) ?? []), title]);
    }
  }
  return [...opens]
    .map(([channel, titles]) => ({ channel, opens: titles }))
    .sort((one, other) => other.opens.length - one.opens.length);
}

/** The ticked channels with one turned, as the address bar writes them. */
export function turned(channels: CoverageView['channels'], meaning: string): string {
  return channels
    .filter((one) => (one.meaning === meaning ? !one.ticked : one.ticked))
    .map((one) => one.meaning)
    .join(',');
}
