import { memo, useMemo, useState } from 'react';
import { type LimitsView, type RoomView, roomView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useLatest } from '../client/use-latest.ts';
import { Legend } from '../drawing/legend.tsx';
import { Plot } from '../drawing/plot.tsx';
import { Sideways } from '../drawing/sideways.tsx';
import { Empty, Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { roomFigure, setByWords } from './room-figure.ts';

interface RoomProps {
  readonly day: string;
  /** The step on which the hand rests. */
  readonly at: string | undefined;
  /** Those that can be told, in the order of the strips. */
  readonly limits: LimitsView['limits'];
  /** Manifold pressure of that step [Pa]. */
  readonly own: number | null;
}

/** Shares of a limit that can be kept in hand. @source our default: what a person asks for */
const KEPT = ['0 %', '2 %', '3 %', '5 %', '10 %', '15 %', '20 %'] as const;
const EVERY = 'every';

/** How far manifold pressure may be taken by engine speed. Worked out only while it is open, and only where the hand rests: it takes a sweep over pressure. */
export const RoomPart = memo(({ day, at, limits, own }: RoomProps) => {
  const [open, setOpen] = useState(false);
  const [limit, setLimit] = useState(EVERY);
  const [keep, setKeep] = useState<string>(KEPT[0]);
  const known = limits.filter(({ tightest }) => tightest !== undefined);
  const chosen = known.some(({ title }) => title === limit) ? limit : EVERY;
  return (
    <section aria-labelledby="room">
      <h2 id="room">How far at each engine speed</h2>
      <details open={open} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
        <summary>Highest manifold pressure that the limits leave</summary>
        <div className="tools">
          <label className="field in-line">
            Limit{' '}
            <select value={chosen} onChange={({ currentTarget }) => setLimit(currentTarget.value)}>
              <option value={EVERY}>every known one</option>
              {known.map(({ title }) => (
                <option key={title}>{title}</option>
              ))}
            </select>
          </label>
          <label className="field in-line">
            Kept in hand{' '}
            <select value={keep} onChange={({ currentTarget }) => setKeep(currentTarget.value)}>
              {KEPT.map((share) => (
                <option key={share}>{share}</option>
              ))}
            </select>
          </label>
        </div>
        {open && <Room day={day} at={at} limit={chosen} keep={keep} own={own} />}
      </details>
    </section>
  );
});

interface AskedRoom extends Omit<RoomProps, 'limits'> {
  readonly limit: string;
  readonly keep: string;
}

function Room({ day, at, limit, keep, own }: AskedRoom) {
  const { asked } = useLatest(paths.room(day, { at, limit, keep }), roomView);
  return (
    <Whole asked={asked} what="Looking how far each speed may go">
      {(view) => <Drawn view={view} of={limit === EVERY ? 'every known limit' : limit} own={own} />}
    </Whole>
  );
}

interface DrawnProps extends Pick<RoomProps, 'own'> {
  readonly view: RoomView;
  readonly of: string;
}

function Drawn({ view, of, own }: DrawnProps) {
  const writing = useWriting();
  const { rows, unknown, keep = 0 } = view;
  const spec = useMemo(() => roomFigure({ rows, of, own }, writing), [rows, of, own, writing]);
  if (!rows.some(({ even, passed }) => even && passed.length === 0))
    return (
      <Empty title="No highest pressure to draw">
        <p>{emptyWords(view, of)}</p>
      </Empty>
    );
  const by = setByWords(rows, writing);
  return (
    <>
      <Plot spec={spec} />
      <Legend lines={spec.lines} />
      <p className="quiet">
        The band is two standard uncertainties wide to each side.
        {keep > 0 && ` ${writing.text(keep, 'fraction')} of the bare limit is kept in hand.`}
        {of.startsWith('every') && by !== '' && ` Set by ${by}.`}
        {rows.some(({ judged }) => !judged) && ' Hatched: no pull held such a pressure at that speed.'}
        {unknown.length > 0 && ` Not in it, as nothing can be told of them: ${unknown.join(', ')}.`}
      </p>
      <RoomTable rows={rows} />
    </>
  );
}

function emptyWords({ rows }: RoomView, of: string): string {
  const passed = [...new Set(rows.flatMap((row) => row.passed))];
  if (passed.length > 0) return `Passed at any pressure that was looked at: ${passed.join(', ')}.`;
  return `${of} is not met at any pressure that was looked at.`;
}

function RoomTable({ rows }: Pick<RoomView, 'rows'>) {
  const writing = useWriting();
  const pressure = (value: number | undefined, u?: number | null) =>
    value === undefined ? '–' : writing.text(value, 'absolute-pressure', u ? { u: twice(u) } : { decimals: 0 });
  return (
    <details>
      <summary>The same as a table</summary>
      <Sideways name="Highest manifold pressure by engine speed">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">Engine speed</th>
              <th scope="col">even odds</th>
              <th scope="col">set by</th>
              <th scope="col">nineteen in twenty</th>
              <th scope="col">set by</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ speed, even, safe, within, passed, judged }) => (
              <tr key={speed}>
                <th scope="row">{writing.text(speed, 'engine-speed')}</th>
                <td>
                  {passed.length > 0
                    ? 'none'
                    : even
                      ? pressure(even.manifoldPressure, even.standardUncertainty)
                      : within === null
                        ? 'unknown'
                        : `over ${pressure(within)}`}
                </td>
                <td>{passed.length > 0 ? `${passed.join(', ')}, at any pressure` : (even?.limit ?? '')}</td>
                <td>{passed.length > 0 ? 'none' : pressure(safe?.manifoldPressure)}</td>
                <td>
                  {passed.length === 0 && safe?.limit}
                  {!judged && <small> no pull held it</small>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
    </details>
  );
}
