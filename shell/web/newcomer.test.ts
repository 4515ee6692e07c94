import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { waveBytes } from '../../day/channels/sound/testing/wave-bytes.ts';
import { type MadeFile, makeSimpleDay } from '../../scenarios/index.ts';
import { type Desk, openDesk } from '../desk/index.ts';
import { type RunningServer, startServer } from '../server/index.ts';
import { builtPage, LAPTOP, launched, listenForFaults, NO_BROWSER, offences, WITHOUT } from './testing/browser.ts';

const SLOW = 120_000;

/** Another vehicle, dialect and units than those of the demonstration day. */
const MADE = makeSimpleDay({
  seed: 7,
  roller: 'brake',
  units: 'imperial',
  dialect: 'semicolon',
  oneFile: false,
  pulls: 2,
  rates: { roller: 50, engine: 100 },
});
/** A log whose manifold pressure goes by a word that leaves open from where it counts. */
const log = (name: string): MadeFile => {
  const found = MADE.files.find((file) => file.name === name);
  if (!found) throw new Error(`missing file: ${name}`);
  const text = new TextDecoder().decode(found.bytes);
  return { name, bytes: new TextEncoder().encode(text.replace('Manifold pressure', 'Boost')) };
};
const TRUTH = MADE.truth.entries.find(({ id }) => id === '1');

