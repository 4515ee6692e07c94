import type { Proposal } from '../mapping.ts';
import type { Meaning } from '../meanings.ts';
import { inSi } from './assess.ts';
import type { Assessed } from './assessed.ts';
import type { Hypothesis } from './hypotheses.ts';
import { engineSpeedWorking, type Known, statedPower, type Working } from './worked.ts';

interface Placed {
  readonly columns: readonly Assessed[];
  readonly index: number;
  readonly known: Known;
}

/** Holds a column against the ones it may have been computed from. */
export function withWorking(proposal: Proposal, { columns, index, known }: Placed): Proposal {
  const [hypothesis] = columns[index].hypotheses;
  if (!hypothesis) return proposal;
  const samples = inSi(columns[index].column, bestOf(columns[index]));
  if (proposal.meaning === 'stated-power') return worked(proposal, statedPower(samples, known));
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

function worked(proposal: Proposal, working: Working | undefined): Proposal {
  if (!working) return proposal;
  const kept = proposal.origin === 'corrected' && working.origin === 'derived';
  return { ...proposal, origin: kept ? 'corrected' : working.origin, reason: `${proposal.reason}; ${working.reason}` };
}

/** Columns that others may have been computed from, in SI. */
export function knownOf(columns: readonly Assessed[], proposals: readonly Proposal[]): Known {
  const samplesOf = (...meanings: readonly Meaning[]) => {
    const index = proposals.findIndex(
      ({ meaning }, i) => meanings.includes(meaning) && columns[i].hypotheses.length > 0,
    );
    return index < 0 ? undefined : inSi(columns[index].column, bestOf(columns[index]));
  };
  const roll = samplesOf('roll-speed');
  return {
    time: samplesOf('time'),
    speed: roll ?? samplesOf('vehicle-speed'),
    speedKind: roll ? 'roll-speed' : 'vehicle-speed',
    force: samplesOf('tractive-force', 'brake-force'),
  };
}

function bestOf({ hypotheses }: Assessed): Hypothesis {
  return hypotheses.reduce((best, each) => (each.weight > best.weight ? each : best));
}
