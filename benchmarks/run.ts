import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';

// npm run bench [-- NAME …]: each in a process of its own, one after the other, so that none disturbs another.
// Everything is printed as a ratio to a named peer or limit of the same run; no figure here is a test. Coverage (200 days), the
// cycle model against its peers and the map (which want a C compiler or Python) and the page (a browser) only on request.
const USUAL = ['verdict', 'judging', 'reader', 'overlay', 'calibration'];
const ASKED = [
  'arrival',
  'coverage',
  'sliders',
  'sliders-page',
  'cycle/against-c',
  'cycle/against-scipy',
  'cycle/map',
  'verdicts/measure',
];
const wanted = process.argv.slice(2);

for (const name of wanted.length > 0 ? wanted : USUAL) {
  const path = join(import.meta.dirname, `${name}.ts`);
  if (!existsSync(path)) {
    console.error(`unknown benchmark: ${name}, expected one of ${[...USUAL, ...ASKED].join(', ')}`);
    process.exitCode = 2;
    continue;
  }
  console.log(`— ${name}`);
  const { status } = spawnSync(process.execPath, [path], { stdio: 'inherit' });
  if (status !== 0) process.exitCode = 1;
  console.log('');
}
