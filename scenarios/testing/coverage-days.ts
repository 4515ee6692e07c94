import { type MadeDay, makePlateauDay, makeSimpleDay } from '../index.ts';
import { type Claim, claimsOf } from './coverage.ts';
import { readDay } from './read-day.ts';

/** The two kinds of day that coverage is counted on, each with the errors of instruments and stated facts drawn anew. */
export type CoverageKind = 'plateau' | 'simple';

/** Pulls of the demonstration day between its coast-downs 2 and 3. */
const PULLS = ['2', '5', '6', '7', '8', '9'];
const ROLLERS = ['brake', 'inertia', 'combined'] as const;

/** One invented day with drawn instruments, no faults: one pull between two coast-downs. */
export function coverageDay(kind: CoverageKind, seed: number): MadeDay {
  if (kind === 'simple') {
    return makeSimpleDay({ seed, roller: ROLLERS[seed % 3] ?? 'brake', pulls: 1, instruments: 'drawn' });
  }
  const pull = PULLS[seed % PULLS.length] ?? '2';
  return makePlateauDay({ seed, pulls: ['C2', pull, 'C3'], instruments: 'drawn', faults: false });
}

/** Every claim of days `from` to `to` (exclusive). */
export function coverageClaims(kind: CoverageKind, { from, to }: { from: number; to: number }): Claim[] {
  const claims: Claim[] = [];
  for (let seed = from; seed < to; seed++) {
    const day = coverageDay(kind, seed);
    claims.push(...claimsOf(day, readDay(day), kind));
  }
  return claims;
}
