import type { Finding, Refusal } from '../../core/quantities/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import type { DayFile } from '../store/index.ts';

/** True for a file that belongs to the parts and to no entry: not a log of this day. */
export function isPartFile({ parts, entries }: DayFacts, name: string): boolean {
  return parts?.compressorMap === name && !entries.some(({ files }) => files.includes(name));
}

/** Logs that an entry names and the day does not have. */
export function notThere({
  facts,
  files,
}: {
  readonly facts: DayFacts;
  readonly files: readonly Pick<DayFile, 'name'>[];
}): readonly (readonly [string, Refusal])[] {
  const there = new Set(files.map(({ name }) => name));
  return facts.entries.flatMap(({ files: named }) =>
    named.filter((name) => !there.has(name)).map((name) => [name, MISSING] as const),
  );
}

const MISSING: Refusal = {
  kind: 'missing-file',
  message: 'missing file: there is no such log inside the day’s folder',
};

/** The finding about a log of the day that gave no recording. */
export function notRead(file: string, refusal: Refusal): Finding {
  return {
    kind: refusal === MISSING ? 'log-not-there' : 'log-not-read',
    weight: 'fault',
    message: `${file} could not be read: ${refusal.message}`,
    place: { ...refusal.place, file },
    ...(refusal.numbers ? { numbers: refusal.numbers } : {}),
  };
}
