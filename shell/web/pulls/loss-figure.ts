import type { LossView } from '../../contract/index.ts';
import type { PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/use-preferences.ts';

/** Loss force against roll speed. */
export function lossFigure({ speed, force }: Pick<LossView, 'speed' | 'force'>, writing: Writing): PlotSpec {
  return {
    label: 'Loss force against roll speed',
    xLabel: `roll speed, ${writing.symbol('speed')}`,
    yLabel: `force, ${writing.symbol('force')}`,
    lines: [
      {
        label: 'loss force',
        look: 1,
        x: speed.map((value) => writing.plain(value, 'speed')),
        y: force.map((value) => writing.plain(value, 'force')),
      },
    ],
    hatches: [],
    height: 'low',
    floor: 0,
  };
}
