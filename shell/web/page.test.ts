import { readFileSync } from 'node:fs';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { type RunningServer, startServer } from '../server/index.ts';
import { HELD_FACTS } from '../server/testing/small-day.ts';
import { type SmallDesk, smallDesk } from '../server/testing/small-desk.ts';
import { builtPage, LAPTOP, launched, listenForFaults, NO_BROWSER, offences, WITHOUT } from './testing/browser.ts';

const SLOW = 240_000;

const PLACES = {
  days: '#/',
  day: '#/day/plateau',
  pull: '#/day/plateau/entry/pull-2',
  'held pull': '#/day/plateau/entry/pull-held',
  'pull against engine speed': '#/day/plateau/entry/pull-1?against=engine-speed',
  'refused pull': '#/day/plateau/entry/pull-4',
  'waiting pull': '#/day/plateau/entry/pull-5',
  'coast-down': '#/day/plateau/entry/coast-1',
  overlay: '#/day/plateau/overlay',
  'refused overlay': '#/day/plateau/overlay?rule=ISO%201585%20compression',
  facts: '#/day/plateau/facts',
  limits: '#/day/plateau/limits',
  margins: '#/day/plateau/margins',
  'margins of a step with a goal': '#/day/plateau/margins?at=MAP%20240%20kPa&goal=250%20N%C2%B7m',
  'refused step': '#/day/plateau/margins?at=boost%201%20bar',
  coverage: '#/day/plateau/coverage',
  gate: '#/day/plateau/gate',
  bring: '#/bring?day=plateau&sources=sha-engine.csv',
  gallery: '#/gallery',
  'unknown day': '#/day/none',
};

