import { writeFile } from 'node:fs/promises';
import { extname } from 'node:path';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { ExportFormat } from '../files/index.ts';

/** More numbers than this are not written as text. @source our default: about 400 MB of text, below the longest text there can be */
const MOST_AS_TEXT = 20e6;

/** The format that a name's ending asks for. */
export function outFormat(path: string): Outcome<ExportFormat> {
  const ending = extname(path).slice(1).toLowerCase();
  if (ending === 'csv' || ending === 'parquet' || ending === 'json') return answered(ending);
  return refused({
    kind: 'invalid-option',
    message: `invalid --out: "${path}", expected a name ending in .csv, .parquet or .json`,
    numbers: { value: path },
  });
}

/** Writes what `make` gives for the format that the name's ending asks for. `count`: numbers to be written. */
export async function writeOut(
  path: string,
  count: number,
  make: (format: ExportFormat) => Uint8Array,
): Promise<Outcome<string>> {
  const format = outFormat(path);
  if (!format.ok) return format;
  if (format.value !== 'parquet' && count > MOST_AS_TEXT)
    return refused({
      kind: 'invalid-option',
      message: `invalid --out: "${path}", ${count} numbers are too many for text, expected a name ending in .parquet`,
      numbers: { value: count, limit: MOST_AS_TEXT },
    });
  return written(path, make(format.value));
}

/** Writes a file, or says why it could not be written. */
export async function written(path: string, content: Uint8Array | string): Promise<Outcome<string>> {
  const trouble = await writeFile(path, content).then(
    () => undefined,
    (error: unknown) => (error instanceof Error ? error.message : String(error)),
  );
  return trouble === undefined
    ? answered(path)
    : refused({ kind: 'unwritable-file', message: `unwritable file: ${trouble}`, place: { file: path } });
}
