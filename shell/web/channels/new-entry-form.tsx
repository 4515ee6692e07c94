import { type FormEvent, useState } from 'react';
import { entryMade, factsView, type RefusalRecord } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { FactsForm } from '../facts/facts-form.tsx';
import { PLAIN_LOOK } from '../frame/address.ts';
import { Refused, Whole } from '../frame/states.tsx';
import { go } from '../frame/use-address.ts';

/** What these logs are, and the few facts that the verdict needs; then the verdict. */
export function NewEntryForm({ day, files }: { readonly day: string; readonly files: readonly string[] }) {
  const { asked, put } = useAnswer(paths.facts(day), factsView);
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const text = (name: string) => String(form.get(name) ?? '').trim();
    const body = {
      kind: text('kind'),
      files,
      ...(text('clock') !== '' && { clock: text('clock') }),
      ...(text('title') !== '' && { title: text('title') }),
    };
    const answer = await tell({ method: 'POST', path: paths.entries(day), body }, entryMade);
    if (answer.ok) go({ page: 'entry', day, entry: answer.value.entry, look: PLAIN_LOOK });
    else setRefusal(answer.refusal);
  };
  return (
    <section aria-labelledby="facts-short">
      <h2 id="facts-short">What must be known</h2>
      <p className="quiet">Leave empty what you do not know: under each field stands what happens then.</p>
      <Whole asked={asked} what="Fetching the facts">
        {(facts) => <FactsForm facts={facts} fields={facts.fields.filter(({ short }) => short)} saved={put} />}
      </Whole>
      <form onSubmit={submit} className="stack" aria-label="What happened">
        <h2>What happened</h2>
        <p>{files.join(' and ')}</p>
        <label className="field">
          It was a
          <select name="kind">
            <option value="pull">pull</option>
            <option value="coast-down">coast-down</option>
          </select>
        </label>
        <label className="field">
          Clock
          <input name="clock" placeholder="09:50" autoComplete="off" />
        </label>
        <label className="field">
          Title
          <input name="title" autoComplete="off" />
        </label>
        <button type="submit" className="first">
          Show what it made
        </button>
        {refusal && <Refused refusal={refusal} title="Not added" />}
      </form>
    </section>
  );
}
