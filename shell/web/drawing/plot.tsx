import { type KeyboardEvent, type RefObject, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react';
import uPlot from 'uplot';
import { usePreferences } from '../look/use-preferences.ts';
import { readInk } from './ink.ts';
import { plotOptions } from './plot-options.ts';
import { hasPoints, type PlotSpec, plotColumns, plotShape } from './plot-spec.ts';
import { steppedX } from './stepped.ts';
import { usePrinting } from './use-printing.ts';

/** How a plot takes part in a shared cursor: in the units of its own x axis. */
export interface CursorLink {
  readonly x: () => number | undefined;
  readonly move: (x: number | undefined) => void;
  readonly listen: (listener: () => void) => () => void;
}

interface PlotProps {
  readonly spec: PlotSpec;
  readonly link?: CursorLink | undefined;
  /** Called with the x range that was drawn with the pointer. */
  readonly zoom?: ((range: { from: number; to: number }) => void) | undefined;
  readonly empty?: string;
}

/** A drawing of lines on a canvas. Arrow keys move the cursor; the values stand beside it in text. */
export function Plot({ spec, link, zoom, empty = 'Nothing to draw: every value is missing.' }: PlotProps) {
  const holder = useRef<HTMLDivElement>(null);
  const columns = useMemo(() => plotColumns(spec.lines), [spec.lines]);
  const drawable = hasPoints(spec.lines);
  usePlot({ holder, spec, columns, link, zoom, drawable });
  if (!drawable) {
    return (
      <div className={`plot plot-${spec.height} plot-empty`}>
        <p>{empty}</p>
      </div>
    );
  }
  const step = (event: KeyboardEvent) => {
    const moved = steppedX(columns.data[0] ?? [], link?.x(), event.key);
    if (moved === undefined) return;
    event.preventDefault();
    link?.move(moved);
  };
  return (
    <div
      className={`plot plot-${spec.height}`}
      ref={holder}
      role="img"
      tabIndex={link ? 0 : undefined}
      aria-label={spec.label}
      onKeyDown={link ? step : undefined}
    />
  );
}

/** The same plot, moving the shared cursor with the pointer and telling the range that was drawn with it. */
function withPointer(options: uPlot.Options, { link, zoom }: Pick<PlotProps, 'link' | 'zoom'>): uPlot.Options {
  return {
    ...options,
    cursor: {
      y: false,
      points: { size: 9 },
      drag: { x: zoom !== undefined, y: false, setScale: false },
    },
    hooks: {
      ...options.hooks,
      setCursor: [
        ({ cursor, posToVal }) => {
          // Only the pointer moves the shared cursor; where it stands already is not news.
          if (!cursor.event || !link) return;
          const { left } = cursor;
          if (left !== undefined && left !== null && left >= 0) link.move(posToVal(left, 'x'));
        },
      ],
      setSelect: [
        ({ select, posToVal }) => {
          if (zoom && select.width > 8)
            zoom({ from: posToVal(select.left, 'x'), to: posToVal(select.left + select.width, 'x') });
        },
      ],
    },
  };
}

interface PlotWish extends Omit<PlotProps, 'empty'> {
  readonly holder: RefObject<HTMLDivElement | null>;
  readonly columns: ReturnType<typeof plotColumns>;
  readonly drawable: boolean;
}

function usePlot({ holder, spec, columns, link, zoom, drawable }: PlotWish): void {
  const { theme } = usePreferences();
  const printing = usePrinting();
  const size = useSize(holder, { drawable, printing });
  const shape = plotShape(spec);
  const latest = useRef({ spec, columns });
  latest.current = { spec, columns };
  const made = useRef<{ readonly plot: uPlot; shown: PlotSpec }>(undefined);
  // biome-ignore lint/correctness/useExhaustiveDependencies: theme and printing change the colours that are read from the page; other values of the same shape are put into the drawing below
  useEffect(() => {
    const element = holder.current;
    if (!element || !size || !drawable) return;
    const { spec, columns } = latest.current;
    const options = plotOptions({ spec, latest: () => latest.current.spec }, columns, { ink: readInk(element), size });
    const plot = new uPlot(withPointer(options, { link, zoom }), alignedData(columns), element);
    const follow = () => {
      const x = link?.x();
      plot.setCursor(x === undefined ? { left: -10, top: -10 } : { left: plot.valToPos(x, 'x'), top: 10 }, false);
    };
    const leave = link?.listen(follow);
    if (link?.x() !== undefined) follow();
    made.current = { plot, shown: spec };
    return () => {
      leave?.();
      made.current = undefined;
      plot.destroy();
    };
  }, [shape, link, zoom, size, drawable, theme, printing]);
  useEffect(() => {
    const drawing = made.current;
    if (!drawing || drawing.shown === spec) return;
    drawing.shown = spec;
    drawing.plot.setData(alignedData(columns));
  }, [spec, columns]);
}

/** Columns as the drawing library calls them: it takes null and undefined as we do. */
function alignedData({ data }: ReturnType<typeof plotColumns>): uPlot.AlignedData {
  return data as uPlot.AlignedData;
}

function useSize(
  holder: RefObject<HTMLDivElement | null>,
  { drawable, printing }: { readonly drawable: boolean; readonly printing: boolean },
): { width: number; height: number } | undefined {
  const [size, setSize] = useState<{ width: number; height: number }>();
  // Printing does not wait for an observer: the size on paper is measured at once.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the element appears only when there is something to draw
  useLayoutEffect(() => {
    const element = holder.current;
    if (!element) return;
    const measure = () => {
      const { clientWidth: width, clientHeight: height } = element;
      setSize((former) => (former?.width === width && former.height === height ? former : { width, height }));
    };
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, [holder, drawable, printing]);
  return size;
}
