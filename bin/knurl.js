#!/usr/bin/env node
// Starts Knurl on the Node it was made for: the one that runs this when it is new enough, else the one that came with the package.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const main = new URL('../dist/shell/cli/main.js', import.meta.url);
const [major = 0] = process.versions.node.split('.').map(Number);

if (major >= 24) {
  await import(main.href);
} else {
  const folder = dirname(createRequire(import.meta.url).resolve('node/package.json'));
  const runtime = ['bin/node', 'bin/node.exe'].map((name) => join(folder, name)).find((path) => existsSync(path));
  if (runtime === undefined) {
    process.stderr.write(
      `Knurl needs Node 24 or newer; this is Node ${process.versions.node}, and none came with the package.\n`,
    );
    process.exit(1);
  }
  const { status, signal } = spawnSync(runtime, [fileURLToPath(main), ...process.argv.slice(2)], { stdio: 'inherit' });
  process.exit(signal ? 130 : (status ?? 1));
}
