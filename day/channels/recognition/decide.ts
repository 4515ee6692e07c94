import type { Finding } from '../../../core/quantities/index.ts';
import type { ColumnMapping, Mapping, Proposal } from '../mapping.ts';
import type { Table } from '../table.ts';

/** What is used, and what a person still has to answer. */
export interface Decision {
  readonly mapping: readonly ColumnMapping[];
  readonly open: readonly Proposal[];
  readonly findings: readonly Finding[];
}

/** Proposal confidence from which a disagreement with a remembered mapping is worth a word. @source our default */
const DISAGREES = 0.75;
/** A remembered unit with less than this share of the best unit's confidence is contradicted. @source our default */
const NEXT_TO_NOTHING = 0.15;

/**
 * Joins proposals with what a person decided before for this column set. The remembered answer wins; where the numbers now speak
 * clearly for another unit or meaning, that is a finding. A proposal with a question stays open and its column is kept unnamed.
 */
export function decide(proposals: readonly Proposal[], mapping?: Mapping): Decision {
  const remembered = new Map(mapping?.columns.map((column) => [column.column, column]));
  const used: ColumnMapping[] = [];
  const open: Proposal[] = [];
  const findings: Finding[] = [];
  for (const proposal of proposals) {
    const known = remembered.get(proposal.column);
    if (known) {
      used.push(known);
      const finding = disagreement(proposal, known);
      if (finding) findings.push(finding);
    } else if (proposal.question !== undefined) {
      open.push(proposal);
      used.push({ column: proposal.column, meaning: 'unknown', unit: '1', confirmed: false });
    } else used.push(asMapping(proposal));
  }
  return { mapping: used, open, findings };
}

/** Names and units of all columns in order, one per line: equal text is the same column set. Hashing is done by the shell. */
export function columnSetText(table: Table): string {
  return table.columns.map(({ name, unit }) => `${name}\t${unit}`).join('\n');
}

function asMapping(proposal: Proposal): ColumnMapping {
  const { column, meaning, position, unit, divisor, zero, origin } = proposal;
  return {
    ...{ column, meaning, unit, origin, confirmed: false },
    ...(position === undefined ? {} : { position }),
    ...(divisor === undefined ? {} : { divisor }),
    ...(zero === undefined ? {} : { zero }),
  };
}

function disagreement(proposal: Proposal, known: ColumnMapping): Finding | undefined {
  if (known.meaning === 'unknown' || !speaksAgainst(proposal, known)) return undefined;
  return {
    kind: 'mapping-disagrees',
    weight: 'doubt',
    message: `"${proposal.column}" is remembered as ${known.meaning} in ${known.unit}, but this file speaks for ${proposal.meaning} in ${proposal.unit}: ${proposal.reason}`,
    place: { channel: proposal.column },
    numbers: { confidence: proposal.confidence, remembered: known.unit, proposed: proposal.unit },
    rule: 'a remembered mapping wins (our default)',
  };
}

/** Another meaning, clearly; or the same meaning whose remembered unit the numbers leave next to nothing. */
function speaksAgainst(proposal: Proposal, known: ColumnMapping): boolean {
  const offers = [proposal, ...proposal.alternatives].filter(({ meaning }) => meaning === known.meaning);
  if (offers.length === 0) return proposal.question === undefined && proposal.confidence >= DISAGREES;
  const share = offers.find(({ unit }) => unit === known.unit)?.confidence ?? 0;
  const best = Math.max(...offers.map(({ confidence }) => confidence));
  return share < NEXT_TO_NOTHING * best;
}
