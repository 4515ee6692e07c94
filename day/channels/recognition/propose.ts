import { unitOf } from '../../../core/quantities/index.ts';
import type { Channel } from '../channel.ts';
import type { Alternative, Proposal } from '../mapping.ts';
import { MEANINGS } from '../meanings.ts';
import type { Table } from '../table.ts';
import { knownOf, withDoubtedUnits, withWorking } from './against-others.ts';
import { assessed, type RecognitionContext } from './assess.ts';
import type { Assessed } from './assessed.ts';
import { BAR, CEILING, MARGIN } from './bar.ts';
import { OFFERED, offersOf } from './offers.ts';
import { positionOf } from './position.ts';
import { questionFor } from './questions.ts';
import { isStandardised } from './standardised.ts';
import { countsRows } from './time-column.ts';
import { twinsOf } from './twins.ts';

/**
 * What each column of a table is, in which unit, how sure that is and why; one proposal per column, in order.
 * A proposal with a `question` must be answered before its column is used: nothing ambiguous is guessed.
 *
 * @param table   as read, numbers as written
 * @param context what the day knows: barometer [Pa], altitude [m], stoichiometric ratio of the fuel
 */
export function proposeMapping(table: Table, context: RecognitionContext = {}): readonly Proposal[] {
  const { columns } = assessed(table, context);
  if (isStandardised(columns.map(({ shape }) => shape))) return columns.map(({ column }) => unitFree(column.name));
  const proposals = columns.map(proposalFor);
  const twins = twinsOf(table.columns);
  const known = knownOf(columns, proposals);
  const doubted = withDoubtedUnits(columns, proposals);
  const clocked = proposals.some(({ meaning, question }) => meaning === 'time' && question === undefined);
  return proposals.map((read, index) => {
    const proposal = clocked && read.meaning === 'row-counter' ? unasked(read) : read;
    const worked = doubted[index] === read ? withWorking(proposal, { columns, index, known }) : doubted[index];
    const first = twins.get(index);
    return first === undefined ? worked : asTwin(worked, proposals[first]);
  });
}

function proposalFor(each: Assessed): Proposal {
  const { column, candidates, shape } = each;
  if (column.writing === 'text') return unnamed(column.name, 'text', 'holds text, not numbers');
  if (column.writing === 'empty' || shape.count === 0)
    return named(each, unnamed(column.name, 'unknown', 'holds no values'));
  const [candidate] = candidates;
  if (!candidate) {
    const reason = each.spoiled ?? `the words of "${column.name}" make no quantity that is used here`;
    return unnamed(column.name, 'unknown', reason);
  }
  const offers = offersOf(each);
  const [best, ...others] = offers;
  const origin: Channel['origin'] = originOf(each);
  const position = positionOf(best.meaning, candidate.reading);
  const proposal: Proposal = {
    column: column.name,
    ...best,
    ...(position === undefined ? {} : { position }),
    origin,
    alternatives: [...(each.doubt === undefined ? [] : [turned(best)]), ...others].slice(0, OFFERED),
  };
  const question = asks(each, offers) ? questionFor(each, others) : undefined;
  const asked = [question, each.doubt].filter((text) => text !== undefined).join(' ');
  return asked === '' ? proposal : { ...proposal, question: asked };
}

/** The same with its sign turned round. */
function turned(offer: Alternative): Alternative {
  return { ...offer, divisor: -(offer.divisor ?? 1), reason: 'with its sign turned, it counts as positive' };
}

/** Counted rows need no rate where another column is the time. */
function unasked({ question: _, ...proposal }: Proposal): Proposal {
  return proposal;
}

function asks({ candidates, stated, shape, column }: Assessed, [best, second]: readonly Alternative[]): boolean {
  if (candidates[0].meaning === 'row-counter') return true;
  if (candidates[0].meaning === 'time' && countsRows(column, shape) && stated === 'none') return true;
  if (best.meaning === 'unknown' || best.meaning === 'text') return false;
  return best.confidence < BAR || (second !== undefined && best.confidence - second.confidence < MARGIN);
}

/** Stated power and torque are never measurements; words in the name tell the rest. */
function originOf({ candidates }: Assessed): Channel['origin'] {
  const [{ meaning, reading: name }] = candidates;
  const says = (concept: (typeof name.concepts)[number]) => name.concepts.includes(concept);
  if (says('corrected') || says('correction')) return 'corrected';
  if (says('smoothed')) return 'smoothed';
  if (meaning.endsWith('-target') || says('target')) return 'commanded';
  if (meaning === 'ignition-timing' || meaning === 'dwell' || meaning === 'injector-pulse') return 'commanded';
  if (meaning.endsWith('-duty') || meaning === 'brake-setting') return 'commanded';
  return says('derived') || meaning === 'stated-power' || meaning === 'stated-torque' ? 'derived' : 'measured';
}

function asTwin(proposal: Proposal, first: Proposal): Proposal {
  return { ...proposal, origin: 'derived', reason: `${proposal.reason}; holds the same numbers as "${first.column}"` };
}

/** A column that never had a value may still be named by its header. */
function named({ candidates }: Assessed, empty: Proposal): Proposal {
  const [first] = candidates;
  if (!first || first.score < BAR) return empty;
  const unit = first.reading.unit?.symbol;
  return {
    ...empty,
    reason: `${empty.reason}; by its name ${MEANINGS[first.meaning].title}${unit ? ` in ${unit}` : ''}`,
  };
}

function unnamed(column: string, meaning: 'unknown' | 'text', reason: string): Proposal {
  const confidence = meaning === 'text' ? CEILING : 0;
  return { column, meaning, unit: unitOf('1').symbol, origin: 'measured', confidence, reason, alternatives: [] };
}

function unitFree(column: string): Proposal {
  return unnamed(
    column,
    'unknown',
    'the columns of this file are standardised (mean about 0, deviation about 1): their units are lost, no physical statement is possible',
  );
}
