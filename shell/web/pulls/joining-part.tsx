import { useEffect, useMemo, useState } from 'react';
import {
  type AlignmentView,
  type EntryView,
  entryView,
  type NudgeView,
  nudgeView,
  type RefusalRecord,
} from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { makeCursor } from '../drawing/cursor.ts';
import { Plot } from '../drawing/plot.tsx';
import { Refused, Whole } from '../frame/states.tsx';
import { milliseconds, nudgeFigure } from './nudge.ts';

interface JoiningProps {
  readonly view: EntryView;
  readonly alignment: AlignmentView;
  readonly changed: (view: EntryView) => void;
}

/** How the two clocks were joined, how well, what the second-best join would be, and a nudge by hand with its residual. */
export function JoiningPart({ view, alignment, changed }: JoiningProps) {
  const { by, clock, other, correlation, second, pieces } = alignment;
  if (by === 'same clock') {
    return (
      <section aria-labelledby="joining">
        <h2 id="joining">One clock</h2>
        <p>All channels come from one log: nothing had to be joined.</p>
      </section>
    );
  }
  return (
    <section aria-labelledby="joining">
      <h2 id="joining">How the clocks were joined</h2>
      <p>
        The engine log’s clock (“{other}”) was put onto the roller log’s (“{clock}”){' '}
        {by === 'hand' ? 'by hand' : 'by comparing speeds'}; correlation {correlation?.toFixed(4) ?? '–'}.{' '}
        {second
          ? `Second-best place: ${second.lag.toFixed(2)} s away with ${second.correlation.toFixed(3)}.`
          : 'No second place comes near.'}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Seconds</th>
            <th scope="col">Offset</th>
            <th scope="col">Rate</th>
            <th scope="col">Left over, rms</th>
          </tr>
        </thead>
        <tbody>
          {pieces.map(({ from, to, offset, offsetUncertainty, rate, residual }) => (
            <tr key={`${from} ${to}`}>
              <th scope="row">
                {from?.toFixed(1) ?? 'start'} – {to?.toFixed(1) ?? 'end'}
              </th>
              <td>
                {offset?.toFixed(3) ?? '–'} s
                {offsetUncertainty !== null && `, u = ${(offsetUncertainty * 1000).toFixed(1)} ms`}
              </td>
              <td>{rate === null ? '–' : `${(rate * 1e6).toFixed(0)} ppm`}</td>
              <td>{residual === null ? '–' : `${(residual * 1000).toFixed(1)} ms`}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Nudge key={view.nudge ?? 0} view={view} changed={changed} />
    </section>
  );
}

/** A slider that runs is not asked at every pixel: the server answers a step in about 30 ms. */
const REST = 15;

function Nudge({ view, changed }: Pick<JoiningProps, 'view' | 'changed'>) {
  const [open, setOpen] = useState(false);
  const [offset, setOffset] = useState(0);
  const [rested, setRested] = useState(0);
  useEffect(() => {
    const timer = setTimeout(() => setRested(offset), REST);
    return () => clearTimeout(timer);
  }, [offset]);
  const { asked } = useAnswer(open ? paths.nudge({ day: view.day, entry: view.id }, rested) : undefined, nudgeView);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        Compare the logs, or nudge by hand {view.nudge !== undefined && `(now ${milliseconds(view.nudge, true)})`}
      </summary>
      {open && (
        <Whole asked={asked} what="Comparing the logs">
          {(nudge) => <NudgeHere {...{ view, nudge, changed, offset, setOffset }} />}
        </Whole>
      )}
    </details>
  );
}

const STEP = 0.005;
const REACH = 2;

interface NudgeProps extends Pick<JoiningProps, 'view' | 'changed'> {
  readonly nudge: NudgeView;
  readonly offset: number;
  readonly setOffset: (offset: number) => void;
}

function NudgeHere({ view, nudge, changed, offset, setOffset }: NudgeProps) {
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const { offset: offsets, correlation } = nudge;
  const spec = useMemo(() => nudgeFigure({ offset: offsets, correlation }), [offsets, correlation]);
  const link = useMemo(() => {
    const cursor = makeCursor(offset * 1000);
    return { x: cursor.time, move: cursor.move, listen: cursor.listen };
  }, [offset]);
  const keep = async (value: number | null) => {
    const body = { nudge: value };
    const answer = await tell({ method: 'PATCH', path: paths.entry(view.day, view.id), body }, entryView);
    if (answer.ok) changed(answer.value);
    else setRefusal(answer.refusal);
  };
  const { residual, correlation: there, offset: askedFor } = nudge.at;
  return (
    <div className="nudge">
      <Plot spec={spec} link={link} />
      <p role="status">
        Moved by {milliseconds(askedFor, true)}: left over {milliseconds(residual)}, correlation{' '}
        {there?.toFixed(4) ?? '–'}.
      </p>
      <label className="field">
        Move the second log by {milliseconds(offset, true)}
        <input
          type="range"
          min={-REACH}
          max={REACH}
          step={STEP}
          value={offset}
          onChange={({ currentTarget }) => setOffset(Number(currentTarget.value))}
        />
      </label>
      <p className="button-line">
        <button type="button" onClick={() => keep((view.nudge ?? 0) + offset)} disabled={offset === 0}>
          Keep this nudge
        </button>
        <button type="button" onClick={() => keep(null)} disabled={view.nudge === undefined}>
          Forget the nudge
        </button>
      </p>
      {refusal && <Refused refusal={refusal} />}
    </div>
  );
}
