import type { OverlayCurve, OverlayView } from '../../contract/index.ts';
import type { PlotLine, PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/use-preferences.ts';

/** More bands than this hide each other. */
const MOST_BANDS = 3;

/** front: place of the curve that stands before the others; undefined: all alike. */
export interface OverlayLook {
  readonly what: 'power' | 'torque';
  readonly front?: number | undefined;
}

/** More curves than looks: one must stand before the others, or none can be found again. */
const MOST_ALIKE = 6;

/** The curve that stands before the others at first: the latest, when there are more curves than looks. */
export function firstFront({ curves }: Pick<OverlayView, 'curves'>): number | undefined {
  return curves.length > MOST_ALIKE ? curves.length - 1 : undefined;
}

/** Several pulls over each other; the one in front is drawn last. Points that are not usable are left out. Bands only while they can be told apart. */
export function overlayFigure(view: OverlayView, { what, front }: OverlayLook, writing: Writing): PlotSpec {
  const banded = what === 'power' && view.curves.length <= MOST_BANDS;
  return {
    label: `${what} of ${view.curves.length} pulls against engine speed`,
    xLabel: `engine speed, ${writing.symbol('engine-speed')}`,
    yLabel: `${view.of} ${what}, ${writing.symbol(what)}`,
    lines: inFront(view.curves, front).map(({ curve, at }) =>
      lineOf(
        curve,
        {
          look: front === undefined ? at + 1 : 1,
          what,
          banded: banded || front === at,
          faint: front !== undefined && front !== at,
        },
        writing,
      ),
    ),
    hatches: [],
    height: 'tall',
  };
}

function inFront(curves: readonly OverlayCurve[], front: number | undefined) {
  const placed = curves.map((curve, at) => ({ curve, at }));
  return [...placed.filter(({ at }) => at !== front), ...placed.filter(({ at }) => at === front)];
}

interface Wish {
  readonly look: number;
  readonly what: 'power' | 'torque';
  readonly banded: boolean;
  readonly faint: boolean;
}

function lineOf(curve: OverlayCurve, { look, what, banded, faint }: Wish, writing: Writing): PlotLine {
  const usable = (values: readonly (number | null)[], times = 1) =>
    values.map((value, at) =>
      curve.valid[at] === false || value === null ? null : writing.plain(value * times, what),
    );
  return {
    label: curve.title,
    look,
    faint,
    x: curve.engineSpeed.map((value) => writing.plain(value, 'engine-speed')),
    y: usable(curve[what]),
    ...(banded && what === 'power' && { spread: usable(curve.uncertainty, 2) }),
  };
}
