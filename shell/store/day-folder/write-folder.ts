import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { codeOf, diskRefusal, makeFolder, writeDurably } from '../durable.ts';
import { fileNameProblem } from './file-name.ts';
import { DAY_FILE, dayText } from './folder.ts';
import { parseDayText } from './parse.ts';
import { updateDayText } from './update.ts';
import { checkedFacts, writeDayText } from './write.ts';

/** A log to be written into a day's folder. */
export interface FileBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/**
 * Writes a day as a folder. A log that is there with other bytes is never overwritten: the whole is refused before
 * anything is written. A `day.yaml` that is there keeps its comments and order. Gives the path of `day.yaml`.
 */
export async function writeDayFolder(
  path: string,
  facts: DayFacts,
  files: readonly FileBytes[],
): Promise<Outcome<string>> {
  const checked = checkedFacts(facts);
  if (!checked.ok) return checked;
  try {
    const fresh: FileBytes[] = [];
    for (const file of files) {
      const there = await placeFor(path, file);
      if (!there.ok) return there;
      if (there.value === 'free') fresh.push(file);
    }
    const text = await newText(path, facts);
    if (!text.ok) return text;
    await makeFolder(path);
    for (const { name, bytes } of fresh) await placed(path, name, bytes);
    await placed(path, DAY_FILE, new TextEncoder().encode(text.value));
    return answered(join(path, DAY_FILE), text.findings);
  } catch (error) {
    return refused(diskRefusal(error, 'the folder cannot be written', path));
  }
}

/** Brings the `day.yaml` of a folder from the former facts to the new ones; refused when somebody changed it meanwhile. */
export async function updateDayFile(path: string, former: DayFacts, facts: DayFacts): Promise<Outcome<string>> {
  const checked = checkedFacts(facts);
  if (!checked.ok) return checked;
  try {
    const there = await dayText(join(path, DAY_FILE));
    if (there && !there.ok) return there;
    const text = there ? updateDayText(there.value, former, facts) : answered(writeDayText(facts));
    if (text.ok) await placed(path, DAY_FILE, new TextEncoder().encode(text.value));
    return text.ok ? answered(join(path, DAY_FILE), text.findings) : text;
  } catch (error) {
    return refused(diskRefusal(error, 'day.yaml cannot be written', path));
  }
}

async function newText(path: string, facts: DayFacts): Promise<Outcome<string>> {
  const there = await dayText(join(path, DAY_FILE));
  if (!there) return answered(writeDayText(facts));
  if (!there.ok) return there;
  const former = parseDayText(there.value, DAY_FILE);
  return former.ok ? updateDayText(there.value, former.value, facts) : former;
}

async function placeFor(folder: string, { name, bytes }: FileBytes): Promise<Outcome<'free' | 'same'>> {
  const problem = fileNameProblem(name);
  if (problem)
    return refused({
      kind: 'invalid-value',
      message: `invalid file name: ${JSON.stringify(name)}, expected ${problem}`,
      numbers: { value: name },
    });
  const there = await bytesAt(join(folder, name));
  if (!there) return answered('free');
  if (Buffer.compare(there, bytes) === 0) return answered('same');
  return refused({
    kind: 'file-exists',
    message: `${name} is there with other content: a log is never overwritten; nothing was written`,
    place: { file: name },
  });
}

async function bytesAt(path: string): Promise<Uint8Array | undefined> {
  try {
    return await readFile(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

async function placed(folder: string, name: string, bytes: Uint8Array): Promise<void> {
  const path = join(folder, name);
  await makeFolder(dirname(path));
  await writeDurably(path, bytes, { scratch: dirname(path), hidden: true });
}
