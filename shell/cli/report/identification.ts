import type { DayFacts } from '../../../day/pulls/index.ts';
import { factsDigest, sha256 } from '../../store/index.ts';

/** What a report is called: the same facts, logs and method give the same name, any change another one. */
export function reportIdentification(
  facts: DayFacts,
  files: readonly { readonly name: string; readonly hash: string }[],
  method: string,
): string {
  const parts = JSON.stringify([method, factsDigest(facts), files.map(({ name, hash }) => [name, hash])]);
  return `K-${sha256(new TextEncoder().encode(parts)).slice(0, 16)}`;
}
