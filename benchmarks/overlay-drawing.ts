import uPlot from 'uplot';
import type { OverlayView } from '../shell/contract/index.ts';
import { readInk } from '../shell/web/drawing/ink.ts';
import { plotOptions } from '../shell/web/drawing/plot-options.ts';
import { plotColumns } from '../shell/web/drawing/plot-spec.ts';
import { FIRST_PREFERENCES } from '../shell/web/look/preferences.ts';
import { writingFor } from '../shell/web/look/writing.ts';
import { firstFront, overlayFigure } from '../shell/web/pulls/overlay-figure.ts';
import '../shell/web/look/theme.css';

/** Times of one way of drawing [ms]: from data to picture, and again for every window of x. */
export interface DrawingTimes {
  readonly first: number;
  readonly redraws: readonly number[];
}

declare global {
  interface Window {
    overlayDrawing: (wish: {
      way: 'ours' | 'raw';
      curves: number;
      points: number;
      ownGrid: boolean;
      windows: number;
    }) => Promise<DrawingTimes>;
  }
}

const SIZE = { width: 860, height: 320 };

/** Runs inside the browser. Reading one pixel back makes the browser finish the picture, so that nothing is left to be drawn later. */
window.overlayDrawing = async ({ way, windows, ...wish }) => {
  const view = invented(wish);
  const holder = document.createElement('div');
  document.body.append(holder);
  const started = performance.now();
  const plot = way === 'ours' ? ours(view, holder) : raw(view, holder);
  await finished(plot);
  const first = performance.now() - started;
  const redraws: number[] = [];
  for (let turn = 0; turn < windows; turn += 1) {
    const from = 2200 + ((turn * 137) % 1500);
    const before = performance.now();
    plot.setScale('x', { min: from, max: from + 2500 + ((turn * 71) % 900) });
    await finished(plot);
    redraws.push(performance.now() - before);
  }
  plot.destroy();
  holder.remove();
  return { first, redraws };
};

async function finished(plot: uPlot): Promise<void> {
  // uPlot draws in a microtask.
  await Promise.resolve();
  await Promise.resolve();
  plot.ctx.getImageData(0, 0, 1, 1);
}

function ours(view: OverlayView, holder: HTMLElement): uPlot {
  const spec = overlayFigure(view, { what: 'power', front: firstFront(view) }, writingFor(FIRST_PREFERENCES));
  const columns = plotColumns(spec.lines);
  const options = plotOptions({ spec: spec, latest: () => spec }, columns, { ink: readInk(holder), size: SIZE });
  return new uPlot({ ...options, cursor: { y: false } }, columns.data as uPlot.AlignedData, holder);
}

function raw({ curves }: OverlayView, holder: HTMLElement): uPlot {
  const tables = curves.map<uPlot.AlignedData>(({ engineSpeed, power }) => [
    engineSpeed.map((speed) => (speed ?? 0) * (30 / Math.PI)),
    power.map((watts) => (watts ?? 0) / 1000),
  ]);
  const series = [{}, ...curves.map(() => ({ stroke: '#0072b2', width: 1, points: { show: false } }))];
  return new uPlot(
    { ...SIZE, legend: { show: false }, scales: { x: { time: false } }, series },
    uPlot.join(tables),
    holder,
  );
}

/** Invented pulls: on one grid of engine speed, as curves of ours are, or each on its own. */
function invented({ curves, points, ownGrid }: { curves: number; points: number; ownGrid: boolean }): OverlayView {
  const curve = (at: number): OverlayView['curves'][number] => {
    const shift = ownGrid ? at / curves : 0;
    const rpm = Array.from({ length: points }, (_, k) => 2200 + ((k + shift) * 4700) / points);
    const power = rpm.map(
      (n, k) => 1000 * (40 + 0.9 * at + 240 * Math.sin(((n - 2000) / 5200) * 1.5) + Math.sin(k * 0.7 + at)),
    );
    return {
      ...{ entry: `pull-${at}`, pull: 0, title: `pull ${at}`, standing: 'valid' as const },
      engineSpeed: rpm.map((n) => (n * Math.PI) / 30),
      power,
      torque: power.map((watts, k) => watts / (((rpm[k] ?? 1) * Math.PI) / 30)),
      uncertainty: power.map(() => 2500),
      valid: power.map(() => true),
      ...{ factor: 1, ruleValid: true, ruleWhy: '' },
    };
  };
  return {
    ...{ day: 'invented', dayTitle: 'invented', rule: 'none' as const, of: 'engine' as const, left: [] },
    curves: Array.from({ length: curves }, (_, at) => curve(at)),
  };
}
