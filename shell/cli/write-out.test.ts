import { linkSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makePlateauDay } from '../../scenarios/index.ts';
import { answerOf, refusalOf } from '../store/testing/outcomes.ts';
import { emptyFolder, folderWith, said } from './testing/command-line.ts';
import { type Target, written } from './write-out.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9'] });
const log = 'pull-09-roller.csv';
const bytesOf = (path: string): string => readFileSync(path, 'latin1');

describe('--out', () => {
  it('never writes over a log that is read, under whatever name, also with --overwrite', async () => {
    const at = folderWith(files);
    const path = join(at, log);
    const before = bytesOf(path);
    const hard = join(emptyFolder(), 'hard.csv');
    linkSync(path, hard);
    const soft = join(emptyFolder(), 'soft.csv');
    symlinkSync(path, soft);
    const engine = join(at, 'pull-09-engine.csv');
    for (const out of [path, join(at, '.', log), hard, soft])
      for (const words of [
        ['read', path],
        ['pull', path, engine, '--like', at],
        ['pull', engine, '--like', at, '--coast', path],
      ]) {
        const { code, err } = await said([...words, '--out', out, '--overwrite']);
        expect([code, err], words.join(' ')).toEqual([2, expect.stringContaining('which is read, expected another')]);
        expect(bytesOf(path)).toBe(before);
      }
    expect(bytesOf(hard)).toBe(before);
  });

  it('never writes a report over a log of its day', async () => {
    const text = files.map(({ name, bytes }) =>
      name === 'day.yaml'
        ? { name, bytes: new TextEncoder().encode(new TextDecoder().decode(bytes).replaceAll(log, 'log.txt')) }
        : { name: name === log ? 'log.txt' : name, bytes },
    );
    const at = folderWith(text);
    const path = join(at, 'log.txt');
    const before = bytesOf(path);
    const { code, err } = await said(['report', at, '--out', path, '--overwrite']);
    expect([code, err]).toEqual([2, expect.stringContaining('which is read')]);
    expect(bytesOf(path)).toBe(before);
  });

  it('replaces another file only when it was asked to, and leaves nothing beside it', async () => {
    const at = folderWith(files);
    const decided = ['--column', 'force_N = brake force, N'];
    for (const [words, name] of [
      [['read', join(at, log), ...decided], 'out.csv'],
      [['pull', join(at, log), '--like', at, ...decided], 'curve.csv'],
      [['report', at], 'report.html'],
    ] as const) {
      const folder = emptyFolder();
      const out = join(folder, name);
      writeFileSync(out, 'mine');
      const kept = await said([...words, '--out', out]);
      expect([kept.code, kept.out, kept.err], name).toEqual([2, '', expect.stringContaining('--overwrite')]);
      expect(bytesOf(out)).toBe('mine');
      expect(await said([...words, '--out', out, '--overwrite'])).toMatchObject({ code: 0, err: `wrote ${out}\n` });
      expect(bytesOf(out)).not.toBe('mine');
      expect(readdirSync(folder)).toEqual([name]);
    }
  });
});

describe('a written file', () => {
  const target = (path: string, own: Partial<Target> = {}): Target => ({ path, inputs: [], overwrite: false, ...own });

  it('keeps the rights of the one it replaces, and the link through which it was named', async () => {
    const folder = emptyFolder();
    const real = join(folder, 'real.csv');
    const name = join(emptyFolder(), 'name.csv');
    writeFileSync(real, 'old', { mode: 0o640 });
    symlinkSync(real, name);
    answerOf(await written(target(name, { overwrite: true }), 'new'));
    expect([bytesOf(real), bytesOf(name), statSync(real).mode & 0o777]).toEqual(['new', 'new', 0o640]);
  });

  it('may have a name whose link leads to nothing yet', async () => {
    const folder = emptyFolder();
    symlinkSync('later.csv', join(folder, 'name.csv'));
    answerOf(await written(target(join(folder, 'name.csv')), 'new'));
    expect(bytesOf(join(folder, 'later.csv'))).toBe('new');
  });

  it('is refused where a folder stands, and where there is no folder', async () => {
    const folder = emptyFolder();
    mkdirSync(join(folder, 'd.csv'));
    const overwrite = { overwrite: true };
    expect(refusalOf(await written(target(join(folder, 'd.csv'), overwrite), 'x')).kind).toBe('invalid-option');
    expect(refusalOf(await written(target(join(folder, 'none', 'x.csv')), 'x')).kind).toBe('unwritable-file');
    expect(readdirSync(dirname(join(folder, 'd.csv')))).toEqual(['d.csv']);
  });
});

describe('knurl demo', () => {
  it('writes over no log of another in a folder that a person named', async () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, log), 'mine');
    const { code, err } = await said(['demo', '--files-only', '--folder', folder]);
    expect([code, err]).toEqual([1, expect.stringContaining(`this folder holds another ${log}`)]);
    expect([bytesOf(join(folder, log)), readdirSync(folder)]).toEqual(['mine', [log]]);
  });
});
