import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { makePlateauDay } from './plateau/make.ts';

// Writes the files of the demonstration day into a folder: node scenarios/write-day.ts --out DIR [--seed N]
const { values } = parseArgs({
  options: {
    out: { type: 'string' },
    seed: { type: 'string', default: '1' },
    drawn: { type: 'boolean', default: false },
  },
});
const seed = Number(values.seed);
if (values.out === undefined || !Number.isInteger(seed)) {
  console.error('usage: node scenarios/write-day.ts --out DIR [--seed N] [--drawn]');
  process.exitCode = 2;
} else {
  mkdirSync(values.out, { recursive: true });
  const day = makePlateauDay({ seed, instruments: values.drawn ? 'drawn' : 'nominal' });
  for (const file of day.files) writeFileSync(join(values.out, file.name), file.bytes);
  console.log(`${day.files.length} files written to ${values.out}: an invented day, seed ${seed}`);
}
