import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { CHROMIUM_OPTIONS, chromiumPath } from '../../../tools/chromium.ts';

export const LAPTOP = { width: 1366, height: 768 };
export const TABLET = { width: 820, height: 1180 };
const THEMES = ['light', 'dark', 'sunlight'] as const;

const found = chromiumPath();

/** True when no browser is there; `WITHOUT` then says so in the name of the tests. */
export const NO_BROWSER = found === undefined;
export const WITHOUT = NO_BROWSER ? ' (SKIPPED: no Chromium here; name one in KNURL_CHROMIUM)' : '';

export function launched(): Promise<Browser> {
  return chromium.launch({ ...(found !== undefined && { executablePath: found }), args: [...CHROMIUM_OPTIONS] });
}

/** The page, built into a folder of its own. */
export async function builtPage(): Promise<{ readonly webRoot: string; readonly remove: () => void }> {
  const webRoot = mkdtempSync(join(tmpdir(), 'knurl-page-'));
  const configFile = fileURLToPath(new URL('../../../vite.config.ts', import.meta.url));
  await build({ configFile, logLevel: 'silent', build: { outDir: webRoot, emptyOutDir: true } });
  return { webRoot, remove: () => rmSync(webRoot, { recursive: true, force: true }) };
}

/** Tells every error of a page and every request that leaves `url`. */
export function listenForFaults(page: Page, url: string, tell: (fault: string) => void): void {
  page.on('pageerror', (error) => tell(`page: ${error.message}`));
  page.on('request', (request) => {
    if (!request.url().startsWith(url) && !/^(data|blob):/.test(request.url())) tell(`foreign: ${request.url()}`);
  });
}

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const EVERYTHING = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
/** The rules that a theme or a width can break where another did not. */
const OF_LOOKS = ['color-contrast', 'target-size', 'scrollable-region-focusable', 'link-in-text-block'];

/**
 * Offences of what the page shows now: every rule once, and those that depend on looks in all themes at both widths;
 * and where it is wider than its screen. The page must have been opened without its content policy.
 */
export async function offences(page: Page, name: string): Promise<readonly string[]> {
  await page.evaluate(AXE);
  const all: string[] = [];
  const before = await page.evaluate(() => document.documentElement.dataset['theme']);
  const size = page.viewportSize();
  for (const viewport of [LAPTOP, TABLET]) {
    await page.setViewportSize(viewport);
    for (const theme of THEMES) {
      await page.evaluate((look) => document.documentElement.setAttribute('data-theme', look), theme);
      const first = viewport === LAPTOP && theme === 'light';
      const where = `${name}, ${theme}, ${viewport.width} px`;
      const rules = first ? { type: 'tag', values: EVERYTHING } : { type: 'rule', values: OF_LOOKS };
      all.push(...(await offended(page, rules)).map((offence) => `${where}: ${offence}`));
      const beyond = await widerThanScreen(page);
      if (beyond > 0) all.push(`${where}: ${beyond} px wider than the screen`);
    }
  }
  await page.evaluate((look) => document.documentElement.setAttribute('data-theme', look ?? 'light'), before);
  if (size) await page.setViewportSize(size);
  return all;
}

/** How much wider the page is than its screen [px]; drawings get a second to follow a new width. */
async function widerThanScreen(page: Page): Promise<number> {
  const beyond = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  for (let turn = 0; turn < 10 && (await beyond()) > 0; turn += 1) await page.waitForTimeout(100);
  return beyond();
}

function offended(page: Page, runOnly: object): Promise<readonly string[]> {
  // Written as text: the page's own types do not know the checker.
  return page.evaluate<string[]>(
    `axe.run(document, ${JSON.stringify({ runOnly })}).then(({ violations }) => violations.map(({ id, nodes }) => id + ' ' + nodes[0].html))`,
  );
}