describe.skipIf(NO_BROWSER)(`the page in a browser${WITHOUT}`, () => {
  let built: Awaited<ReturnType<typeof builtPage>>;
  let browser: Browser;
  let running: RunningServer;
  let desk: SmallDesk;
  let context: BrowserContext;
  const faults: string[] = [];

  beforeAll(async () => {
    [built, browser] = await Promise.all([builtPage(), launched()]);
  }, SLOW);

  afterAll(async () => {
    await browser?.close();
    await running?.close();
    built?.remove();
  });

  afterEach(async () => {
    await context?.close();
    expect(faults.splice(0)).toEqual([]);
  });

  async function open(hash: string, { bypassCSP = false, held = false } = {}): Promise<Page> {
    await running?.close();
    desk = held ? smallDesk(HELD_FACTS) : smallDesk();
    running = await startServer({ desk, webRoot: built.webRoot, fault: (error) => faults.push(String(error)) });
    context = await browser.newContext({ viewport: LAPTOP, bypassCSP });
    const page = await context.newPage();
    listenForFaults(page, running.url, (fault) => faults.push(fault));
    await look(page, hash);
    return page;
  }

  /** Waits until nothing is on its way any more. */
  async function settled(page: Page): Promise<void> {
    await expect.poll(() => page.locator('.loading').count(), { timeout: 20_000 }).toBe(0);
  }

  /** Opens everything that is folded away: it too is checked. */
  async function unfold(page: Page): Promise<void> {
    await page.evaluate(() => {
      for (const part of document.querySelectorAll('details')) part.open = true;
    });
    for (const button of await page
      .locator('.features button.small, .limits button')
      .all()
      .then((all) => all.slice(0, 1)))
      await button.click();
    if (!page.url().endsWith(PLACES.gallery)) await settled(page);
  }

  async function look(page: Page, hash: string): Promise<void> {
    await page.goto(`${running.url}/openapi.json`);
    await page.goto(`${running.url}/${hash}`);
    await page.locator('h1').first().waitFor();
    // The gallery shows the waiting itself.
    if (hash !== PLACES.gallery) await settled(page);
  }

  test(
    'no page offends against WCAG 2.2 A or AA or is wider than its screen, in any light, at both widths',
    async () => {
      // The content policy rightly keeps foreign scripts out; the checker is one.
      const first = await open('#/', { bypassCSP: true, held: true });
      const second = await context.newPage();
      const places = Object.entries(PLACES);
      const checked = async (page: Page, part: readonly (readonly [string, string])[]) => {
        const found: string[] = [];
        for (const [name, hash] of part) {
          await look(page, hash);
          await unfold(page);
          found.push(...(await offences(page, name)));
        }
        return found;
      };
      const half = Math.ceil(places.length / 2);
      const parts = await Promise.all([checked(first, places.slice(0, half)), checked(second, places.slice(half))]);
      expect(parts.flat()).toEqual([]);
    },
    SLOW,
  );

  test('a day says that it is invented, and its strip leads to a pull by keyboard', async () => {
    const page = await open(PLACES.day);
    expect(await page.locator('.invented').textContent()).toContain('no real engine');
    await page.locator('.mark-place').nth(1).focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await page.waitForURL(/entry\/pull-2/);
    expect(await page.locator('.sentence').textContent()).toContain('spark breakup');
  });

  test('one cursor moves through curve, chain and traces', async () => {
    const page = await open(PLACES.pull);
    const chain = page.locator('.chain-place strong');
    const peak = await chain.textContent();
    await page.locator('.plot-tall').focus();
    await page.keyboard.press('Home');
    expect(await chain.textContent()).toBe('3000 rpm');
    expect(await chain.textContent()).not.toBe(peak);
    expect(await page.locator('.trace-value').first().textContent()).toMatch(/\d/);
  });

  test('the address bar keeps how a pull is looked at', async () => {
    const page = await open(PLACES.pull);
    await page.keyboard.press('x');
    await page.waitForURL(/against=engine-speed/);
    await page.reload();
    expect(await page.getByRole('radio', { name: 'engine speed' }).isChecked()).toBe(true);
  });

  test('what was worked out is kept as a file', async () => {
    const page = await open(PLACES.pull);
    await page.getByText('Keep it as a file').click();
    const link = page.getByRole('link', { name: /Curves of every pull.*parquet/ });
    const [file] = await Promise.all([page.waitForEvent('download'), link.click()]);
    expect(file.suggestedFilename()).toBe('pull-2-curves.parquet');
    expect(readFileSync(await file.path(), 'utf8')).toBe('pull-2 curves parquet');
  });

  test('logs are brought in: a question answered by keyboard, a verdict at the end', async () => {
    const page = await open('#/bring?day=plateau');
    await page.locator('input[type=file]').setInputFiles(
      ['roller.csv', 'engine.csv'].map((name) => ({
        name,
        mimeType: 'text/csv',
        buffer: Buffer.from('time;n\n0,1;900\n'),
      })),
    );
    for (const at of [0, 1]) {
      const file = page.locator('.mapping').nth(at);
      await file.getByRole('group', { name: /before or after the throttle/ }).waitFor();
      await file.getByRole('radio', { name: /do not use it/ }).focus();
      await page.keyboard.press('ArrowUp');
      await file.getByRole('button', { name: 'These meanings are right' }).press('Enter');
      await file.getByText('The meanings are kept').waitFor();
    }
    await page.getByRole('button', { name: 'Show what it made' }).click();
    await page.waitForURL(/entry\/pull-7/);
    expect(desk.decided[0]?.columns.find(({ column }) => column === 'P_in')?.meaning).toBe('boost-pressure');
  });

  test('a file that cannot be read is refused in plain words', async () => {
    const page = await open('#/bring?day=plateau');
    await page
      .locator('input[type=file]')
      .setInputFiles([{ name: 'empty.csv', mimeType: 'text/csv', buffer: Buffer.from('x') }]);
    expect(await page.getByRole('alert').textContent()).toContain('missing columns: empty.csv holds no table');
  });

  test('a fact with a comma is refused beside its field; a right one is kept, and undone', async () => {
    const page = await open(PLACES.facts);
    const mass = page.getByLabel('Equivalent mass of the rolls');
    await mass.fill('1,5 t');
    await page.getByRole('button', { name: 'Save the facts' }).click();
    await page.locator('.field-error').waitFor();
    expect(await mass.getAttribute('aria-invalid')).toBe('true');
    await mass.fill('990 lb');
    await page.getByRole('button', { name: 'Save the facts' }).click();
    await page.getByText('Saved.').waitFor();
    const facts = desk.facts('plateau');
    expect(facts.ok && facts.value.roller.equivalentMass?.value).toBeCloseTo(449.06, 2);
    await page.getByRole('button', { name: 'Undo the last change' }).click();
    await expect.poll(() => mass.inputValue()).toBe('450 ± 5 kg');
  });

  test('a slider turns the step by keyboard, a number does too, and the address keeps it', async () => {
    const page = await open(PLACES.margins);
    const cell = page.getByRole('row', { name: /^injector duty|^exhaust temperature/ }).first();
    const before = await cell.textContent();
    await page.getByLabel('Manifold pressure', { exact: true }).focus();
    for (let step = 0; step < 5; step += 1) await page.keyboard.press('ArrowRight');
    await page.waitForURL(/at=MAP\+185\+kPa/);
    await expect.poll(() => cell.textContent()).not.toBe(before);
    const number = page.getByLabel('Plug gap, number');
    await number.fill('0.5');
    await number.press('Enter');
    await page.waitForURL(/gap\+0.5\+mm/);
    await page.getByRole('button', { name: 'Manifold pressure as on the day' }).click();
    await page.waitForURL(/at=gap\+0.5\+mm$/);
    await expect.poll(() => cell.textContent()).toBe(before);
  });

  test('two sliders turned before an answer came are both in force', async () => {
    const page = await open(PLACES.margins);
    await page.locator('.heat').first().waitFor();
    await page.getByLabel('Manifold pressure', { exact: true }).press('ArrowRight');
    await page.getByLabel('Straps', { exact: true }).press('ArrowRight');
    await page.waitForURL(/at=MAP\+181\+kPa%2C\+straps/);
    expect(await page.getByLabel('Manifold pressure, number').inputValue()).toBe('181');
  });

  test('one cycle is looked at at another engine speed, and what is not stated leads to its field', async () => {
    const page = await open(PLACES.margins);
    const speed = page.getByLabel('Engine speed', { exact: true });
    await speed.selectOption({ label: '5000 rpm' });
    await page.waitForURL(/speed=5000\+rpm/);
    await page.locator('.crank-drawings canvas').first().waitFor();
    await page.getByRole('link', { name: 'State rod tension', exact: true }).press('Enter');
    await page.waitForURL(/facts\?field=parts\.rodTension/);
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('fact-parts.rodTension');
  });

  test('a result is carried to four cylinders; a number that cannot be read is refused in words', async () => {
    const page = await open(PLACES.margins);
    const form = page.getByRole('form', { name: 'Carry a result over' });
    await form.getByLabel('Cylinders').fill('4');
    await form.getByRole('button', { name: 'Carry it over' }).press('Enter');
    await page.getByText('gas exchange: pulses of other numbers of cylinders').waitFor();
    await form.getByLabel('Displacement').fill('2,5 L');
    await form.getByRole('button', { name: 'Carry it over' }).press('Enter');
    await page.getByText(/displacement: invalid volume/).waitFor();
    expect(await form.getByLabel('Cylinders').inputValue()).toBe('4');
  });

  test('units switch by one key and are kept', async () => {
    const page = await open(PLACES.pull);
    await page.locator('.key-numbers').waitFor();
    expect(await page.locator('.key-numbers').textContent()).toContain('kW');
    await page.keyboard.press('u');
    expect(await page.locator('.key-numbers').textContent()).toContain('hp');
    await page.reload();
    await page.locator('.key-numbers').waitFor();
    expect(await page.locator('.key-numbers').textContent()).toContain('hp');
  });

  test('the gate counts what was seen and never says that a pull is safe', async () => {
    const page = await open(PLACES.gate);
    for (const box of await page.getByRole('checkbox').all()) await box.check();
    expect(await page.locator('.gate-state').textContent()).toContain('operator’s decision');
  });

  test('a hold is told by a word on the pull, the day, its mark and the gate; a reason lifts it, and undoing brings it back', async () => {
    const page = await open(PLACES['held pull'], { held: true });
    const plate = page.locator('.plate-2');
    expect(await plate.textContent()).toMatch(/hold.*No more load.*cylinder head lifting/);
    for (const place of [PLACES.day, PLACES.gate]) {
      await look(page, place);
      expect(await plate.textContent()).toContain('cylinder head lifting');
    }
    await look(page, PLACES.day);
    expect(await page.locator('.mark-place').last().getAttribute('aria-label')).toContain('hold');
    await look(page, PLACES['held pull']);
    await page.getByText('Overrule it').press('Enter');
    await page.getByRole('button', { name: 'Overrule' }).press('Enter');
    expect(await plate.count()).toBe(1);
    await page.getByLabel(/Why cylinder head lifting is overruled/).fill('the cap was loose');
    await page.keyboard.press('Enter');
    await page.getByText('Overruled, because: the cap was loose').waitFor();
    expect(await plate.count()).toBe(0);
    await page.getByRole('button', { name: 'Undo the last change' }).press('Enter');
    await plate.waitFor();
  });

  test('a limit is tried before it is kept: a comma is refused, what would go is told, then it is gone', async () => {
    const page = await open(PLACES.pull);
    const spark = page.locator('.occurrence', { hasText: 'Spark breakup' }).first();
    await page.getByRole('button', { name: /Change the limit of roughness/ }).press('Enter');
    const limit = spark.locator('.limit-form input');
    await limit.fill('12,5 %');
    await page.keyboard.press('Enter');
    expect(await spark.getByRole('alert').textContent()).toContain('decimal point, no comma');
    expect(await limit.getAttribute('aria-invalid')).toBe('true');
    await limit.fill('20 %');
    await page.keyboard.press('Enter');
    await page.getByText(/Gone: spark breakup/).waitFor();
    const facts = () => desk.facts('plateau');
    const kept = () => {
      const now = facts();
      return now.ok ? now.value.thresholds : undefined;
    };
    expect(kept()).toBeUndefined();
    await page.getByRole('button', { name: 'Keep for this day' }).press('Enter');
    await expect.poll(kept).toEqual({ 'roughness.share': '20 %' });
    await look(page, PLACES.limits);
    await page.getByLabel('only those that a person set').check();
    expect(await page.locator('.limits tbody').count()).toBe(1);
    await page.keyboard.press('z');
    await expect.poll(() => page.locator('.limits tbody').count()).toBe(0);
  });

  test('a channel that is ticked opens faults, and the address keeps the choice', async () => {
    const page = await open(PLACES.coverage);
    const line = page.getByRole('row', { name: /^low oil pressure/ });
    expect(await line.textContent()).toMatch(/would not show.*oil pressure/);
    await page.getByText(/Channels that will be logged/).press('Enter');
    await page.getByRole('checkbox', { name: 'oil pressure' }).press('Space');
    await page.waitForURL(/channels=.*oil-pressure/);
    await expect.poll(() => line.textContent()).not.toContain('would not show');
  });

  test('what could not be told names the channel that would open it', async () => {
    const page = await open(PLACES.pull);
    await page.getByText('Cannot tell: 2 faults').press('Enter');
    expect(await page.locator('.blind').textContent()).toMatch(
      /oil pressure.*low oil pressure.*turbocharger overspeed:/,
    );
  });

  test('the nudge shows what is left over, keeps and forgets', async () => {
    const page = await open(PLACES.pull);
    await page.getByText('Compare the logs, or nudge by hand').click();
    await page.getByRole('slider').focus();
    await page.keyboard.press('ArrowRight');
    await page.getByText('Moved by +5.0 ms').waitFor();
    await page.getByRole('button', { name: 'Keep this nudge' }).click();
    await page.getByText('now +5.0 ms').waitFor();
  });
});
