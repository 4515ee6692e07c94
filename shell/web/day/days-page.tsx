import { type FormEvent, useState } from 'react';
import { type DaySummaryView, dayList, daySummary, type RefusalRecord } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { hashOf } from '../frame/address.ts';
import { Empty, Refused, Whole } from '../frame/states.tsx';
import { go } from '../frame/use-address.ts';
import { counted } from '../frame/wording.ts';

/** All days, and the ways to a new one. */
export function DaysPage() {
  const { asked } = useAnswer(paths.days, dayList);
  return (
    <>
      <h1>Days</h1>
      <Whole asked={asked} what="Looking for days">
        {({ days }) =>
          days.length === 0 ? (
            <Empty title="No day yet">
              <p>Begin one below, or bring logs in and let a day grow around them.</p>
            </Empty>
          ) : (
            <ul className="days">
              {days.map((day) => (
                <DayLine key={day.id} day={day} />
              ))}
            </ul>
          )
        }
      </Whole>
      <div className="two">
        <NewDay />
        <OpenFolder />
      </div>
    </>
  );
}

function DayLine({ day: { id, title, date, entries, invented, folder } }: { readonly day: DaySummaryView }) {
  return (
    <li>
      <a href={hashOf({ page: 'day', day: id })}>
        <span className="days-title">{title}</span>
        <span className="quiet">
          {[date, counted(entries, 'entry', 'entries'), folder].filter((part) => part !== undefined).join(' · ')}
        </span>
        {invented && <span className="tag">invented data</span>}
      </a>
    </li>
  );
}

function NewDay() {
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const date = String(form.get('date') ?? '');
    const body = { title: String(form.get('title') ?? ''), ...(date !== '' && { date }) };
    const answer = await tell({ method: 'POST', path: paths.days, body }, daySummary);
    if (answer.ok) go({ page: 'bring', day: answer.value.id, sources: [] });
    else setRefusal(answer.refusal);
  };
  return (
    <form onSubmit={submit} aria-labelledby="new-day">
      <h2 id="new-day">Begin a day</h2>
      <label className="field">
        Title
        <input name="title" required maxLength={200} autoComplete="off" />
      </label>
      <label className="field">
        Date, if known
        <input name="date" placeholder="2031-05-14" pattern="\d{4}-\d{2}-\d{2}" autoComplete="off" />
      </label>
      <button type="submit" className="first">
        Begin
      </button>
      {refusal && <Refused refusal={refusal} />}
    </form>
  );
}

function OpenFolder() {
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const path = String(new FormData(event.currentTarget).get('path') ?? '');
    const answer = await tell({ method: 'POST', path: paths.folder, body: { path } }, daySummary);
    if (answer.ok) go({ page: 'day', day: answer.value.id });
    else setRefusal(answer.refusal);
  };
  return (
    <form onSubmit={submit} aria-labelledby="open-folder">
      <h2 id="open-folder">Open a day’s folder</h2>
      <label className="field">
        Folder on this machine, with its day.yaml
        <input name="path" required autoComplete="off" spellCheck={false} />
      </label>
      <p className="quiet">The folder is read and watched, never changed.</p>
      <button type="submit">Open</button>
      {refusal && <Refused refusal={refusal} />}
    </form>
  );
}
