import {
  allFaults,
  drawVirtual,
  type MadeDay,
  makeVirtualDay,
  STRENGTHS,
  type VirtualFault,
} from '../../scenarios/index.ts';
import { DEVELOPMENT } from './sets.ts';

/** One invented day to be made: as drawn from its seed, or with a fault that is asked for. */
export interface Job {
  readonly seed: number;
  readonly fault?: VirtualFault;
  readonly strength?: number;
  /** How much is logged; drawn when absent. */
  readonly level?: 'rich' | 'medium';
}

/** Seeds of the engines on which faults are asked for. */
const ASKED = { first: 301, last: 700 } as const;

/** Name of the day of a job. */
export function nameOf({ seed, fault, strength, level }: Job): string {
  return fault === undefined ? `${seed}` : `${seed}+${fault}@${strength} ${level ?? 'drawn'}`;
}

/** Days as they are drawn, one for each seed. */
export function drawnJobs(first: number, last: number): readonly Job[] {
  return Array.from({ length: last - first + 1 }, (_, k) => ({ seed: first + k }));
}

/** Days to learn from: the drawn ones of the development seeds, and every fault at every strength on further engines of the same seeds. */
export function developmentJobs(rounds: number): readonly Job[] {
  return [...drawnJobs(DEVELOPMENT.first, DEVELOPMENT.last), ...askedJobs(rounds)];
}

/** What a round logs: where a channel is missing there is nothing to learn about its detector. */
const LEVELS = ['rich', 'medium'] as const;

/** Every fault at every strength, `rounds` times, each on another engine. */
export function askedJobs(rounds: number): readonly Job[] {
  const faults: readonly VirtualFault[] = allFaults();
  const span = ASKED.last - ASKED.first + 1;
  return Array.from({ length: rounds }, (_, round) =>
    STRENGTHS.flatMap((strength, s) =>
      faults.map((fault, f) => {
        const place = (round * STRENGTHS.length + s) * faults.length + f;
        return {
          seed: ASKED.first + ((place * 7) % span),
          fault,
          strength,
          level: LEVELS[round % LEVELS.length],
        };
      }),
    ),
  ).flat();
}

/** The day of a job. */
export function madeDay({ seed, fault, strength, level }: Job): MadeDay {
  if (fault === undefined) return makeVirtualDay(drawVirtual(seed));
  const logged = level === undefined ? {} : { level };
  return makeVirtualDay({ seed, fault, strength: strength ?? 1, pulls: 4, ...logged });
}
