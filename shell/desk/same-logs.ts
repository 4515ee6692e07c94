import type { Finding } from '../../core/quantities/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import type { DayFile } from '../store/index.ts';

interface Use {
  readonly entry: string;
  readonly kind: string;
  readonly file: string;
}

/**
 * Logs that stand under two entries, to the last byte: what they made would be counted twice. One file under entries of different
 * kinds is not meant: a pull and the coast-down behind it may be in one log.
 */
export function sameLogs({
  facts,
  files,
}: {
  readonly facts: DayFacts;
  readonly files: readonly Pick<DayFile, 'name' | 'hash'>[];
}): readonly Finding[] {
  const hashes = new Map(files.map(({ name, hash }) => [name, hash]));
  const uses = facts.entries
    .filter(({ excluded }) => excluded === undefined)
    .flatMap(({ id, kind, files: named }) => named.map((file): Use => ({ entry: id, kind, file })));
  const groups = Map.groupBy(uses, ({ file }) => hashes.get(file));
  return [...groups].flatMap(([hash, group]) => {
    const entries = [...new Set(group.map(({ entry }) => entry))];
    const isOneFile = new Set(group.map(({ file }) => file)).size === 1;
    const kinds = new Set(group.map(({ kind }) => kind));
    if (hash === undefined || entries.length < 2 || (isOneFile && kinds.size === entries.length)) return [];
    return [repeated(group, entries)];
  });
}

function repeated(group: readonly Use[], entries: readonly string[]): Finding {
  const names = [...new Set(group.map(({ file }) => file))];
  const what = names.length > 1 ? `${names.join(' and ')} hold the same bytes` : `${names.join('')} is one log`;
  return {
    kind: 'log-repeated',
    weight: 'doubt',
    message: `${what} and stand${names.length > 1 ? '' : 's'} under entries ${entries.join(' and ')}: one recording is counted ${entries.length} times`,
    place: { file: names[0] ?? '' },
    numbers: { files: names.join(', '), entries: entries.join(', ') },
  };
}
