import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import { type MadeFile, makePlateauDay } from '../../../scenarios/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { refuse, wrong } from '../refuse.ts';
import { SERVE_HELP, SERVE_OPTIONS, serve } from '../serve.ts';
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
  if (!Number.isInteger(seed))
    return wrong(`invalid --seed: ${asked.text('seed')}, expected a whole number`, surroundings);
  const folder = asked.text('folder') ?? join(asked.text('store') ?? surroundings.home, 'demonstration-day');
  const files = await writeFiles(folder, { seed, ours: asked.text('folder') === undefined });
  if (!files.ok) return refuse(files.refusal, surroundings);
  surroundings.err(
    `The demonstration day is in ${folder}. It is invented: no real vehicle, shop, part or person is meant.\n`,
  );
  if (asked.flag('files-only')) return 0;
  return withDesk(asked, surroundings, async (desk) => {
    const day = await desk.openFolder(folder);
    if (day.ok) return serve(desk, `/#/day/${day.value.id}`, { asked, surroundings });
    return refuse(day.refusal, surroundings);
  });
}

/** A folder with another day, with a changed day.yaml or, where a person named it, with another log of that name, is refused. `ours`: in our data folder. */
async function writeFiles(
  folder: string,
  { seed, ours }: { readonly seed: number; readonly ours: boolean },
): Promise<Outcome<string>> {
  const trouble = await mkdir(folder, { recursive: true }).then(
    () => undefined,
    (error: unknown) => (error instanceof Error ? error.message : String(error)),
  );
  if (trouble !== undefined)
    return refused({ kind: 'unwritable-folder', message: `unwritable folder: ${trouble}`, place: { file: folder } });
  const { files } = makePlateauDay({ seed });
  const missing: MadeFile[] = [];
  for (const file of files) {
    const there = await readFile(join(folder, file.name)).catch(() => undefined);
    if (there?.equals(file.bytes)) continue;
    if (there && (file.name === 'day.yaml' || !ours)) return inUse(folder, file.name);
    missing.push(file);
  }
  for (const { name, bytes } of missing) {
    const file = await written({ path: join(folder, name), inputs: [], overwrite: true }, bytes);
    if (!file.ok) return file;
  }
  return answered(folder);
}

function inUse(folder: string, name: string): Outcome<string> {
  return refused({
    kind: 'folder-in-use',
    message: `this folder holds another ${name}, or it was changed: nothing was written; open it with knurl open, or name another --folder`,
    place: { file: folder },
  });
}
