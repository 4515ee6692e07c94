import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { PowerCurve } from '../../../day/pulls/index.ts';
import { makePlateauDay } from '../../../scenarios/index.ts';
import { CHROMIUM_OPTIONS, chromiumPath } from '../../../tools/chromium.ts';
import { emptyFolder, folderWith, said } from '../testing/command-line.ts';
import { curveSvg } from './curve-svg.ts';
import { voidWindows } from './void-windows.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9', '11'] });

/** Opened and not closed, or closed and not opened elements. */
function unbalanced(html: string): readonly string[] {
  const open: string[] = [];
  const wrong: string[] = [];
  for (const [, close, name = '', self] of html.matchAll(/<(\/?)([a-z][a-z0-9]*)\b[^>]*?(\/?)>/g)) {
    if (self === '/' || ['meta', 'br', 'hr'].includes(name)) continue;
    if (close !== '/') open.push(name);
    else if (open.pop() !== name) wrong.push(name);
  }
  return [...wrong, ...open];
}

describe('the report of a day', () => {
  it('stands alone, is well formed, and holds what a report of a test must hold', async () => {
    const { code, out, err } = await said(['report', folderWith(files), '--out', '-']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(unbalanced(out)).toEqual([]);
    expect(out).not.toMatch(/<script|<link|<img|<iframe|\bon\w+=|\bsrc=|\bhref=|url\(|https?:/);
    const text = out
      .replaceAll(/<style>[\s\S]*?<\/style>/g, '')
      .replaceAll(/<[^>]+>/g, ' ')
      .replaceAll(/\s+/g, ' ');
    const name = /report (K-[0-9a-f]{16}) /.exec(text)?.[1];
    for (const part of [
      'Plateau: torque at altitude, 2041-09-12',
      'Invented data: Everything here is invented',
      'where Farm-machinery hall on an invented high plateau',
      'engine Flat six',
      'The results relate only to',
      'Conclusions',
      'Whether a change helped is not concluded here.',
      'Open questions',
      'What counts',
      'valid in part',
      'Observations',
      'map target 200 kPa',
      'the chain at 6900 rpm',
      '= engine power',
      'one standard deviation of',
      'joined by speed, correlation 0.9',
      'Curve: bandwidth 1.5 Hz',
      'In force: no correction',
      'SHA-256',
      'Method',
      'Guide to the expression of uncertainty',
      'equivalent mass 450.0 ± 4.5 kg',
      'A loosening strap does not show in the data in time.',
      `End of report ${name}.`,
    ])
      expect(text, part).toContain(part);
    expect(text.match(/[0-9a-f]{64}/g)).toHaveLength(7);
    expect(out.match(/<svg /g)?.length).toBe(2);
    expect(text).toMatch(/Void in \d{4} – \d{4} rpm: in a gap of the record/);
  });

  it('keeps its identification while nothing changes, and gets another one with any fact', async () => {
    const name = async (folder: string) =>
      /K-[0-9a-f]{16}/.exec((await said(['report', folder, '--out', '-'])).out)?.[0];
    const first = await name(folderWith(files));
    expect(await name(folderWith(files))).toBe(first);
    const changed = files.map(({ name: file, bytes }) =>
      file === 'day.yaml'
        ? { name: file, bytes: new TextEncoder().encode(new TextDecoder().decode(bytes).replace('450 ±', '451 ±')) }
        : { name: file, bytes },
    );
    expect(await name(folderWith(changed))).not.toBe(first);
  });

  it('shows text of a person as text', async () => {
    const planted = files.map(({ name, bytes }) =>
      name === 'day.yaml'
        ? {
            name,
            bytes: new TextEncoder().encode(new TextDecoder().decode(bytes).replace('Plateau:', '<b onclick=x>&')),
          }
        : { name, bytes },
    );
    const { out } = await said(['report', folderWith(planted), '--out', '-']);
    expect(out).toContain('&lt;b onclick=x&gt;&amp; torque');
    expect(out).not.toContain('<b onclick');
  });

  it('is written as HTML, text or JSON by the ending of its name; another ending is refused', async () => {
    const folder = folderWith(files);
    const at = emptyFolder();
    for (const name of ['r.html', 'r.txt', 'r.json']) {
      expect(await said(['report', folder, '--out', join(at, name)])).toMatchObject({ code: 0, out: '' });
      expect(existsSync(join(at, name))).toBe(true);
    }
    expect((await said(['report', folder, '--out', join(at, 'r.pdf')])).code).toBe(2);
    expect((await said(['report'])).code).toBe(2);
    expect((await said(['report', folder, '--out', join(at, 'nowhere', 'r.html')])).code).toBe(1);
    const imperial = await said(['report', folder, '--out', '-', '--units', 'imperial']);
    expect(imperial.out).toMatch(/\d hp at \d+ rpm/);
    expect(imperial.out).not.toMatch(/\d kW|\d km\/h/);
  });

  it.skipIf(chromiumPath() === undefined)(
    'fits a narrow window and a page of paper (skipped without Chromium)',
    async () => {
      const { out } = await said(['report', folderWith(files), '--out', '-']);
      const browser = await chromium.launch({ executablePath: chromiumPath() ?? '', args: [...CHROMIUM_OPTIONS] });
      try {
        const page = await browser.newPage({ viewport: { width: 420, height: 900 } });
        await page.setContent(out);
        const wide = () => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        expect(await wide()).toBeLessThanOrEqual(0);
        const pdf = await page.pdf({ preferCSSPageSize: true });
        expect(pdf.subarray(0, 4).toString()).toBe('%PDF');
        await page.emulateMedia({ media: 'print' });
        await page.setViewportSize({ width: 690, height: 900 });
        expect(await wide()).toBeLessThanOrEqual(0);
      } finally {
        await browser.close();
      }
    },
  );
});

/** Five points, one missing, one void; engine power unknown. */
function tinyCurve(): PowerCurve {
  const of = (...values: number[]): Float64Array => Float64Array.from(values);
  const none = new Float64Array(5).fill(Number.NaN);
  const zero = new Float64Array(5);
  return {
    axis: 'engine-speed',
    engineSpeed: of(200, 300, 400, 500, 600),
    time: of(0, 1, 2, 3, 4),
    rollSpeed: of(10, 15, 20, 25, 30),
    brakePower: of(50e3, 80e3, Number.NaN, 110e3, 120e3),
    rollInertiaPower: zero,
    rollPower: of(50e3, 80e3, Number.NaN, 110e3, 120e3),
    slip: zero,
    tyrePower: of(51e3, 82e3, Number.NaN, 113e3, 123e3),
    rollingLossPower: none,
    wheelInertiaPower: none,
    torqueLossPower: none,
    engineInertiaPower: none,
    enginePower: none,
    correctedPower: none,
    factor: 1,
    rule: 'none',
    rollPowerUncertainty: of(1e3, 1e3, 1e3, 1e3, 1e3),
    tyrePowerUncertainty: of(1e3, 1e3, 1e3, 1e3, 1e3),
    enginePowerUncertainty: none,
    valid: Uint8Array.of(1, 1, 0, 1, 1),
    missing: [],
    bandwidth: 1.5,
    peakBias: 0,
  };
}

describe('the curve', () => {
  it('is drawn with a line for each known power, a band, its void window, and nothing across a hole', () => {
    const svg = curveSvg(tinyCurve(), 'metric');
    expect(svg).toMatchSnapshot();
    expect(svg).not.toContain('NaN');
    expect(svg).not.toContain('engine power');
  });

  it('is not drawn when no power is known', () => {
    const none = new Float64Array(5).fill(Number.NaN);
    expect(curveSvg({ ...tinyCurve(), rollPower: none, tyrePower: none }, 'metric')).toBe('');
  });

  it('has a void window for every unbroken stretch', () => {
    const axis = { axis: 'engine-speed', rollSpeed: new Float64Array() } as const;
    const engineSpeed = Float64Array.of(Number.NaN, 300, Number.NaN, 500, 600, Number.NaN);
    expect(voidWindows({ ...axis, engineSpeed, valid: Uint8Array.of(0, 1, 0, 0, 1, 0) })).toEqual([
      { from: 0, to: 0, low: undefined, high: 300 },
      { from: 2, to: 3, low: 300, high: 600 },
      { from: 5, to: 5, low: 600, high: undefined },
    ]);
    expect(voidWindows({ ...axis, engineSpeed: new Float64Array(), valid: new Uint8Array() })).toEqual([]);
  });
});
