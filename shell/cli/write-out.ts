import { chmod, link, readlink, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { answered, type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';
import type { ExportFormat } from '../files/index.ts';
import type { Asked } from './command.ts';

export const OVERWRITE_OPTION = { overwrite: { type: 'boolean' } } as const;
export const OVERWRITE_HELP = [
  '  --overwrite        let --out replace a file that is there already; never one that was read',
];

/** Where something is to be written: never over one of `inputs`, and over another file only when that was asked for. */
export interface Target {
  readonly path: string;
  readonly inputs: readonly string[];
  readonly overwrite: boolean;
}

/** The target of `--out`, or of a name that stands for it. */
export function targetOf(path: string, asked: Asked, inputs: readonly string[]): Target {
  return { path, inputs, overwrite: asked.flag('overwrite') };
}

/** More numbers than this are not written as text. @source our default: about 400 MB of text, below the longest text there can be */
const MOST_AS_TEXT = 20e6;

/** The format that a name's ending asks for. */
export function outFormat(path: string): Outcome<ExportFormat> {
  const ending = extname(path).slice(1).toLowerCase();
  if (ending === 'csv' || ending === 'parquet' || ending === 'json') return answered(ending);
  return refusedOut(path, 'expected a name ending in .csv, .parquet or .json');
}

/** Writes what `make` gives for the format that the name's ending asks for. `count`: numbers to be written. */
export async function writeOut(
  target: Target,
  count: number,
  make: (format: ExportFormat) => Uint8Array,
): Promise<Outcome<string>> {
  const format = outFormat(target.path);
  if (!format.ok) return format;
  if (format.value !== 'parquet' && count > MOST_AS_TEXT)
    return refusedOut(target.path, `${count} numbers are too many for text, expected a name ending in .parquet`);
  return written(target, make(format.value));
}

/**
 * Says before any work is done that a file will not be written: it is one of the inputs (by its real place, hard links too), or it is
 * there and nobody asked for it to be replaced.
 */
export async function checkedTarget({ path, inputs, overwrite }: Target): Promise<Outcome<string>> {
  const place = await finalPlace(path);
  const there = await identity(place);
  if (there === undefined) return answered(place);
  for (const input of inputs)
    if ((await identity(input)) === there) return refusedOut(path, `this is ${input}, which is read, expected another`);
  if (!(await stat(place)).isFile()) return refusedOut(path, 'this is no file, expected the name of one');
  if (!overwrite) return refusedOut(path, 'this file is there already, expected another name, or --overwrite as well');
  return answered(place);
}

/** Writes a file under a temporary name beside it and renames it, or says why it could not be written. */
export async function written(target: Target, content: Uint8Array | string): Promise<Outcome<string>> {
  const { path, overwrite } = target;
  const checked = await checkedTarget(target);
  if (!checked.ok) return checked;
  const place = checked.value;
  const temporary = join(dirname(place), `.${basename(place)}.${process.pid}.part`);
  try {
    await writeFile(temporary, content, { flag: 'wx' });
    const before = await stat(place).catch(() => undefined);
    if (before) await chmod(temporary, before.mode & 0o7777);
    await (overwrite ? rename(temporary, place) : placed(temporary, place));
    return answered(path);
  } catch (error) {
    const trouble = error instanceof Error ? error.message : String(error);
    return refused({ kind: 'unwritable-file', message: `unwritable file: ${trouble}`, place: { file: path } });
  } finally {
    await rm(temporary, { force: true });
  }
}

/** Gives a finished file its name only while that name is free: a file that came in between stays. */
async function placed(temporary: string, place: string): Promise<void> {
  try {
    await link(temporary, place);
  } catch (error) {
    if ((error instanceof Error && 'code' in error && error.code === 'EEXIST') || (await identity(place))) throw error;
    // A disk without hard links.
    await rename(temporary, place);
  }
}

/** Where a name leads: through links, also through one whose end is not there yet. */
async function finalPlace(path: string): Promise<string> {
  const real = await realpath(path).catch(() => undefined);
  if (real !== undefined) return real;
  const to = await readlink(path).catch(() => undefined);
  return to === undefined ? path : resolve(dirname(path), to);
}

/** Which file a name stands for, whatever its name: device and number on it. Undefined when there is none. */
async function identity(path: string): Promise<string | undefined> {
  const found = await stat(path, { bigint: true }).catch(() => undefined);
  return found && `${found.dev}:${found.ino}`;
}

function refusedOut<Value>(path: string, expected: string): Outcome<Value> {
  const refusal: Refusal = {
    kind: 'invalid-option',
    message: `invalid --out: "${path}", ${expected}`,
    numbers: { value: path },
  };
  return refused(refusal);
}
