import type { Candidate } from './candidates.ts';
import type { Concept } from './concepts.ts';

/** Words that make a wheel's speed one of several, so that it cannot be the roll's. */
const ONE_OF_SEVERAL: readonly Concept[] = ['left', 'right', 'front', 'rear', 'driven', 'undriven'];
/** Confidence shared between the two readings. @source our default */
const OWN = 0.55;
const ROLL = 0.5;

/**
 * The only speed beside a force at the roll surface is likely the roll's, whatever it is called: `wheel speed` beside `wheel force`.
 * A wheel or vehicle speed in such a file also gets the reading of roll speed, so that it is asked.
 */
export function besideForce(
  candidates: readonly Candidate[],
  named: readonly (readonly Candidate[])[],
): readonly Candidate[] {
  const [first] = candidates;
  if (!first || (first.meaning !== 'wheel-speed' && first.meaning !== 'vehicle-speed')) return candidates;
  if (first.reading.concepts.some((concept) => ONE_OF_SEVERAL.includes(concept))) return candidates;
  const firsts = named.flatMap(([one]) => (one ? [one] : []));
  const force = firsts.some(({ meaning }) => meaning === 'brake-force' || meaning === 'tractive-force');
  const speeds = firsts.filter(({ meaning }) => /^(roll|wheel|vehicle)-(speed|rotation)$/.test(meaning));
  if (!force || speeds.length > 1) return candidates;
  const others = candidates.filter(({ meaning }) => meaning !== first.meaning && meaning !== 'roll-speed');
  return [
    { ...first, score: OWN },
    { ...first, meaning: 'roll-speed', score: ROLL },
    ...others.map((one) => ({ ...one, score: Math.min(one.score, 1 - OWN - ROLL / 2) })),
  ];
}
