import type { Proposal } from '../mapping.ts';
import type { Meaning } from '../meanings.ts';
import type { Assessed } from './assessed.ts';
import { doubtedUnits } from './doubtful-unit.ts';
import { inSi, likeliest, likeliestInSi } from './in-si.ts';
import { statedPower } from './stated-power.ts';
import { engineSpeedWorking, type Known, type Working } from './worked.ts';

interface Placed {
  readonly columns: readonly Assessed[];
  readonly index: number;
  readonly known: Known;
}

/** Holds a column against the ones it may have been computed from. */
export function withWorking(proposal: Proposal, { columns, index, known }: Placed): Proposal {
  const [hypothesis] = columns[index].hypotheses;
  if (!hypothesis) return proposal;
  const samples = inSi(columns[index].column, likeliest(columns[index].hypotheses));
  if (proposal.meaning === 'stated-power') {
    const working = statedPower(samples, known);
    return worked(proposal, proposal.question === undefined ? working : provided(working, proposal.unit));
  }
  if (proposal.meaning === 'engine-speed' && known.speed && known.speedKind === 'roll-speed') {
    return worked(proposal, engineSpeedWorking(samples, known.speed));
  }
  if (
    (proposal.meaning === 'wheel-speed' || proposal.meaning === 'vehicle-speed') &&
    known.speedKind === 'roll-speed' &&
    known.speed
  ) {
    const copy = engineSpeedWorking(samples, known.speed);
    return copy
      ? worked(proposal, { origin: 'derived', reason: 'roll speed times a constant: a copy, it cannot show slip' })
      : proposal;
  }
  return proposal;
}

/**
 * Proposals with a question where a stated power speaks against a written unit. Those for which nothing was found are the same objects.
 */
export function withDoubtedUnits(columns: readonly Assessed[], proposals: readonly Proposal[]): readonly Proposal[] {
  const index = proposals.findIndex(({ meaning }) => meaning === 'stated-power');
  const power = index < 0 || proposals[index].question !== undefined ? undefined : likeliestInSi(columns[index]);
  if (!power) return proposals;
  const { factor } = statedPower(power, knownOf(columns, proposals));
  return factor === undefined ? proposals : doubtedUnits(proposals, factor);
}

/** What holds only when the likeliest unit is the right one. */
function provided(working: Working, unit: string): Working {
  return working.factor === undefined ? working : { ...working, reason: `if it is in ${unit}: ${working.reason}` };
}

function worked(proposal: Proposal, working: Working | undefined): Proposal {
  if (!working) return proposal;
  const kept = proposal.origin === 'corrected' && working.origin === 'derived';
  return { ...proposal, origin: kept ? 'corrected' : working.origin, reason: `${proposal.reason}; ${working.reason}` };
}

/** Columns that others may have been computed from, in SI; a force only where no unit of force × speed is in doubt. */
export function knownOf(columns: readonly Assessed[], proposals: readonly Proposal[]): Known {
  const indexOf = (...meanings: readonly Meaning[]) =>
    proposals.findIndex(({ meaning }, i) => meanings.includes(meaning) && columns[i].hypotheses.length > 0);
  const samplesAt = (index: number) =>
    index < 0 ? undefined : inSi(columns[index].column, likeliest(columns[index].hypotheses));
  const roll = indexOf('roll-speed');
  const speed = roll < 0 ? indexOf('vehicle-speed') : roll;
  const force = indexOf('tractive-force', 'brake-force');
  const sure = [speed, force].every((index) => index >= 0 && knowsUnit(columns[index], proposals[index]));
  return {
    time: samplesAt(indexOf('time')),
    speed: samplesAt(speed),
    speedKind: roll < 0 ? 'vehicle-speed' : 'roll-speed',
    force: sure ? samplesAt(force) : undefined,
  };
}

/** A column that is asked may still have its unit written: brake force or whole force, N either way. */
function knowsUnit({ stated }: Assessed, { question }: Proposal): boolean {
  return question === undefined || stated === 'agrees';
}
