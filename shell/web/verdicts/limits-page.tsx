import { useCallback, useMemo, useState } from 'react';
import { factsView, type RefusalRecord, type ThresholdLine, thresholdsView } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { Findings, InventedBanner, Refused, Whole } from '../frame/states.tsx';
import { usePageKey } from '../frame/use-keys.ts';
import { useWriting } from '../look/use-preferences.ts';
import { LimitForm } from './limit-form.tsx';
import { bySubject, wanted } from './limits.ts';

/** Every number that decides, with its source; each can be set for this day or this engine, and taken back. */
export function LimitsPage({ day }: { readonly day: string }) {
  const { asked, reload } = useAnswer(paths.thresholds(day), thresholdsView);
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const undo = useCallback(async () => {
    const answer = await tell({ method: 'POST', path: paths.undo(day) }, factsView);
    setRefusal(answer.ok ? undefined : answer.refusal);
    if (answer.ok) reload();
  }, [day, reload]);
  usePageKey('undo', undo);
  return (
    <Whole asked={asked} what="Fetching the limits" title="What decides">
      {({ dayTitle, invented, thresholds, findings }) => (
        <>
          <InventedBanner invented={invented} />
          <div className="title-line">
            <h1>What decides: {dayTitle}</h1>
            <button type="button" onClick={undo}>
              Undo the last change
            </button>
          </div>
          <p>
            A fault is seen when a number passes its limit. Each limit is ours until you set it; from then on every
            answer that rests on it says so.
          </p>
          {refusal && <Refused refusal={refusal} title="Not undone" />}
          <Findings findings={findings} />
          <Limits day={day} thresholds={thresholds} reload={reload} />
        </>
      )}
    </Whole>
  );
}

interface LimitsProps {
  readonly day: string;
  readonly thresholds: readonly ThresholdLine[];
  readonly reload: () => void;
}

function Limits({ day, thresholds, reload }: LimitsProps) {
  const [search, setSearch] = useState('');
  const [onlySet, setOnlySet] = useState(false);
  const [editing, setEditing] = useState<string>();
  const groups = useMemo(() => bySubject(wanted(thresholds, { search, onlySet })), [thresholds, search, onlySet]);
  return (
    <>
      <div className="tools">
        <label className="field in-line">
          Find <input type="search" value={search} onChange={({ currentTarget: { value } }) => setSearch(value)} />
        </label>
        <label className="check">
          <input type="checkbox" checked={onlySet} onChange={({ currentTarget: { checked } }) => setOnlySet(checked)} />
          only those that a person set
        </label>
      </div>
      {groups.length === 0 && <p role="status">No limit fits.</p>}
      {groups.length > 1 && (
        <nav className="subjects" aria-label="Subjects">
          {groups.map(({ subject, lines }) => (
            <button key={subject} type="button" className="small" onClick={() => goTo(subject)}>
              {subject} {lines.length}
            </button>
          ))}
        </nav>
      )}
      {groups.map(({ subject, lines }) => (
        <section key={subject} aria-label={subject}>
          <h2 id={headingOf(subject)} className="capital" tabIndex={-1}>
            {subject}
          </h2>
          <Sideways name={`Limits about ${subject}`}>
            <table className="wide limits">
              <thead>
                <tr>
                  <th scope="col">Limit</th>
                  <th scope="col">in force</th>
                  <th scope="col">ours</th>
                  <th scope="col">where ours comes from</th>
                  <th scope="col">
                    <span className="unseen">change</span>
                  </th>
                </tr>
              </thead>
              {lines.map((line) => (
                <LimitRows
                  key={line.name}
                  {...{ day, line }}
                  open={editing === line.name}
                  turn={() => setEditing(editing === line.name ? undefined : line.name)}
                  saved={() => {
                    setEditing(undefined);
                    reload();
                  }}
                />
              ))}
            </table>
          </Sideways>
        </section>
      ))}
    </>
  );
}

function headingOf(subject: string): string {
  return `subject-${subject.replaceAll(' ', '-')}`;
}

/** Two hundred limits are a long way: the heading comes to the eye and takes the focus along. */
function goTo(subject: string): void {
  const heading = document.getElementById(headingOf(subject));
  heading?.scrollIntoView();
  heading?.focus({ preventScroll: true });
}

interface RowsProps {
  readonly day: string;
  readonly line: ThresholdLine;
  readonly open: boolean;
  readonly turn: () => void;
  readonly saved: () => void;
}

function LimitRows({ day, line, open, turn, saved }: RowsProps) {
  const writing = useWriting();
  const { name, title, value, kind, usual, source, set } = line;
  const shown = value === undefined ? 'not stated' : writing.exact(value, kind);
  return (
    <tbody>
      <tr className={set.length > 0 ? 'used' : undefined}>
        <th scope="row">
          {title} <small className="limit-name">{name}</small>
        </th>
        <td>
          <strong>{shown}</strong>
          {set.map(({ scope, written }) => (
            <small key={scope} className="limit-set">
              set for the {scope}: {written}
            </small>
          ))}
        </td>
        <td>{usual === '' ? 'none' : usual}</td>
        <td className="words">{source}</td>
        <td>
          <button
            type="button"
            className="small"
            aria-expanded={open}
            aria-label={`Change the limit of ${title}`}
            onClick={turn}
          >
            change
          </button>
        </td>
      </tr>
      {open && (
        <tr>
          <td colSpan={5}>
            <LimitForm day={day} limit={{ name, title, text: shown === 'not stated' ? '' : shown }} saved={saved} />
          </td>
        </tr>
      )}
    </tbody>
  );
}
