import type { LimitPictures } from '../../contract/index.ts';
import type { PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/writing.ts';

/** The map as lines over corrected flow, the engine's own line strongest. */
export function compressorFigure({ lines, surge, operating }: LimitPictures['compressor'], writing: Writing): PlotSpec {
  const flow = (values: readonly (number | null)[]) => values.map((value) => writing.plain(value, 'mass-flow'));
  return {
    label: 'Compressor map: pressure ratio over corrected flow, with the line on which the engine runs',
    xLabel: `corrected flow [${writing.symbol('mass-flow')}]`,
    yLabel: 'pressure ratio',
    lines: [
      ...lines.map(({ flow: x, pressureRatio }, at) => ({
        ...{ label: `speed line ${at + 1}`, x: flow(x), y: pressureRatio, look: 6, faint: true },
      })),
      { label: 'surge line', x: flow(surge.flow), y: surge.pressureRatio, look: 2 },
      { label: 'this step, over engine speed', x: flow(operating.flow), y: operating.pressureRatio, look: 1 },
    ],
    hatches: [],
    height: 'tall',
    floor: 1,
  };
}

/** What the charge cooler still holds, with the band of its time constant. */
export function soakFigure({ time, rise, low, high }: LimitPictures['soak'], writing: Writing): PlotSpec {
  const minutes = time.map((one) => (one === null ? null : one / 60));
  const shown = (values: readonly (number | null)[]) =>
    values.map((value) => writing.plain(value, 'temperature-difference'));
  return {
    label: 'Heat in the charge cooler after a pull',
    xLabel: 'time after the pull [min]',
    yLabel: `above outside air [${writing.symbol('temperature-difference')}]`,
    lines: [
      { label: 'heat left', x: minutes, y: shown(rise), look: 1 },
      { label: 'quicker', x: minutes, y: shown(low), look: 1, faint: true },
      { label: 'slower', x: minutes, y: shown(high), look: 1, faint: true },
    ],
    hatches: [],
    height: 'middle',
    floor: 0,
  };
}
