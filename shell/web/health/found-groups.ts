import type { HealthFindingView } from '../../contract/index.ts';

/** So many repeats stand in the open; more are folded away, so that holds and ends stand out. @source our default */
const MOST_REPEATS = 2;

/** What was found about health, by what it asks for. open: always in sight. folded: repeats, where they are many. notes: asks for nothing. */
export interface FoundGroups {
  readonly open: readonly HealthFindingView[];
  readonly folded: readonly HealthFindingView[];
  readonly notes: readonly HealthFindingView[];
}

/** The findings in their groups, each in the order in which it came. */
export function foundGroups(findings: readonly HealthFindingView[]): FoundGroups {
  const of = (asks: (stopClass: number) => boolean) => findings.filter(({ stop }) => asks(stop.class));
  const repeats = of((stopClass) => stopClass === 1);
  const many = repeats.length > MOST_REPEATS;
  return {
    open: many ? of((stopClass) => stopClass > 1) : of((stopClass) => stopClass > 0),
    folded: many ? repeats : [],
    notes: of((stopClass) => stopClass === 0),
  };
}

/** `power shortfall in 15, 17; oil too hot in 15`: what was found, each with its entries. */
export function foundInWords(findings: readonly HealthFindingView[]): string {
  const titles = [...new Set(findings.map(({ title }) => title))];
  return titles
    .map((title) => {
      const entries = findings.filter((finding) => finding.title === title).map(({ entry }) => entry);
      return `${title} in ${[...new Set(entries)].join(', ')}`;
    })
    .join('; ');
}
