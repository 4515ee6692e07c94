import { type FormEvent, useState } from 'react';
import { entryMade, type FactsView, factsView, type RefusalRecord } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { FactFields, type Saving, saveFacts } from '../facts/facts-form.tsx';
import { PLAIN_LOOK } from '../frame/address.ts';
import { Refused, Whole } from '../frame/states.tsx';
import { go } from '../frame/use-address.ts';

interface EntryFormProps {
  readonly day: string;
  readonly files: readonly string[];
}

/** What these logs are, and the few facts that the verdict needs; then the verdict. */
export function NewEntryForm({ day, files }: EntryFormProps) {
  const { asked, put } = useAnswer(paths.facts(day), factsView);
  return (
    <Whole asked={asked} what="Fetching the facts">
      {(facts) => <EntryForm day={day} files={files} facts={facts} saved={put} />}
    </Whole>
  );
}

interface FormProps extends EntryFormProps {
  readonly facts: FactsView;
  readonly saved: (facts: FactsView) => void;
}

/** One form and one button: what was typed is kept before the entry is made, so nothing typed is lost. */
function EntryForm({ day, files, facts, saved }: FormProps) {
  const [saving, setSaving] = useState<Saving>();
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const kept = await saveFacts(facts, form);
    setSaving(kept);
    if (kept.kind === 'refused') return;
    saved(kept.facts);
    const answer = await tell({ method: 'POST', path: paths.entries(day), body: entryOf(form, files) }, entryMade);
    if (answer.ok) go({ page: 'entry', day, entry: answer.value.entry, look: PLAIN_LOOK });
    else setRefusal(answer.refusal);
  };
  return (
    <form onSubmit={submit} aria-label="What happened" noValidate>
      <h2>What must be known</h2>
      <p className="quiet">Leave empty what you do not know: under each field stands what happens then.</p>
      <FactFields fields={facts.fields.filter(({ short }) => short)} saving={saving} />
      {saving?.kind === 'refused' && <Refused refusal={saving.refusal} title="Nothing was saved" />}
      <h2>What happened</h2>
      <p>{files.join(' and ')}</p>
      <div className="stack">
        <label className="field">
          It was a
          <select name="entry-kind">
            <option value="pull">pull</option>
            <option value="coast-down">coast-down</option>
          </select>
        </label>
        <label className="field">
          Clock
          <input name="entry-clock" placeholder="09:50" autoComplete="off" />
        </label>
        <label className="field">
          Title
          <input name="entry-title" autoComplete="off" />
        </label>
        <button type="submit" className="first">
          Show what it made
        </button>
      </div>
      {refusal && <Refused refusal={refusal} title="Not added" />}
    </form>
  );
}

function entryOf(form: FormData, files: readonly string[]) {
  const text = (name: string) => String(form.get(name) ?? '').trim();
  const [clock, title] = [text('entry-clock'), text('entry-title')];
  return { kind: text('entry-kind'), files, ...(clock !== '' && { clock }), ...(title !== '' && { title }) };
}
