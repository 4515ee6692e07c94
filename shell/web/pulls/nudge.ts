import type { NudgeView } from '../../contract/index.ts';
import type { PlotSpec } from '../drawing/plot-spec.ts';

/** Correlation of the two logs against the offset of the second one. */
export function nudgeFigure({ offset, correlation }: Pick<NudgeView, 'offset' | 'correlation'>): PlotSpec {
  return {
    label: 'Correlation of the two logs against the offset',
    xLabel: 'offset of the second log on top of what stands, ms',
    yLabel: 'correlation',
    lines: [
      {
        label: 'correlation',
        look: 1,
        x: offset.map((value) => (value === null ? null : Math.round(value * 1000))),
        y: correlation,
      },
    ],
    hatches: [],
    height: 'low',
  };
}

/** Milliseconds in words: `+40 ms`, `–` when unknown. */
export function milliseconds(seconds: number | null, sign = false): string {
  if (seconds === null) return '–';
  const text = (seconds * 1000).toFixed(Math.abs(seconds) < 0.1 ? 1 : 0);
  return `${sign && seconds > 0 ? '+' : ''}${text} ms`;
}
