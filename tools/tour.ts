import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import { build } from 'vite';
import { makePlateauDay } from '../scenarios/index.ts';
import { openDesk } from '../shell/desk/index.ts';
import { startServer } from '../shell/server/index.ts';
import { CHROMIUM_OPTIONS, chromiumPath } from './chromium.ts';

/** Takes the two pictures of the README from the demonstration day: `node tools/tour.ts`. Everything it starts ends with it. */
const ROOT = join(import.meta.dirname, '..');
const OUT = join(ROOT, 'docs', 'tour');
/** Seed of the demonstration day as everybody sees it. */
const SEED = 1420;
const LARGEST = 300_000;

const executablePath = chromiumPath();
if (executablePath === undefined) {
  console.error('No Chromium here: no picture was taken. Install Chromium or name one in KNURL_CHROMIUM.');
  process.exit(1);
}
const folder = mkdtempSync(join(tmpdir(), 'knurl-tour-'));
try {
  await pictures(executablePath);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function pictures(path: string): Promise<void> {
  const [webRoot, logs] = ['web', 'demonstration-day'].map((name) => join(folder, name));
  if (webRoot === undefined || logs === undefined) return;
  await build({
    root: join(ROOT, 'shell', 'web'),
    configFile: join(ROOT, 'vite.config.ts'),
    logLevel: 'silent',
    build: { outDir: webRoot },
  });
  mkdirSync(logs);
  for (const { name, bytes } of makePlateauDay({ seed: SEED }).files) writeFileSync(join(logs, name), bytes);
  const desk = await openDesk({ directory: join(folder, 'store'), now: () => new Date().toISOString() });
  if (!desk.ok) throw new Error(desk.refusal.message);
  const day = await desk.value.openFolder(logs);
  if (!day.ok) throw new Error(day.refusal.message);
  const server = await startServer({ desk: desk.value, webRoot });
  const browser = await chromium.launch({ executablePath: path, args: [...CHROMIUM_OPTIONS] });
  try {
    await shoot(browser, `${server.url}/#/day/${day.value.id}`, 'strip');
    await shoot(browser, `${server.url}/#/day/${day.value.id}/entry/9`, 'pull');
  } finally {
    await browser.close();
    await server.close();
    desk.value.close();
  }
}

/** One picture of what the address shows when its drawing stands. */
async function shoot(browser: Browser, address: string, name: 'strip' | 'pull'): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 1366, height: name === 'strip' ? 768 : 860 } });
  await page.goto(address);
  await page
    .locator(name === 'strip' ? '.drift circle' : '.curve-and-chain canvas')
    .first()
    .waitFor({ timeout: 120_000 });
  // The watched folder is a temporary one of this machine.
  await page.evaluate("document.querySelector('.watch')?.remove()");
  await page.waitForTimeout(500);
  mkdirSync(OUT, { recursive: true });
  const file = join(OUT, `${name}.png`);
  await page.screenshot({ path: file });
  await page.close();
  const { size } = statSync(file);
  if (size > LARGEST) throw new Error(`invalid size of ${name}.png: ${size} bytes, expected at most ${LARGEST}`);
  console.log(`docs/tour/${name}.png, ${Math.round(size / 1000)} kB`);
}
