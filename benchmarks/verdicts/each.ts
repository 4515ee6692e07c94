import { allFaults } from '../../scenarios/index.ts';
import type { Job } from './jobs.ts';

/** Strengths at which every fault is asked for: the trade's threshold and twice that. */
const ASKED = [1, 2] as const;
/** How much is logged, in turn. */
const LEVELS = ['rich', 'medium'] as const;

/**
 * Days on which every fault is put in as often as any other, each on another engine: drawn days hold what engines pass by themselves – injectors and turbochargers at
 * their ends – far more often than what somebody put in.
 */
export function eachJobs(first: number, last: number): readonly Job[] {
  const asked = ASKED.flatMap((strength) => allFaults().map((fault) => ({ fault, strength })));
  return Array.from({ length: last - first + 1 }, (_, k) => ({
    seed: first + k,
    ...asked[k % asked.length],
    level: LEVELS[Math.floor(k / asked.length) % LEVELS.length],
  }));
}
