import { MEANINGS, type Meaning } from '../meanings.ts';
import type { Candidate } from './candidates.ts';

/** Where a file seems to come from: what a bare `speed` or `temp` means depends on it. */
export type Origin = 'roller' | 'engine' | 'both' | 'unknown';

/** Name score from which a column counts as evidence for where the file comes from. @source our default */
const EVIDENCE = 0.8;
const ROLLER_AIR: ReadonlySet<Meaning> = new Set<Meaning>(['relative-humidity', 'barometric-pressure']);
const NEUTRAL: ReadonlySet<Meaning> = new Set<Meaning>(['distance', 'stated-torque']);
const ENGINE_SUBJECTS: ReadonlySet<string> = new Set(['charge-air', 'fuel', 'spark', 'knock']);

/** Reads from the clearly named columns whether a roller or an engine control wrote the file. */
export function fileOrigin(columns: readonly (readonly Candidate[])[]): Origin {
  const sure = columns.flatMap(([first]) =>
    first && (first.score >= EVIDENCE || isForce(first)) ? [first.meaning] : [],
  );
  const rolls = sure.filter((meaning) => MEANINGS[meaning].subject === 'rolls' && !NEUTRAL.has(meaning)).length;
  const air = sure.filter((meaning) => ROLLER_AIR.has(meaning)).length;
  const engine = sure.filter(
    (meaning) => ENGINE_SUBJECTS.has(MEANINGS[meaning].subject) || meaning === 'throttle' || meaning === 'pedal',
  ).length;
  if (rolls > 0 && engine > 1) return 'both';
  if (rolls > 0 || (air > 1 && engine === 0)) return 'roller';
  return engine > 0 ? 'engine' : 'unknown';
}

/** Names that a bare word leaves open are settled, or opened further, by where the file comes from. */
export function inSurroundings(candidates: readonly Candidate[], origin: Origin): readonly Candidate[] {
  const [first] = candidates;
  if (!first) return candidates;
  const bareSpeed = first.meaning === 'vehicle-speed' && first.words.join() === 'speed';
  const bareTemperature = first.meaning === 'ambient-temperature' && /^(air,)?temperature$/.test(first.words.join());
  if (bareSpeed && origin === 'roller') return settled(candidates, 'roll-speed', 0.92);
  if (bareSpeed && origin === 'both') return settled(candidates, 'roll-speed', 0.55);
  const barePressure =
    MEANINGS[first.meaning].kind.endsWith('pressure') && /^(air,)?pressure$/.test(first.words.join());
  if (barePressure && origin === 'roller') return settled(candidates, 'barometric-pressure', 0.85);
  if (bareTemperature && origin === 'roller') return settled(candidates, 'ambient-temperature', 0.85);
  return candidates;
}

function settled(candidates: readonly Candidate[], meaning: Meaning, share: number): readonly Candidate[] {
  return candidates
    .map((candidate) => {
      if (candidate.meaning === meaning) return { ...candidate, score: share };
      return { ...candidate, score: Math.min(candidate.score, 1 - share) };
    })
    .toSorted((a, b) => b.score - a.score);
}

function isForce({ meaning, words }: Candidate): boolean {
  return (meaning === 'brake-force' || meaning === 'tractive-force') && words.includes('force');
}
