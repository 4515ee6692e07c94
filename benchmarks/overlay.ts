import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { CHROMIUM_OPTIONS, chromiumPath } from '../tools/chromium.ts';
import type { DrawingTimes } from './overlay-drawing.ts';

/** Median times [ms] of drawing the same pulls our way and with uPlot alone, and ours over uPlot's. */
export interface OverlayFigure {
  readonly what: string;
  readonly first: { readonly ours: number; readonly raw: number; readonly ratio: number };
  readonly redraw: {
    readonly ours: number;
    readonly raw: number;
    readonly ratio: number;
    readonly slowestOurs: number;
  };
}

export interface OverlayBenchmark {
  readonly machine: string;
  readonly figures: readonly OverlayFigure[];
}

const CASES = [
  { what: '60 pulls of 100 points on one grid, as our curves are', curves: 60, points: 100, ownGrid: false },
  { what: '60 pulls of 400 points, each on its own grid', curves: 60, points: 400, ownGrid: true },
] as const;

/**
 * Draws 60 invented pulls in Chromium, our way and with uPlot alone, interleaved in one page. Undefined where no Chromium is.
 * Pictures are rasterised by the processor (no graphics card), and every time includes a pixel read back.
 */
export async function overlayBenchmark(options: { runs?: number } = {}): Promise<OverlayBenchmark | undefined> {
  const { runs = 9 } = options;
  const executablePath = chromiumPath();
  if (executablePath === undefined) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'knurl-overlay-'));
  const browser = await chromium.launch({ executablePath, args: [...CHROMIUM_OPTIONS] });
  try {
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    await page.goto('about:blank');
    for (const { kind, text } of await bundle(folder)) {
      if (kind === 'css') await page.addStyleTag({ content: text });
      else await page.addScriptTag({ content: text });
    }
    const figures: OverlayFigure[] = [];
    for (const wish of CASES) figures.push(await measured(page, wish, runs));
    return {
      machine: `${availableParallelism()} × ${cpus()[0]?.model ?? 'processor'}, Chromium ${browser.version()}`,
      figures,
    };
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function bundle(folder: string): Promise<readonly { kind: 'css' | 'js'; text: string }[]> {
  await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      outDir: folder,
      minify: true,
      lib: {
        entry: join(import.meta.dirname, 'overlay-drawing.ts'),
        formats: ['iife'],
        name: 'drawing',
        fileName: () => 'drawing.js',
        cssFileName: 'drawing',
      },
    },
  });
  return (['css', 'js'] as const).map((kind) => ({
    kind,
    text: readFileSync(join(folder, `drawing.${kind}`), 'utf8'),
  }));
}

async function measured(page: Page, wish: (typeof CASES)[number], runs: number): Promise<OverlayFigure> {
  const drawn = (way: 'ours' | 'raw'): Promise<DrawingTimes> =>
    page.evaluate((all) => window.overlayDrawing(all), { ...wish, way, windows: 12 });
  // One round of each warms the compiler up; a first picture of a person comes later than that.
  await drawn('ours');
  await drawn('raw');
  const times: { ours: DrawingTimes[]; raw: DrawingTimes[] } = { ours: [], raw: [] };
  for (let run = 0; run < runs; run += 1) {
    times.ours.push(await drawn('ours'));
    times.raw.push(await drawn('raw'));
  }
  const firsts = (way: 'ours' | 'raw') => median(times[way].map(({ first }) => first));
  const redraws = (way: 'ours' | 'raw') => times[way].flatMap((one) => one.redraws);
  const [first, raw] = [firsts('ours'), firsts('raw')];
  const [again, rawAgain] = [median(redraws('ours')), median(redraws('raw'))];
  return {
    what: wish.what,
    first: { ours: first, raw, ratio: first / raw },
    redraw: { ours: again, raw: rawAgain, ratio: again / rawAgain, slowestOurs: Math.max(...redraws('ours')) },
  };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const result = await overlayBenchmark();
  if (result === undefined) console.log('No Chromium here: nothing was measured.');
  else {
    console.log(result.machine);
    for (const { what, first, redraw } of result.figures) {
      console.log(what);
      console.log(
        `  first draw  ${first.ours.toFixed(1)} ms, uPlot alone ${first.raw.toFixed(1)} ms, ratio ${first.ratio.toFixed(2)}`,
      );
      console.log(
        `  redraw      ${redraw.ours.toFixed(1)} ms (slowest ${redraw.slowestOurs.toFixed(1)}), uPlot alone ${redraw.raw.toFixed(1)} ms, ratio ${redraw.ratio.toFixed(2)}`,
      );
    }
  }
}
