import type { Finding } from '../../../core/quantities/index.ts';
import type { EntryResult, PullResult } from '../../../day/pulls/index.ts';
import type { EntryReport } from '../../../day/reports/index.ts';
import type { Standing } from '../../contract/index.ts';

/**
 * How an entry stands, for the fill of its mark. A whole entry stands as its best pull does: one clean pull among three is worth going to.
 * Columns that wait for a person count only while there is no result without them.
 */
export function standingOf({ facts, result, questions }: EntryReport): Standing {
  if (facts.kind === 'change' || facts.kind === 'note') return 'none';
  const waits = questions.some(({ proposals }) => proposals.length > 0);
  const answers =
    result !== undefined && result.refusal === undefined && result.pulls.length + result.losses.length > 0;
  if (!answers) return waits ? 'waiting' : facts.files.length === 0 ? 'none' : 'refused';
  if (facts.kind === 'coast-down') return result.losses.length > 0 ? weighed(allFindings(result)) : 'refused';
  if (result.pulls.length === 0) return 'refused';
  return result.pulls
    .map((pull) => pullStanding(pull, result))
    .reduce((one, other) => (RANK[other] > RANK[one] ? other : one));
}

/** How one pull stands: refused, void, usable in windows, doubtful, valid. What was found about its whole entry counts too. */
export function pullStanding(
  pull: PullResult,
  { findings, conditions }: Pick<EntryResult, 'findings' | 'conditions'>,
): Standing {
  const own = ownStanding(pull);
  const common = weighed([...findings, ...conditions.findings]);
  return RANK[common] < RANK[own] ? common : own;
}

function ownStanding(pull: PullResult): Standing {
  if (pull.refusal) return 'refused';
  const { valid } = pull.curve;
  const usable = valid.reduce((sum, flag) => sum + flag, 0);
  if (usable === 0) return 'void';
  if (usable < valid.length) return 'windows';
  return weighed(pull.findings);
}

/** A fault that has a window spoils that window; a fault or a doubt about the whole makes the whole doubtful. */
function weighed(findings: readonly Finding[]): Standing {
  if (findings.some(({ weight, place }) => weight === 'fault' && place?.from !== undefined)) return 'windows';
  return findings.some(({ weight }) => weight !== 'note') ? 'doubtful' : 'valid';
}

function allFindings(result: NonNullable<EntryReport['result']>): readonly Finding[] {
  return [...result.findings, ...result.losses.flatMap(({ findings }) => findings)];
}

const RANK: Readonly<Record<Standing, number>> = {
  none: 0,
  waiting: 1,
  refused: 2,
  void: 3,
  windows: 4,
  doubtful: 5,
  valid: 6,
};
