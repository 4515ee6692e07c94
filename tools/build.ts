import { spawnSync } from 'node:child_process';
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { buildPage } from './build-page.ts';

/** Makes `dist` for the npm package: plain JavaScript with declarations, and the page, which is built anew only when it is stale. */
const ROOT = join(import.meta.dirname, '..');
const DIST = join(ROOT, 'dist');

for (const name of folders(DIST)) if (name !== 'web') rmSync(join(DIST, name), { recursive: true, force: true });
const compiler = join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc');
const { status } = spawnSync(process.execPath, [compiler, '-p', 'tsconfig.build.json'], {
  cwd: ROOT,
  stdio: ['ignore', 2, 'inherit'],
});
if (status !== 0) process.exit(1);
buildPage();

function folders(path: string): readonly string[] {
  try {
    return readdirSync(path);
  } catch {
    return [];
  }
}
