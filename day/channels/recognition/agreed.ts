import type { Proposal } from '../mapping.ts';

/** Proposals of one file among others that have the same columns. */
export interface FileProposals {
  readonly file: string;
  readonly proposals: readonly Proposal[];
}

/**
 * One answer per column for files with the same set of columns: the same device wrote them, so what is clear in one file holds in all.
 * The surest proposal without a question wins; without one the surest. As long as the columns; the order of the files does not count.
 */
export function agreedProposals(files: readonly FileProposals[]): readonly Proposal[] {
  const [first] = files;
  if (!first) return [];
  return first.proposals.map((_, index) => {
    const all = files.flatMap(({ file, proposals }) =>
      proposals[index] ? [{ file, proposal: proposals[index] }] : [],
    );
    const [best] = all.toSorted((a, b) => rank(b.proposal) - rank(a.proposal) || a.file.localeCompare(b.file, 'en'));
    const alone = all.length === 1 || all.every(({ proposal }) => same(proposal, best.proposal));
    return alone ? best.proposal : { ...best.proposal, reason: `${best.proposal.reason}; as seen in ${best.file}` };
  });
}

/** A clear answer before any question, text and empty columns last. */
function rank({ question, confidence, meaning }: Proposal): number {
  return (question === undefined && meaning !== 'unknown' && meaning !== 'text' ? 1 : 0) + confidence;
}

function same(a: Proposal, b: Proposal): boolean {
  return a.meaning === b.meaning && a.unit === b.unit && a.origin === b.origin;
}
