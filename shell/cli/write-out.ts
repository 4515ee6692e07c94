import { writeFile } from 'node:fs/promises';
import { extname } from 'node:path';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';

export type OutFormat = 'csv' | 'parquet' | 'json';

/** Writes what `make` gives for the format that the name's ending asks for. */
export async function writeOut(
  path: string,
  make: (format: OutFormat) => Promise<Uint8Array> | Uint8Array,
): Promise<Outcome<string>> {
  const ending = extname(path).slice(1).toLowerCase();
  if (ending !== 'csv' && ending !== 'parquet' && ending !== 'json') {
    return refused({
      kind: 'invalid-option',
      message: `invalid --out: "${path}", expected a name ending in .csv, .parquet or .json`,
    });
  }
  return written(path, await make(ending));
}

/** Writes a file, or says why it could not be written. */
export async function written(path: string, content: Uint8Array | string): Promise<Outcome<string>> {
  const trouble = await writeFile(path, content).then(
    () => undefined,
    (error: unknown) => String(error),
  );
  return trouble === undefined
    ? answered(path)
    : refused({ kind: 'unwritable-file', message: `unwritable file: ${trouble}`, place: { file: path } });
}
