import type { Limit } from '../../../day/plans/index.ts';
import type { UnknownFact } from '../../contract/index.ts';
import { FACT_TABLE } from '../forms/fact-table.ts';
import { PART_ROWS } from '../forms/part-table.ts';
import { inWords } from './limit-words.ts';

/** Where a person can state a value: its path in the facts; undefined where the form has no field for it. */
export function factOf(name: string): string | undefined {
  return PATHS.get(name);
}

/** Values that are called otherwise than their field. */
const OTHERWISE: readonly (readonly [string, string])[] = [
  ['ambientPressure', 'ambient.pressure'],
  ['ambientTemperature', 'ambient.temperature'],
];

const PATHS: ReadonlyMap<string, string> = new Map([
  ...[...FACT_TABLE, ...PART_ROWS].map(({ path }) => [path.slice(path.lastIndexOf('.') + 1), path] as const),
  ...OTHERWISE,
]);

/** What nobody stated and what would sharpen a limit: what is missing altogether first. */
export function unknownFacts({ missing, assumed }: Pick<Limit, 'missing' | 'assumed'>): UnknownFact[] {
  return [...new Set([...missing, ...assumed])].map((name) => {
    const fact = factOf(name);
    return { name, title: inWords(name), ...(fact !== undefined && { fact }) };
  });
}
