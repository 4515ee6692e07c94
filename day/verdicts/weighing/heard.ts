import type { Candidate } from './candidate.ts';
import { areTwins } from './look-alikes.ts';

/**
 * A detector measures; tables learnt from a few invented cases of each fault must not talk its word down to nothing, nor put a cause in front
 * whose own detector looked and saw nothing. all: least sum of the seen causes, over the chance that not all of them saw amiss, 1 − Π(1 − strength) [1]; unseen, blind: most that a
 * cause may have of the best seen one when its detector saw nothing, or could not tell [1]; a twin that only its missing channel hides may have as much.
 *
 * @source our default
 */
export const HEARD = { all: 0.7, unseen: 0.25, blind: 0.7 } as const;

/**
 * Probabilities in which what was seen is heard: as long as the candidates, of which the first leads. They add up to 1 at most.
 *
 * @param told from the tables
 */
export function heard(candidates: readonly Candidate[], told: readonly number[]): readonly number[] {
  const [leader] = candidates;
  if (leader?.answer !== 'seen') return told;
  const missed = candidates.reduce((left, { answer, strength }) => left * (answer === 'seen' ? 1 - strength : 1), 1);
  const counts = candidates.map((one) => one.answer === 'seen' || isBlindTwin(leader, one));
  const least = HEARD.all * (1 - missed);
  const raised = raisedSeen(candidates, told, { counts, least });
  const best = Math.max(...raised.filter((_, i) => candidates[i].answer === 'seen'));
  const capped = raised.map((one, i) =>
    Math.min(one, best * (isBlindTwin(leader, candidates[i]) ? 1 : shareOf(candidates[i]))),
  );
  // What a blind twin may not have of it falls to those that were seen, and both stay in proportion.
  const left = capped.reduce((total, one, i) => total + (counts[i] ? one : 0), 0);
  const held = capped.map((one, i) => (counts[i] && left < least ? (one * least) / left : one));
  const sum = held.reduce((total, one) => total + one, 0);
  return sum > 1 ? held.map((one) => one / sum) : held;
}

/** Where nothing but its missing channel parts a cause from the leader, what the leader saw is heard for both. */
export function isBlindTwin(
  leader: Pick<Candidate, 'fault' | 'answer'>,
  { fault, answer, missing }: Pick<Candidate, 'fault' | 'answer' | 'missing'>,
): boolean {
  return leader.answer === 'seen' && answer === 'cannot tell' && missing?.length !== 0 && areTwins(leader.fault, fault);
}

/** The causes that count brought to a least sum, in the proportion that the tables give them, weighted by how strongly each was seen; a blind twin as strongly as the leader. */
function raisedSeen(
  candidates: readonly Candidate[],
  told: readonly number[],
  { counts, least }: { readonly counts: readonly boolean[]; readonly least: number },
): readonly number[] {
  const strengthAt = (i: number): number => candidates[candidates[i].answer === 'seen' ? i : 0].strength;
  const weights = told.map((one, i) => (counts[i] ? (one + 0.02) * strengthAt(i) : 0));
  const seen = told.reduce((sum, one, i) => sum + (counts[i] ? one : 0), 0);
  if (seen >= least) return told;
  const all = weights.reduce((sum, one) => sum + one, 0);
  return told.map((one, i) => (counts[i] ? (least * weights[i]) / all : one));
}

function shareOf({ answer }: Candidate): number {
  switch (answer) {
    case 'seen':
      return 1;
    case 'not seen':
      return HEARD.unseen;
    case 'cannot tell':
      return HEARD.blind;
  }
}
