import { type FormEvent, useId, useState } from 'react';
import {
  type RefusalRecord,
  type ThresholdScope,
  type TrialView,
  thresholdsView,
  trialView,
} from '../../contract/index.ts';
import { ask, tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { TrialPart } from './trial-part.tsx';

interface LimitFormProps {
  readonly day: string;
  /** The pull in which a change is tried before it is kept; without one it is only kept. */
  readonly entry?: string | undefined;
  readonly limit: { readonly name: string; readonly title: string; readonly text: string };
  readonly saved: () => void;
}

/** Sets one limit: try it on this pull, keep it for the day or for the engine, or go back to ours. */
export function LimitForm({ day, entry, limit: { name, title, text }, saved }: LimitFormProps) {
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const [trial, setTrial] = useState<TrialView>();
  const [written, setWritten] = useState(text);
  const [id, errorId] = [useId(), useId()];
  const keep = async (scope: ThresholdScope, value: string | null) => {
    const body = { scope, texts: { [name]: value } };
    const answer = await tell({ method: 'PUT', path: paths.thresholds(day), body }, thresholdsView);
    setRefusal(answer.ok ? undefined : answer.refusal);
    if (answer.ok) saved();
  };
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (entry === undefined) {
      keep('day', written);
      return;
    }
    const answer = await ask(paths.trial({ day, entry }, { [name]: written }), trialView);
    setRefusal(answer.ok ? undefined : answer.refusal);
    setTrial(answer.ok ? answer.value : undefined);
  };
  return (
    <form onSubmit={submit} className="limit-form" aria-label={`Limit of ${title}`} noValidate>
      <label htmlFor={id}>{title}: a number with its unit, the decimal sign a point</label>
      <div className="button-line">
        <input
          id={id}
          value={written}
          onChange={({ currentTarget: { value } }) => {
            setWritten(value);
            setTrial(undefined);
          }}
          autoComplete="off"
          spellCheck={false}
          aria-invalid={refusal !== undefined}
          aria-describedby={refusal ? errorId : undefined}
        />
        {entry !== undefined && <button type="submit">What would change?</button>}
        <button
          type={entry === undefined ? 'submit' : 'button'}
          onClick={entry === undefined ? undefined : () => keep('day', written)}
        >
          Keep for this day
        </button>
        <button type="button" onClick={() => keep('engine', written)}>
          Keep for this engine
        </button>
        <button type="button" onClick={() => keep('day', null)}>
          Take back
        </button>
      </div>
      {refusal && (
        <p className="field-error" id={errorId} role="alert">
          ✕ {refusal.message}
        </p>
      )}
      {trial && <TrialPart trial={trial} />}
    </form>
  );
}
