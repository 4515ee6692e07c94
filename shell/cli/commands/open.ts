import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Outcome } from '../../../core/quantities/index.ts';
import { refused } from '../../../core/quantities/index.ts';
import type { DaySummary, Desk } from '../../desk/index.ts';
import { proposeDay } from '../../store/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { refuse } from '../refuse.ts';
import { SERVE_HELP, SERVE_OPTIONS, serve } from '../serve.ts';
import { withDesk } from '../with-desk.ts';

export const openCommand: Command = {
  name: 'open',
  summary: 'a day’s folder, or logs, in the page; a watched folder grows by itself',
  usage: 'knurl open [FOLDER | FILE…] [--port NUMBER] [--open]',
  details: [
    'Without a word it opens the list of days. Logs without a day.yaml become a new day that you can complete in the page.',
    '',
    ...SERVE_HELP,
  ].join('\n'),
  examples: ['knurl open plateau --open', 'knurl open roller.csv engine.csv', 'knurl open --port 8080'],
  options: SERVE_OPTIONS,
  run: openPage,
};

async function openPage(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  return withDesk(asked, surroundings, async (desk) => {
    if (asked.words.length === 0) return serve(desk, '/', { asked, surroundings });
    const day = await openWords(desk, asked.words);
    if (day.ok) return serve(desk, `/#/day/${day.value.id}`, { asked, surroundings });
    return refuse(day.refusal, surroundings);
  });
}

async function openWords(desk: Desk, words: readonly string[]): Promise<Outcome<DaySummary>> {
  const [first = '.'] = words;
  const found = await stat(first).catch(() => undefined);
  if (!found)
    return refused({ kind: 'missing-file', message: `missing file or folder: ${first}`, place: { file: first } });
  if (found.isDirectory()) return desk.openFolder(first);
  const names = words.map((word) => basename(word));
  for (const word of words) {
    const bytes = await readFile(word).catch(() => undefined);
    if (!bytes) return refused({ kind: 'missing-file', message: `missing file: ${word}`, place: { file: word } });
    const taken = await desk.take(word, bytes);
    if (!taken.ok) return taken;
  }
  const proposed = proposeDay(names, names.join(' and '));
  if (!proposed.ok) return proposed;
  const day = await desk.newDay({ ...proposed.value, entries: [] });
  if (!day.ok) return day;
  const set = await desk.setFacts(day.value.id, proposed.value, 'opened from the command line');
  return set.ok ? day : set;
}
