import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '..');
const BUILT = join(ROOT, 'dist', 'web', 'index.html');

/** Builds the page when one of its sources is newer than what was built. */
export function buildPage(): void {
  const sources = ['shell/web', 'shell/contract', 'core'].flatMap((folder) => times(join(ROOT, folder)));
  if (existsSync(BUILT) && statSync(BUILT).mtimeMs > Math.max(...sources)) return;
  console.error('Building the page, once …');
  const vite = join(ROOT, 'node_modules', 'vite', 'bin', 'vite.js');
  const { status } = spawnSync(process.execPath, [vite, 'build', '--logLevel', 'warn'], {
    cwd: ROOT,
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  if (status !== 0) process.exit(1);
}

function times(folder: string): number[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !/\.test\.tsx?$/.test(entry.name))
    .map((entry) => statSync(join(entry.parentPath, entry.name)).mtimeMs);
}

if (import.meta.main) buildPage();
