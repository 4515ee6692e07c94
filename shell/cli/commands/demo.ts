import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { makePlateauDay } from '../../../scenarios/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { SERVE_HELP, SERVE_OPTIONS, serve } from '../serve.ts';
import { refusalText } from '../text/findings.ts';
import { withDesk } from '../with-desk.ts';
import { written } from '../write-out.ts';

/** Seed of the demonstration day as everybody sees it. */
const SEED = 1420;

export const demoCommand: Command = {
  name: 'demo',
  summary: 'the demonstration day, entirely invented, in the page',
  usage: 'knurl demo [--folder FOLDER] [--files-only] [--port NUMBER] [--open]',
  details: [
    'Writes the raw files of an invented day on a roller, as a practitioner would have them, then opens it in the page.',
    '',
    '  --folder FOLDER    where the files go (default: demonstration-day in the data folder)',
    '  --files-only       write the files and stop',
    '  --seed NUMBER      another day of the same plan',
    ...SERVE_HELP,
  ].join('\n'),
  examples: ['knurl demo --open', 'knurl demo --folder plateau --files-only && knurl day plateau'],
  options: {
    ...SERVE_OPTIONS,
    folder: { type: 'string' },
    'files-only': { type: 'boolean' },
    seed: { type: 'string' },
  },
  run: showDemo,
};

async function showDemo(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  const seed = Number(asked.text('seed') ?? SEED);
  if (!Number.isInteger(seed)) {
    surroundings.err(`invalid --seed: ${asked.text('seed')}, expected a whole number\n`);
    return 2;
  }
  const folder = asked.text('folder') ?? join(asked.text('store') ?? surroundings.home, 'demonstration-day');
  const trouble = await writeFiles(folder, seed);
  if (trouble !== undefined) {
    surroundings.err(`${trouble}\n`);
    return 1;
  }
  surroundings.err(
    `The demonstration day is in ${folder}. It is invented: no real vehicle, shop, part or person is meant.\n`,
  );
  if (asked.flag('files-only')) return 0;
  return withDesk(asked, surroundings, async (desk) => {
    const day = await desk.openFolder(folder);
    if (day.ok) return serve(desk, `/#/day/${day.value.id}`, { asked, surroundings });
    surroundings.err(`${refusalText(day.refusal)}\n`);
    return 1;
  });
}

async function writeFiles(folder: string, seed: number): Promise<string | undefined> {
  const made = await mkdir(folder, { recursive: true }).then(
    () => undefined,
    (error: unknown) => `unwritable folder: ${String(error)}`,
  );
  if (made !== undefined) return made;
  for (const { name, bytes } of makePlateauDay({ seed }).files) {
    const file = await written(join(folder, name), bytes);
    if (!file.ok) return refusalText(file.refusal);
  }
  return undefined;
}