describe.skipIf(NO_BROWSER)(`a newcomer with two files${WITHOUT}`, () => {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-newcomer-'));
  const faults: string[] = [];
  const offended: string[] = [];
  let built: Awaited<ReturnType<typeof builtPage>>;
  let browser: Browser;
  let desk: Desk;
  let running: RunningServer;
  let page: Page;
  /** What a hand did: a key that acts, a field that was filled, a drop. */
  let acts = 0;

  beforeAll(async () => {
    const opened = await openDesk({ directory: join(folder, 'store'), now: () => new Date(0).toISOString() });
    if (!opened.ok) throw new Error(opened.refusal.message);
    desk = opened.value;
    [built, browser] = await Promise.all([builtPage(), launched()]);
    running = await startServer({ desk, webRoot: built.webRoot, fault: (error) => faults.push(String(error)) });
    const context = await browser.newContext({ viewport: LAPTOP, bypassCSP: true });
    page = await context.newPage();
    page.setDefaultTimeout(10_000);
    listenForFaults(page, running.url, (fault) => faults.push(fault));
  }, SLOW);

  afterAll(async () => {
    await browser?.close();
    await running?.close();
    desk?.close();
    built?.remove();
    rmSync(folder, { recursive: true, force: true });
  });

  /** Walks with Tab to what is named, as a hand without a mouse does. */
  async function tabTo(selector: string): Promise<void> {
    const target = page.locator(selector).first();
    await target.waitFor();
    for (let turn = 0; turn < 120; turn += 1) {
      if (await target.evaluate((element) => element === document.activeElement)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`not reachable by keyboard: ${selector}`);
  }

  async function press(selector: string, key = 'Enter'): Promise<void> {
    await tabTo(selector);
    await page.keyboard.press(key);
    acts += 1;
  }

  async function write(selector: string, text: string): Promise<void> {
    await tabTo(selector);
    await page.keyboard.type(text);
    acts += 1;
  }

  async function drop(files: readonly MadeFile[]): Promise<void> {
    const carried = files.map(({ name, bytes }) => ({ name, text: Buffer.from(bytes).toString('base64') }));
    const transfer = await page.evaluateHandle((all) => {
      const data = new DataTransfer();
      for (const { name, text } of all)
        data.items.add(new File([Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))], name));
      return data;
    }, carried);
    await page.dispatchEvent('.drop', 'drop', { dataTransfer: transfer });
    acts += 1;
  }

  test('begins a day and drops two logs; the keyboard answers what the logs leave open', {
    timeout: SLOW,
  }, async () => {
    await page.goto(running.url);
    await page.getByText('No day yet').waitFor();
    offended.push(...(await offences(page, 'no day')));
    await write('input[name=title]', 'First day');
    await page.keyboard.press('Enter');
    acts += 1;
    await drop([log('run-1-roller.csv'), log('run-1-engine.csv')]);
    await page.locator('.mapping').nth(1).waitFor();
    await page.locator('.mapping').getByRole('button', { name: 'These meanings are right' }).nth(1).waitFor();
    offended.push(...(await offences(page, 'questions')));
    // The engine's log names a pressure "Boost": a person knows that at rest it shows the air's own, so that it counts from vacuum.
    const question = page.locator('.question', { hasText: 'Boost' });
    expect(await question.locator('legend').textContent()).toContain('In which unit is "Boost"');
    expect(await page.locator('.question').count()).toBe(1);
    await tabTo('.question input[type=radio]:checked');
    while (!(await question.getByRole('radio', { name: /^manifold pressure, psi\b(?! above)/ }).isChecked())) {
      await page.keyboard.press('ArrowUp');
    }
    acts += 1;
    await press('button:has-text("These meanings are right")');
    await page.getByText('The meanings are kept').first().waitFor();
    await press('button:has-text("These meanings are right")');
  });

  test('types two facts and gets a verdict near the truth, with a band and with what is missing', {
    timeout: SLOW,
  }, async () => {
    await page.getByLabel('Equivalent mass of the rolls').waitFor();
    offended.push(...(await offences(page, 'two facts')));
    await tabTo('select[name="roller.kind"]');
    await page.keyboard.type('brake');
    acts += 1;
    await write('input[name="roller.equivalentMass"]', '342.7 ± 3.4 kg');
    const began = performance.now();
    await press('button:has-text("Show what it made")');
    await page.locator('.sentence').waitFor();
    const seconds = (performance.now() - began) / 1000;
    const sentence = String(await page.locator('.made').textContent());
    const [, value, band] = /([\d.]+)\s±\s([\d.]+)\skW on the roll/.exec(sentence) ?? [];
    const most = Math.max(...(TRUTH?.curve?.rollPower ?? [])) / 1000;
    expect(Math.abs(Number(value) - most)).toBeLessThan(Number(band) + 0.01 * most);
    // Without a coast-down engine power is not claimed, and the page says what is missing.
    expect(sentence).not.toContain('at the engine');
    expect(await page.locator('.missing').textContent()).toMatch(/coast-down|loss/);
    offended.push(...(await offences(page, 'verdict')));
    expect(acts).toBe(9);
    expect(seconds).toBeLessThan(20);
  });

  test('nudges the clock and takes it back', { timeout: SLOW }, async () => {
    const left = async () =>
      Number(/left over ([\d.]+) ms/.exec(String(await page.locator('.nudge [role=status]').textContent()))?.[1]);
    await press('summary:has-text("nudge by hand")');
    await page.locator('.nudge [role=status]').waitFor();
    const before = await left();
    await tabTo('.nudge input[type=range]');
    for (let step = 0; step < 20; step += 1) await page.keyboard.press('ArrowRight');
    await page.getByText('Moved by +100 ms').waitFor();
    expect(await left()).toBeGreaterThan(5 * before);
    offended.push(...(await offences(page, 'nudge')));
    await press('button:has-text("Keep this nudge")');
    await page.getByText('(now +100 ms)').waitFor();
    await press('summary:has-text("nudge by hand")');
    await press('button:has-text("Forget the nudge")');
    await page.getByText('(now +100 ms)').waitFor({ state: 'detached' });
  });

  test('a sound is put beside the logs with nothing to decide', { timeout: SLOW }, async () => {
    await page.keyboard.press('b');
    await page.locator('.drop').waitFor();
    await drop([
      { name: 'sound.wav', bytes: waveBytes({ tracks: [Float64Array.from({ length: 8000 }, (_, i) => Math.sin(i))] }) },
    ]);
    const line = page.locator('.mapping', { hasText: 'sound.wav' });
    await line.waitFor();
    expect(await line.textContent()).toContain('sound, 1.0 s, 1 track at 8000 Hz');
    await press('button:has-text("Put it beside the logs")');
    await page.getByText('It will stand beside the logs').waitFor();
    offended.push(...(await offences(page, 'sound')));
  });

  test('a broken file is refused in plain words; what was there stays', { timeout: SLOW }, async () => {
    await page.keyboard.press('b');
    await page.locator('.drop').waitFor();
    const bytes = Uint8Array.from({ length: 4096 }, (_, at) => (at * 7919) % 256);
    await drop([{ name: 'broken.csv', bytes }]);
    const alert = page.getByRole('alert');
    await alert.waitFor();
    expect(await alert.textContent()).toContain('broken.csv was not taken in');
    offended.push(...(await offences(page, 'refusal')));
    await page.keyboard.press('d');
    await page.locator('.strip .mark-block').waitFor();
    expect(await page.locator('.entry-line').count()).toBe(1);
  });

  test('a pull saved into the watched folder appears, analysed, without a click', { timeout: SLOW }, async () => {
    const [watched, arriving] = ['day', 'arriving'].map((name) => mkdtempSync(join(folder, name)));
    if (!watched || !arriving) throw new Error('missing folder');
    for (const name of ['day.yaml', 'coast-1-roller.csv', 'coast-1-engine.csv', 'run-1-roller.csv', 'run-1-engine.csv'])
      writeFileSync(join(watched, name), log(name).bytes);
    await page.keyboard.press('a');
    await write('input[name=path]', watched);
    await page.keyboard.press('Enter');
    await page.getByText('Watching the folder').waitFor();
    for (const name of ['run-2-roller.csv', 'run-2-engine.csv']) {
      writeFileSync(join(arriving, name), log(name).bytes);
      copyFileSync(join(arriving, name), join(watched, name));
    }
    const second = page.locator('.entry-line').nth(2).locator('.entry-sentence');
    await expect.poll(() => second.textContent(), { timeout: 30_000 }).toMatch(/ at the engine[ ,]/);
    expect(await page.locator('.watch').textContent()).toContain('new:');
    offended.push(...(await offences(page, 'watched day')));
  });

  test('none of these states offends against WCAG 2.2 A or AA, and nothing went wrong on the way', () => {
    expect(offended).toEqual([]);
    expect(faults).toEqual([]);
  });
});
