import { useCallback, useMemo, useSyncExternalStore } from 'react';
import {
  type PullView,
  type SegmentLine,
  type TracesView,
  tracesView,
  type VerdictView,
} from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { translated } from '../drawing/cursor.ts';
import { type CursorLink, Plot } from '../drawing/plot.tsx';
import { type EntryAddress, type EntryLook, hashOf } from '../frame/address.ts';
import { Empty, Whole } from '../frame/states.tsx';
import { turn } from '../frame/use-address.ts';
import { usePageKey } from '../frame/use-keys.ts';
import { useWriting } from '../look/use-preferences.ts';
import { cursorOf } from './cursor-of.ts';
import { hatchedSpeeds, speedFigure, type TraceRow, timeFigure, traceLabel, traceRows, valueAt } from './traces.ts';

const POINTS = 1600;
const MARGIN = 1;

interface TracesProps {
  readonly address: EntryAddress;
  readonly pull: PullView | undefined;
  /** The stretch that matters; shown first. */
  readonly window: SegmentLine | undefined;
  readonly verdict?: VerdictView | undefined;
}

/** Evidence: channels on one clock, one cursor through all of them and the curve, against time or engine speed. */
export function TracesPart({ address, pull, window, verdict }: TracesProps) {
  const { look } = address;
  const query = new URLSearchParams({ points: String(POINTS) });
  const shown = shownWindow(look, window);
  if (shown) {
    query.set('from', String(shown.from));
    query.set('to', String(shown.to));
  }
  if (look.show) query.set('channels', look.show.join(','));
  const { asked } = useAnswer(paths.traces(address, query.toString()), tracesView);
  const change = useCallback(
    (next: Partial<EntryLook>) => turn({ ...address, look: { ...address.look, ...next } }),
    [address],
  );
  const canTurn = pull?.curve.axis === 'engine-speed';
  const against = canTurn ? look.against : 'time';
  usePageKey(
    'turn-axis',
    useCallback(
      () => canTurn && change({ against: look.against === 'time' ? 'engine-speed' : 'time' }),
      [canTurn, change, look.against],
    ),
  );
  return (
    <section aria-labelledby="evidence">
      <h2 id="evidence">Evidence</h2>
      <Whole asked={asked} what="Fetching the traces">
        {(view) => (
          <>
            <TraceTools {...{ address, view, against, canTurn, change, window }} />
            {view.traces.length === 0 ? (
              <Empty title="No channel is chosen" />
            ) : (
              <TraceRows {...{ address, view, against, pull, change }} voids={verdict?.voidWindows ?? NONE} />
            )}
          </>
        )}
      </Whole>
    </section>
  );
}

function shownWindow(
  { from, to }: EntryLook,
  window: SegmentLine | undefined,
): { from: number; to: number } | undefined {
  if (from !== undefined && to !== undefined) return { from, to };
  return window && { from: window.fromTime - MARGIN, to: window.toTime + MARGIN };
}

interface ToolsProps {
  readonly address: EntryAddress;
  readonly view: TracesView;
  readonly against: EntryLook['against'];
  readonly canTurn: boolean;
  readonly change: (next: Partial<EntryLook>) => void;
  readonly window: SegmentLine | undefined;
}

