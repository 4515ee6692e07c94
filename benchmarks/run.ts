import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';

// npm run bench [-- verdict reader overlay coverage]: each in a process of its own, one after the other, so that none disturbs another.
// Everything is printed as a ratio to a named peer or limit of the same run; no figure here is a test. Coverage (200 days) only on request.
const USUAL = ['verdict', 'reader', 'overlay'];
const wanted = process.argv.slice(2);

for (const name of wanted.length > 0 ? wanted : USUAL) {
  const path = join(import.meta.dirname, `${name}.ts`);
  if (!existsSync(path)) {
    console.error(`unknown benchmark: ${name}, expected one of ${[...USUAL, 'coverage'].join(', ')}`);
    process.exitCode = 2;
    continue;
  }
  console.log(`— ${name}`);
  const { status } = spawnSync(process.execPath, [path], { stdio: 'inherit' });
  if (status !== 0) process.exitCode = 1;
  console.log('');
}
