import { type FormEvent, useState } from 'react';
import { type EntryView, entryView, type RefusalRecord } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { Refused } from '../frame/states.tsx';

/** What a person says about the entry: title, clock, notes, and whether it counts. Every change can be undone. */
export function EntryDecisions({
  view,
  changed,
}: {
  readonly view: EntryView;
  readonly changed: (view: EntryView) => void;
}) {
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const text = (name: string) => {
      const value = String(form.get(name) ?? '').trim();
      return value === '' ? null : value;
    };
    const body = { title: text('title'), clock: text('clock'), notes: text('notes'), excluded: text('excluded') };
    const answer = await tell({ method: 'PATCH', path: paths.entry(view.day, view.id), body }, entryView);
    if (answer.ok) {
      setRefusal(undefined);
      changed(answer.value);
    } else setRefusal(answer.refusal);
  };
  return (
    <details>
      <summary>Title, clock, notes; leave it out</summary>
      <form onSubmit={submit} className="stack">
        <label className="field">
          Title
          <input name="title" defaultValue={view.title} autoComplete="off" />
        </label>
        <label className="field">
          Clock
          <input name="clock" defaultValue={view.clock} placeholder="09:50" autoComplete="off" />
        </label>
        <label className="field">
          Notes
          <textarea name="notes" defaultValue={view.notes} rows={3} />
        </label>
        <label className="field">
          Leave it out of comparisons, because
          <input name="excluded" defaultValue={view.excluded} autoComplete="off" />
        </label>
        <button type="submit">Save</button>
        {refusal && <Refused refusal={refusal} title="Not saved" />}
      </form>
    </details>
  );
}
