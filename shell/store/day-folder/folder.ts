import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, join, resolve, sep } from 'node:path';
import { answered, type Finding, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { codeOf, diskRefusal } from '../durable.ts';
import { nearMiss } from './near-miss.ts';
import { parseDayText } from './parse.ts';
import { isLog, proposeDay } from './propose.ts';
import { LONGEST_TEXT } from './yaml-text.ts';

/** A log or a file of the parts inside a day's folder: its name as the day uses it, and where it is. */
export interface LogFile {
  readonly name: string;
  readonly path: string;
}

export interface FolderReading {
  readonly facts: DayFacts;
  /** Every log that an entry names and that is there, and the files that the parts name. */
  readonly files: readonly LogFile[];
  readonly findings: readonly Finding[];
  /** False when there was no `day.yaml`: the facts are a proposal. */
  readonly written: boolean;
}

/** Name of the file that holds the facts. */
export const DAY_FILE = 'day.yaml';

/** Reads a day's folder: `day.yaml`, or a proposal from the file names where there is none. Changes nothing. */
export async function readDayFolder(path: string): Promise<Outcome<FolderReading>> {
  try {
    const folder = await realpath(path);
    const names = await namesBelow(folder);
    if (names.length > MOST_FILES) return refused(tooMany(path, names.length));
    const text = await dayText(join(folder, DAY_FILE));
    if (text !== undefined && !text.ok) return text;
    const facts = text ? parseDayText(text.value, DAY_FILE) : proposeDay(names, basename(resolve(path)));
    if (!facts.ok) return facts;
    const { files, findings } = await logsOf(folder, facts.value, names);
    const all = [...(text ? [] : [proposed(path)]), ...facts.findings, ...findings];
    return answered({ facts: facts.value, files, findings: all, written: text !== undefined }, all);
  } catch (error) {
    return refused(diskRefusal(error, 'the folder cannot be read', path));
  }
}

/** UTF-8 with or without a mark; other encodings are refused rather than half understood. */
export async function dayText(path: string): Promise<Outcome<string> | undefined> {
  const size = await stat(path).catch((error: unknown) => {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  });
  if (!size) return undefined;
  if (size.size > LONGEST_TEXT * 4)
    return refused({
      kind: 'yaml-too-large',
      message: `invalid day: ${size.size} bytes, expected at most ${LONGEST_TEXT} characters`,
      place: { file: DAY_FILE },
      numbers: { value: size.size, limit: LONGEST_TEXT },
    });
  const bytes = await readFile(path);
  try {
    return answered(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return refused({
      kind: 'invalid-encoding',
      message: 'invalid day: the text is not UTF-8, expected UTF-8',
      place: { file: DAY_FILE },
    });
  }
}

/** Names of all files below the folder, `/` between folders; hidden ones and links to folders are passed over. */
async function namesBelow(folder: string, inside = '', depth = 0): Promise<string[]> {
  const found: string[] = [];
  for (const entry of await readdir(join(folder, inside), { withFileTypes: true })) {
    const name = inside === '' ? entry.name : `${inside}/${entry.name}`;
    if (entry.name.startsWith('.')) continue;
    if (found.length > MOST_FILES) break;
    if (entry.isDirectory() && depth < DEEPEST) found.push(...(await namesBelow(folder, name, depth + 1)));
    if (entry.isFile() || entry.isSymbolicLink()) found.push(name);
  }
  return found.sort();
}

/** @source our default: a day has some dozens of logs */
const DEEPEST = 4;
const MOST_FILES = 5000;

function tooMany(path: string, count: number) {
  return {
    kind: 'folder-too-large',
    message: `invalid day: more than ${MOST_FILES} files below the folder, expected the folder of one day`,
    place: { file: path },
    numbers: { value: count, limit: MOST_FILES },
  };
}

async function logsOf(folder: string, facts: DayFacts, names: readonly string[]) {
  const files: LogFile[] = [];
  const findings: Finding[] = [];
  const map = facts.parts?.compressorMap;
  const ofParts = map === undefined ? [] : [[map, 'parts'] as const];
  const ofEntries = facts.entries.flatMap(({ id, files: of }) => of.map((name) => [name, `entry ${id}`] as const));
  const named = new Map([...ofParts, ...ofEntries]);
  for (const [name, owner] of named) {
    const path = join(folder, name);
    const real = await realpath(path).catch(() => undefined);
    if (real === undefined || !(await stat(real)).isFile()) findings.push(missing(name, owner, names));
    else if (!real.startsWith(folder.endsWith(sep) ? folder : folder + sep)) findings.push(outside(name, owner));
    else files.push({ name, path });
  }
  const unnamed = names.filter((name) => isLog(name) && !named.has(name));
  return { files, findings: [...findings, ...unnamed.map(notNamed)] };
}

function missing(name: string, owner: string, names: readonly string[]): Finding {
  const near = nearMiss(name, names.filter(isLog));
  return {
    kind: 'missing-file',
    weight: 'fault',
    message: `missing file ${name} of ${owner}${near ? `, did you mean ${near}` : ''}`,
    place: { file: name },
    numbers: { entry: entryOf(owner), ...(near ? { near } : {}) },
  };
}

function outside(name: string, owner: string): Finding {
  return {
    kind: 'file-outside',
    weight: 'fault',
    message: `invalid file ${name} of ${owner}: a link to a place outside the folder is not followed`,
    place: { file: name },
    numbers: { entry: entryOf(owner) },
  };
}

/** `pull-3` of `entry pull-3`. */
function entryOf(owner: string): string {
  return owner.replace(/^entry /, '');
}

function notNamed(name: string): Finding {
  return { kind: 'unnamed-file', weight: 'note', message: `${name} belongs to no entry`, place: { file: name } };
}

function proposed(path: string): Finding {
  return {
    kind: 'proposed-day',
    weight: 'doubt',
    message: `missing ${DAY_FILE}: the day was proposed from the names of the files`,
    place: { file: path },
  };
}
