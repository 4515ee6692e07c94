import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { buildPage } from '../tools/build-page.ts';
import { CHROMIUM_OPTIONS, chromiumPath } from '../tools/chromium.ts';

/** From a slider to the screen [ms]. @source our aim */
const AIM = 50;
const TURNS = 60;
/** Between two turns of a hand that drags [ms]. */
const PACE = 80;

interface Dragged {
  /** From the turn to the frame that shows its answer [ms], of the turns that were shown. */
  readonly times: readonly number[];
  /** Processor time of the page's main thread for each of them [ms]. */
  readonly page: number;
}

/** A hand drags the slider of manifold pressure on the demonstration day, in a headless browser with the server beside it. */
export async function slidersPageBenchmark(): Promise<Dragged> {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-sliders-'));
  buildPage();
  const main = join(import.meta.dirname, '..', 'shell', 'cli', 'main.ts');
  const server = spawn(process.execPath, [main, 'demo', '--store', join(folder, 's'), '--folder', join(folder, 'day')]);
  const path = chromiumPath();
  const browser = await chromium.launch({ ...(path && { executablePath: path }), args: [...CHROMIUM_OPTIONS] });
  try {
    const address = await addressOf(server);
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    await page.goto(`${address}/margins`);
    await page.locator('.heat').first().waitFor({ timeout: 300_000 });
    await page.waitForTimeout(3000);
    const session = await page.context().newCDPSession(page);
    await session.send('Performance.enable', { timeDomain: 'threadTicks' });
    const spent = async (): Promise<number> => {
      const { metrics } = await session.send('Performance.getMetrics');
      return 1000 * (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN);
    };
    await drag(page, TURNS / 4);
    await page.waitForTimeout(1500);
    const before = await spent();
    const times = await drag(page, TURNS);
    return { times: [...times].sort((a, b) => a - b), page: ((await spent()) - before) / times.length };
  } finally {
    await browser.close();
    server.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

function addressOf(server: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    server.stdout?.on('data', (part) => {
      text += part;
      const found = /http\S+/.exec(text)?.[0];
      if (found) resolve(found);
    });
    server.once('exit', () => reject(new Error('the server ended')));
  });
}

/** Sets the slider again and again, and waits for the frame after the sentence that names the pressure. */
function drag(page: Page, turns: number): Promise<readonly number[]> {
  return page.evaluate(
    async ({ count, pace }) => {
      const slider = document.querySelector<HTMLInputElement>('.step-line input[type=range]');
      const sentence = document.querySelector('.margins-answer > p.quiet');
      const put = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set;
      if (!slider || !sentence || !put) throw new Error('no slider here');
      const turned = new Map<number, number>();
      const times: number[] = [];
      const observer = new MutationObserver(() => {
        const at = Number(/At (\d+)/.exec(sentence.textContent ?? '')?.[1]);
        const from = turned.get(at);
        turned.delete(at);
        if (from === undefined) return;
        // a message sent within the frame arrives when it has been handed to the screen
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => times.push(performance.now() - from);
          port2.postMessage(0);
        });
      });
      observer.observe(sentence, { subtree: true, characterData: true, childList: true });
      for (let i = 0; i < count; i += 1) {
        const value = 150 + i;
        turned.set(value, performance.now());
        put.call(slider, String(value));
        slider.dispatchEvent(new Event('input', { bubbles: true }));
        await new Promise((done) => setTimeout(done, pace));
      }
      observer.disconnect();
      return times;
    },
    { count: turns, pace: PACE },
  );
}

if (import.meta.main) {
  const load = loadavg()[0] ?? 0;
  const { times, page } = await slidersPageBenchmark();
  const at = (share: number) => times[Math.min(times.length - 1, Math.floor(share * times.length))] ?? Number.NaN;
  console.log(
    `  slider to screen: least ${at(0).toFixed(0)} ms, median ${at(0.5).toFixed(0)}, nine in ten within ${at(0.9).toFixed(0)}, against the aim of ${AIM} ms: ${(at(0.5) / AIM).toFixed(2)}`,
  );
  console.log(
    `  ${times.length} of ${TURNS} turns shown at one every ${PACE} ms; ${page.toFixed(1)} ms of processor time in the page for each; load at the start ${load.toFixed(1)}`,
  );
}
