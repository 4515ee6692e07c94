import { type FormEvent, useCallback, useState } from 'react';
import { type EntryView, entryView, factsView, type RefusalRecord, type StopView } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { Refused } from '../frame/states.tsx';

interface OverruleProps {
  readonly view: Pick<EntryView, 'day' | 'id'>;
  readonly fault: string;
  readonly title: string;
  readonly stop: StopView;
  readonly overruled: string | undefined;
  readonly changed: (view: EntryView) => void;
  readonly reload: () => void;
}

/** A person's word on a finding: overruled with a reason that stays on record, or accepted again. Either can be undone. */
export function OverruleForm({ view, fault, title, stop, overruled, changed, reload }: OverruleProps) {
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const decide = useCallback(
    async (why: string | null) => {
      const body = { overruled: { [fault]: why } };
      const answer = await tell({ method: 'PATCH', path: paths.entry(view.day, view.id), body }, entryView);
      setRefusal(answer.ok ? undefined : answer.refusal);
      if (answer.ok) changed(answer.value);
    },
    [view.day, view.id, fault, changed],
  );
  const undo = async () => {
    const answer = await tell({ method: 'POST', path: paths.undo(view.day) }, factsView);
    setRefusal(answer.ok ? undefined : answer.refusal);
    if (answer.ok) reload();
  };
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    decide(String(new FormData(event.currentTarget).get('why') ?? '').trim());
  };
  return (
    <div className="overrule">
      {overruled === undefined ? (
        <details>
          <summary>Overrule it</summary>
          <form onSubmit={submit} className="overrule-form">
            <label className="field">
              {stop.class >= 2
                ? `You lift a stop (${stop.word}). Advice gives way to you, the reason stays on record. Because`
                : 'It then makes nothing void and stops nothing; the reason stays on record. Because'}
              <input name="why" required maxLength={500} autoComplete="off" aria-label={`Why ${title} is overruled`} />
            </label>
            <button type="submit">Overrule</button>
          </form>
        </details>
      ) : (
        <p className="button-line">
          <button type="button" onClick={() => decide(null)}>
            Count it again
          </button>
          <button type="button" onClick={undo}>
            Undo the last change
          </button>
        </p>
      )}
      {refusal && <Refused refusal={refusal} title="Not kept" />}
    </div>
  );
}
