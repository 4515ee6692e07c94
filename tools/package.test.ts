import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');
const work = mkdtempSync(join(tmpdir(), 'knurl-package-'));
const empty = join(work, 'empty');
const home = join(work, 'home');
const env = { PATH: process.env['PATH'] ?? '', HOME: home, npm_config_cache: join(work, 'cache') };
let listed: readonly string[] = [];

/**
 * Packs the repository as it would be published and puts the package into an empty folder. Nothing is fetched: the tarball is
 * unpacked by hand and its dependencies are LINKS to those of this checkout, so this test cannot see a dependency that is
 * missing from package.json's `dependencies` but present here; `declares what it imports` below looks for that.
 */
beforeAll(() => {
  for (const folder of [empty, home]) mkdirSync(folder);
  const packed = execFileSync('npm', ['pack', '--json', '--pack-destination', work], {
    cwd: ROOT,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const [{ filename, files }] = JSON.parse(packed.slice(packed.indexOf('[\n')));
  listed = files.map(({ path }: { path: string }) => path);
  const modules = join(empty, 'node_modules');
  mkdirSync(join(modules, 'knurl'), { recursive: true });
  execFileSync('tar', ['-xzf', join(work, filename), '-C', join(modules, 'knurl'), '--strip-components=1']);
  mkdirSync(join(modules, '.bin'));
  symlinkSync('../knurl/bin/knurl.js', join(modules, '.bin', 'knurl'));
  execFileSync('chmod', ['+x', join(modules, 'knurl', 'bin', 'knurl.js')]);
  for (const name of readdirSync(join(ROOT, 'node_modules')).filter((one) => !one.startsWith('.')))
    symlinkSync(join(ROOT, 'node_modules', name), join(modules, name));
}, 180_000);

afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Runs a program in the empty folder with an empty home. */
function ran(program: string, words: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(program, words, { cwd: empty, env, encoding: 'utf8' });
  return { status, stdout, stderr };
}

describe('the package', () => {
  it('holds the program, the page, the library and its declarations, and no tests, fixtures or sources', () => {
    for (const path of [
      'bin/knurl.js',
      'dist/shell/cli/main.js',
      'dist/web/index.html',
      'dist/core/index.js',
      'dist/core/index.d.ts',
      'dist/day/index.js',
      'LICENSE',
      'README.md',
    ])
      expect(listed, path).toContain(path);
    expect(listed.filter((path) => /\.test\.|\/testing\/|\/fixtures\/|snapshot|(?<!\.d)\.tsx?$/.test(path))).toEqual(
      [],
    );
  });

  it('declares what it imports', () => {
    const { dependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
    const imported = new Set<string>();
    for (const path of listed.filter(
      (one) => one.startsWith('dist/') && !one.startsWith('dist/web/') && one.endsWith('.js'),
    )) {
      const text = readFileSync(join(empty, 'node_modules', 'knurl', path), 'utf8');
      for (const [, name = ''] of text.matchAll(/(?:^|\n)(?:import|export)\b[^'"`;]*?\bfrom\s*'([^'.][^']*)'/g))
        if (!name.startsWith('node:'))
          imported.add(
            name
              .split('/')
              .slice(0, name.startsWith('@') ? 2 : 1)
              .join('/'),
          );
    }
    expect(imported.size).toBeGreaterThan(3);
    expect([...imported].filter((name) => dependencies[name] === undefined)).toEqual([]);
  });

  it('runs by its name, and reads a day that it wrote', () => {
    expect(ran('npx', ['--no-install', 'knurl', '--help'])).toMatchObject({
      status: 0,
      stdout: expect.stringContaining('knurl demo'),
    });
    expect(ran('npx', ['--no-install', 'knurl', 'demo', '--files-only', '--folder', 'd'])).toMatchObject({ status: 0 });
    const day = ran('npx', ['--no-install', 'knurl', 'day', 'd']);
    // The demonstration day gives reason to hold, which is an answer of its own.
    expect(day).toMatchObject({ status: 4, stderr: '' });
    expect(day.stdout).toMatch(/\d+\.\d ± \d+\.\d kW at \d+ rpm/);
  }, 120_000);

  it('serves its page on this machine', async () => {
    const program = join(empty, 'node_modules', 'knurl', 'bin', 'knurl.js');
    const child = spawn(process.execPath, [program, 'open'], { cwd: empty, env, stdio: ['ignore', 'pipe', 'ignore'] });
    try {
      const [said] = await once(child.stdout, 'data');
      const address = /http:\/\/127\.0\.0\.1:\d+/.exec(String(said))?.[0] ?? '';
      const answer = await fetch(`${address}/`);
      expect(answer.status).toBe(200);
      expect(await answer.text()).toContain('<!doctype html>');
    } finally {
      child.kill('SIGINT');
    }
    expect(await once(child, 'exit')).toEqual([0, null]);
  }, 30_000);

  it('reads a large text and a Parquet file with its workers', () => {
    const rows = Array.from({ length: 400_000 }, (_, i) => `${i / 100},${50 + (i % 100)},${3000 + (i % 700)},${i % 7}`);
    execFileSync('sh', ['-c', 'cat > "$0"', join(empty, 'large.csv')], {
      input: [
        'time [s],roll speed [km/h],engine speed [rpm],aux',
        ...Array.from({ length: 3 }, () => rows).flat(),
      ].join('\n'),
    });
    const words = ['--no-install', 'knurl', 'read', 'large.csv', '--out', 'large.parquet'];
    expect(ran('npx', words)).toMatchObject({ status: 0, stderr: 'wrote large.parquet\n' });
    expect(ran('npx', ['--no-install', 'knurl', 'read', 'large.parquet'])).toMatchObject({
      status: 0,
      stdout: expect.stringContaining('parquet'),
    });
  }, 120_000);

  it('is a library', () => {
    const core =
      "const { quantities } = await import('knurl/core'); console.log(quantities.formatQuantity(1000, 'power'))";
    expect(ran(process.execPath, ['--input-type=module', '-e', core])).toMatchObject({ status: 0, stdout: '1.0 kW\n' });
    const day = "const { reports } = await import('knurl/day'); console.log(typeof reports.analyseDay)";
    expect(ran(process.execPath, ['--input-type=module', '-e', day])).toMatchObject({
      status: 0,
      stdout: 'function\n',
    });
  });
});

const older = (process.env['PATH'] ?? '')
  .split(':')
  .concat('/usr/local/bin', '/usr/bin')
  .map((folder) => join(folder, 'node'))
  .filter((path) => existsSync(path))
  .find(
    (path) => Number(spawnSync(path, ['-p', 'process.versions.node.split(".")[0]'], { encoding: 'utf8' }).stdout) < 24,
  );

it.skipIf(older === undefined)(
  'goes on with its own Node when an older one starts it (skipped where there is none)',
  () => {
    const main = join(empty, 'node_modules', 'knurl', 'bin', 'knurl.js');
    expect(ran(older ?? '', [main, 'read', '--meanings'])).toMatchObject({
      status: 0,
      stdout: expect.stringContaining('manifold pressure'),
    });
    expect(ran(older ?? '', [main, 'read'])).toMatchObject({
      status: 2,
      stderr: 'missing file: name at least one log\n',
    });
  },
);
