import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MEANINGS } from '../../day/channels/index.ts';
import { openTable } from '../files/index.ts';
import { answerOf, refusalOf } from '../store/testing/outcomes.ts';
import { checkedColumns, columnDecisions } from './column-decisions.ts';
import { emptyFolder, said } from './testing/command-line.ts';

const HEADER = 'Time (s),Load (lbf),AFR,MAP (psig),Boost [psi],n,tps';

function logWith(header = HEADER): string {
  const path = join(emptyFolder(), 'log.csv');
  const rows = Array.from({ length: 200 }, (_, i) => {
    const cells = [
      (i / 50).toFixed(2),
      100 + i,
      (12 + (i % 9) / 10).toFixed(1),
      -3 + i / 20,
      1 + i / 20,
      2000 + i,
      i % 84,
    ];
    return cells.join(',');
  });
  writeFileSync(path, [header, ...rows].join('\n'));
  return path;
}

const table = async (header?: string) => answerOf(await openTable(logWith(header)));

describe('--column', () => {
  it.each([
    ['Load = brake force, lbf', { column: 'Load', meaning: 'brake-force', unit: 'lbf' }],
    ['Load (lbf) = brake force', { column: 'Load', meaning: 'brake-force', unit: 'lbf' }],
    ['Load [lbf] = brake force, kN', { column: 'Load', meaning: 'brake-force', unit: 'kN' }],
    ['AFR = lambda, /14.7', { column: 'AFR', meaning: 'lambda', unit: '1', divisor: 14.7 }],
    ['Load = brake force, lbf, /-1', { column: 'Load', unit: 'lbf', divisor: -1 }],
    ['AFR = lambda, 1, / 14.7', { column: 'AFR', meaning: 'lambda', unit: '1', divisor: 14.7 }],
    ['tps = throttle, /84', { column: 'tps', meaning: 'throttle', unit: '1', divisor: 84 }],
    ['Boost = manifold pressure, psi above ambient', { column: 'Boost', unit: 'psi', zero: 'ambient' }],
    ['Boost = manifold pressure, above ambient', { column: 'Boost', unit: 'psi', zero: 'ambient' }],
    ['Boost = manifold gauge pressure, psi absolute', { column: 'Boost', unit: 'psi', zero: 'vacuum' }],
    ['Boost = manifold pressure, bar(g)', { column: 'Boost', unit: 'bar', zero: 'ambient' }],
    ['MAP = manifold pressure', { column: 'MAP', unit: 'psi', zero: 'ambient' }],
    ['n = unknown', { column: 'n', meaning: 'unknown', unit: '1' }],
  ])('%s', async (text, expected) => {
    const [decided, ...rest] = answerOf(columnDecisions([text], await table()));
    expect(rest).toEqual([]);
    expect(decided).toMatchObject({ ...expected, confirmed: true });
  });

  it.each([
    'Boost = manifold pressure, psi absolute',
    'MAP = manifold gauge pressure',
    'MAP = manifold pressure, inHg',
    'Boost = manifold gauge pressure, kPa gauge',
  ])('%s counts from where its meaning does', async (text) => {
    expect(answerOf(columnDecisions([text], await table()))[0]).not.toHaveProperty('zero');
  });

  it.each([
    ['Boost = manifold pressure, N', 'expected a unit after the comma, such as kPa, psi, bar'],
    ['n = manifold pressure', 'such as kPa, psi, bar'],
    ['n = roll speed', 'such as km/h, mph, m/s'],
    ['n = throttle', 'such as %, 1 (plain number)'],
    ['AFR = lambda, /0', 'a number other than zero'],
    ['AFR = lambda, /soup', 'a number other than zero'],
    ['n = engine speed, rpm above ambient', 'only a pressure counts from'],
    ['Boost = manifold pressure, psi, bar', 'expected one unit'],
    ['Boost = manifold presure, psi', 'did you mean manifold pressure?'],
    ['= lambda', 'expected "NAME = MEANING, UNIT"'],
  ])('refuses %s', async (text, expected) => {
    expect(refusalOf(columnDecisions([text], await table())).message).toContain(expected);
  });

  it('refuses a name that no file has, with what there is, the nearest first', async () => {
    const tables = [await table(), await table('Zeit (s),Kraft (N),a,b,c,d,e')];
    expect(refusalOf(checkedColumns(['Lood = brake force, lbf'], tables)).message).toMatch(
      /unknown column "Lood": did you mean "Load \(lbf\)"\? The other columns are Time \(s\) · AFR .* Kraft \(N\)/,
    );
    expect(refusalOf(checkedColumns(['nothing of the kind = lambda'], tables)).message).toContain(
      'The columns are Time',
    );
    answerOf(checkedColumns(['Kraft = brake force, N', 'AFR = lambda, /14.7'], tables));
  });

  it('is refused before anything is shown, in every command that takes it', async () => {
    const path = logWith();
    for (const words of [
      ['read', path],
      ['read', path, logWith('a,b,c,d,e,f,g')],
      ['pull', path],
    ])
      expect(await said([...words, '--column', 'lod = brake force, lbf'])).toEqual({
        code: 2,
        out: '',
        err: expect.stringContaining('unknown column "lod"'),
      });
  });

  it('reaches the channels: an air-fuel ratio becomes lambda, a gauge pressure absolute by the barometer', async () => {
    const path = logWith('Time (s),Baro (kPa),AFR,MAP,Boost,n,tps');
    const out = join(emptyFolder(), 'out.csv');
    const { err } = await said([
      ...[
        'read',
        path,
        '--out',
        out,
        '--column',
        'AFR = lambda, /14.7',
        '--column',
        'Baro (kPa) = barometric pressure',
      ],
      ...['--column', 'Boost = manifold pressure, psi above ambient'],
    ]);
    expect(err).toBe(`wrote ${out}\n`);
    const [names = [], , ...rows] = readFileSync(out, 'utf8')
      .split(/\r?\n/)
      .map((line) => line.split(','));
    const values = (name: string): number[] => rows.map((cells) => Number(cells[names.indexOf(name)]));
    expect(values('AFR')[1]).toBeCloseTo(12.1 / 14.7, 9);
    // 1 psi = 6894.757 Pa (NIST SP 811, appendix B.8); the middle of the barometer is 199.5 kPa.
    expect(values('Boost')[20]).toBeCloseTo(199_500 + 2 * 6894.757, 1);
  });

  it('takes the stated pressure of the air where the log has no barometer', async () => {
    const path = logWith('time [s],roll speed [km/h],AFR,MAP,Boost,n,force [N]');
    const words = ['pull', path, '--column', 'Boost = manifold pressure, psi above ambient', '--json'];
    const kinds = async (more: readonly string[]): Promise<readonly string[]> => {
      const { out } = await said([...words, ...more]);
      return JSON.parse(out).result.findings.map(({ kind }: { kind: string }) => kind);
    };
    expect(await kinds([])).toContain('missing-barometer');
    const stated = await kinds(['--fact', 'pressure = 29 inHg']);
    expect(stated).not.toContain('missing-barometer');
    expect(stated).toContain('pressure-bridged');
  });

  it('has its meanings listed with units, and which pressures are absolute', async () => {
    const lines = (await said(['read', '--meanings'])).out.split('\n');
    const line = (name: string): string => lines.find((one) => one.startsWith(`${name} `)) ?? '';
    expect(line('manifold pressure')).toMatch(/kPa, psi, bar, absolute$/);
    expect(line('manifold gauge pressure')).toMatch(/kPa, psi, bar, above ambient$/);
    expect(line('fuel pressure difference')).toMatch(/a difference$/);
    expect(line('brake force')).toMatch(/N, lbf, kN$/);
    expect(lines.filter((one) => /absolute|above ambient$/.test(one)).length).toBeGreaterThan(8);
    expect(lines.length).toBeGreaterThan(Object.keys(MEANINGS).length);
  });
});
