import { basename } from 'node:path';

/** A log that was named, and the short name under which it is spoken of. */
export interface NamedFile {
  readonly path: string;
  readonly name: string;
}

/** Each path once, under its last part, or under the whole path where two logs share that. */
export function namedFiles(paths: readonly string[]): readonly NamedFile[] {
  const once = [...new Set(paths)];
  const counts = Map.groupBy(once, (path) => basename(path));
  return once.map((path) => {
    const short = basename(path);
    return { path, name: (counts.get(short)?.length ?? 0) > 1 ? path : short };
  });
}