function TraceTools({ address, view, against, canTurn, change, window }: ToolsProps) {
  const shown = new Set(view.traces.map(({ id }) => id));
  const toggle = (id: string) => {
    const next = shown.has(id) ? [...shown].filter((other) => other !== id) : [...shown, id];
    change({ show: next });
  };
  const plain = {
    ...address,
    look: { pull: address.look.pull, against, ...(address.look.show && { show: address.look.show }) },
  };
  return (
    <div className="tools">
      <fieldset className="in-line">
        <legend>Against</legend>
        {(['time', 'engine-speed'] as const).map((axis) => (
          <label className="check" key={axis}>
            <input
              type="radio"
              name="against"
              checked={against === axis}
              disabled={axis !== 'time' && !canTurn}
              onChange={() => change({ against: axis })}
            />
            {axis === 'time' ? 'time' : 'engine speed'}
          </label>
        ))}
      </fieldset>
      {window && (
        <a className="button" href={hashOf(plain)}>
          This stretch
        </a>
      )}
      <a
        className="button"
        href={hashOf({ ...plain, look: { ...plain.look, from: view.wholeFrom, to: view.wholeTo } })}
      >
        Whole record
      </a>
      <details className="channels">
        <summary>
          Channels ({shown.size} of {view.channels.length})
        </summary>
        <div className="channel-list">
          {view.channels.map((channel) => (
            <label className="check" key={channel.id}>
              <input type="checkbox" checked={shown.has(channel.id)} onChange={() => toggle(channel.id)} />
              <span>
                {channel.title} <small>{traceLabel(channel)}</small>
              </span>
            </label>
          ))}
        </div>
      </details>
      <span className="quiet">Drag across a trace to look closer.</span>
    </div>
  );
}

interface RowsProps {
  readonly address: EntryAddress;
  readonly view: TracesView;
  readonly against: EntryLook['against'];
  readonly pull: PullView | undefined;
  readonly change: (next: Partial<EntryLook>) => void;
  /** Where power is void. */
  readonly voids: VerdictView['voidWindows'];
}

const NONE: VerdictView['voidWindows'] = [];

function TraceRows({ address, view, against, pull, change, voids }: RowsProps) {
  const writing = useWriting();
  const cursor = cursorOf(address.day, address.entry);
  const figures = useMemo(() => {
    const path = pull && { time: pull.curve.time, speed: pull.curve.engineSpeed };
    const spec = (row: TraceRow) =>
      against === 'engine-speed' && path ? speedFigure(row, path, writing) : timeFigure(row, view, writing);
    const rows = traceRows(view.traces).map((row) => ({ row, spec: spec(row) }));
    const hatches = against === 'time' ? voids : hatchedSpeeds(voids, writing);
    return rows.map(({ row, spec: full }, at) => ({
      row,
      spec: { ...full, hatches, ...(at < rows.length - 1 && { xLabel: '' }) },
    }));
  }, [view, against, pull, writing, voids]);
  const link = useMemo<CursorLink>(() => {
    if (against === 'time' || !pull) return { x: cursor.time, move: cursor.move, listen: cursor.listen };
    const speed = pull.curve.engineSpeed.map((value) => writing.plain(value, 'engine-speed'));
    return {
      x: () => translated(cursor.time(), pull.curve.time, speed),
      move: (x) => cursor.move(translated(x, speed, pull.curve.time)),
      listen: cursor.listen,
    };
  }, [against, pull, cursor, writing]);
  const zoom = useCallback(
    ({ from, to }: { from: number; to: number }) =>
      change({ from: Number(from.toFixed(3)), to: Number(to.toFixed(3)) }),
    [change],
  );
  return (
    <div className="trace-rows">
      {figures.map(({ row, spec }) => (
        <div className="trace-row" key={row.traces[0]?.id}>
          <TraceValues row={row} cursor={cursor} />
          <Plot spec={spec} link={link} zoom={against === 'time' ? zoom : undefined} empty="No value in this window." />
        </div>
      ))}
    </div>
  );
}

/** Name and value at the cursor of every trace of a row. */
function TraceValues({ row, cursor }: { readonly row: TraceRow; readonly cursor: ReturnType<typeof cursorOf> }) {
  const writing = useWriting();
  const time = useSyncExternalStore(cursor.listen, cursor.time);
  return (
    <div className="trace-values">
      <strong>{row.title}</strong>
      {row.traces.map((trace, at) => (
        <p key={trace.id}>
          <svg className={`swatch look-${(at % 6) + 1}`} viewBox="0 0 40 10" aria-hidden="true">
            <path d="M0 5H40" />
          </svg>
          <span className="trace-value">
            {time === undefined ? '' : writing.text(valueAt(trace, time), trace.kind)}
          </span>
          <small>{traceLabel(trace)}</small>
        </p>
      ))}
    </div>
  );
}
