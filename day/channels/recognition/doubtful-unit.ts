import type { Alternative, Proposal } from '../mapping.ts';
import type { Meaning } from '../meanings.ts';

/** Share by which a ratio may miss the ratio of two units. Corrections as large as these ratios are not made. @source our default */
const NEAR = 0.006;
/** What stays of the confidence in a unit that a law contradicts. @source our default */
const DOUBTED = 0.5;

/**
 * Units that are taken for one another, as [written, meant, what the stated power then is to the recomputed one].
 * @source NIST SP 811 (2008) appendix B; hp and PS for each other are only 1.4 % apart, as corrections are, and are left out
 */
const MISTAKEN: readonly (readonly [meanings: readonly Meaning[], written: string, meant: string, ratio: number])[] = [
  [['roll-speed', 'vehicle-speed'], 'km/h', 'mph', 1.609344],
  [['roll-speed', 'vehicle-speed'], 'mph', 'km/h', 1 / 1.609344],
  [['roll-speed', 'vehicle-speed'], 'km/h', 'm/s', 3.6],
  [['roll-speed', 'vehicle-speed'], 'm/s', 'km/h', 1 / 3.6],
  [['roll-speed', 'vehicle-speed'], 'mph', 'm/s', 1 / 0.44704],
  [['roll-speed', 'vehicle-speed'], 'm/s', 'mph', 0.44704],
  [['brake-force', 'tractive-force'], 'N', 'lbf', 4.448222],
  [['brake-force', 'tractive-force'], 'lbf', 'N', 1 / 4.448222],
  [['brake-force', 'tractive-force'], 'N', 'kgf', 9.80665],
  [['brake-force', 'tractive-force'], 'kgf', 'N', 1 / 9.80665],
  [['brake-force', 'tractive-force'], 'N', 'daN', 10],
  [['brake-force', 'tractive-force'], 'daN', 'N', 0.1],
  [['brake-force', 'tractive-force'], 'kgf', 'lbf', 0.4535924],
  [['brake-force', 'tractive-force'], 'lbf', 'kgf', 1 / 0.4535924],
  [['stated-power'], 'kW', 'hp', 1 / 0.7456999],
  [['stated-power'], 'kW', 'PS', 1 / 0.7354988],
  [['stated-power'], 'hp', 'kW', 0.7456999],
  [['stated-power'], 'PS', 'kW', 0.7354988],
];

/**
 * Asks for the unit of the column whose mistaken unit would explain that a stated power is a constant multiple of the recomputed one.
 *
 * @param factor stated power over force × speed, constant throughout
 */
export function doubtedUnits(proposals: readonly Proposal[], factor: number): readonly Proposal[] {
  const power = proposals.find(({ meaning }) => meaning === 'stated-power');
  if (!power) return proposals;
  const found = MISTAKEN.filter(
    ([meanings, written, , ratio]) =>
      Math.abs(factor / ratio - 1) < NEAR &&
      proposals.some(({ meaning, unit }) => meanings.includes(meaning) && unit === written),
  );
  return proposals.map((proposal) => {
    if (found.length > 0 && proposal === power && !found.some(([meanings]) => meanings.includes('stated-power')))
      return {
        ...proposal,
        reason: `${proposal.reason}; ${factor.toFixed(3)} times force × speed, the ratio of two units`,
      };
    const mistaken = found.filter(
      ([meanings, written]) => meanings.includes(proposal.meaning) && proposal.unit === written,
    );
    return mistaken.length === 0
      ? proposal
      : doubted(proposal, { factor, units: mistaken.map(([, , meant]) => meant), power });
  });
}

interface Doubt {
  readonly factor: number;
  readonly units: readonly string[];
  readonly power: Proposal;
}

function doubted(proposal: Proposal, { factor, units, power }: Doubt): Proposal {
  const confidence = Math.round(1000 * DOUBTED * proposal.confidence) / 1000;
  const fits = `then "${power.column}" is force × speed`;
  const offers: readonly Alternative[] = units.map((unit) => ({
    meaning: proposal.meaning,
    unit,
    confidence,
    reason: fits,
  }));
  const asked = `"${power.column}" is ${factor.toFixed(3)} times force × speed, as it would be if "${proposal.column}" were in ${units.join(' or ')} and not in ${proposal.unit}: which unit is it?`;
  return {
    ...proposal,
    confidence,
    reason: `${proposal.reason}; ${asked.slice(0, asked.lastIndexOf(':'))}`,
    alternatives: [...offers, ...proposal.alternatives.filter(({ unit }) => !units.includes(unit))],
    question: proposal.question ?? asked,
  };
}
