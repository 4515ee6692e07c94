import { type FormEvent, useState } from 'react';
import { type FactField, type FactsView, factsView, type RefusalRecord } from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { Refused } from '../frame/states.tsx';
import { byGroup, changedTexts } from './fields.ts';

interface FormProps {
  readonly facts: FactsView;
  readonly fields: readonly FactField[];
  readonly saved: (facts: FactsView) => void;
}

type Outcome =
  | { readonly kind: 'saved' }
  | { readonly kind: 'refused'; readonly refusal: RefusalRecord; readonly errors: ReadonlyMap<string, string> };

/** Facts as texts with units; the server reads them and names every one that it cannot read. */
export function FactsForm({ facts, fields, saved }: FormProps) {
  const [outcome, setOutcome] = useState<Outcome>();
  const errors = outcome?.kind === 'refused' ? outcome.errors : new Map<string, string>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const texts = changedTexts(fields, (path) => form.get(path));
    const answer = await tell({ method: 'PUT', path: paths.facts(facts.day), body: { texts } }, factsView);
    if (answer.ok) {
      setOutcome({ kind: 'saved' });
      saved(answer.value);
    } else
      setOutcome({
        kind: 'refused',
        refusal: answer.refusal,
        errors: new Map(answer.fields.map(({ path, message }) => [path, message])),
      });
  };
  return (
    <form onSubmit={submit} className="facts-form" aria-label="Facts" noValidate>
      {byGroup(fields).map(({ group, members }) => (
        <fieldset key={group}>
          <legend>{group}</legend>
          {members.map((field) => (
            <Fact key={`${field.path} ${field.text}`} field={field} error={errors.get(field.path)} />
          ))}
        </fieldset>
      ))}
      <p className="button-line">
        <button type="submit" className="first">
          Save the facts
        </button>
        <span role="status">{outcome?.kind === 'saved' && 'Saved.'}</span>
      </p>
      {outcome?.kind === 'refused' && <Refused refusal={outcome.refusal} title="Nothing was saved" />}
    </form>
  );
}

function Fact({ field, error }: { readonly field: FactField; readonly error: string | undefined }) {
  const { path, title, text, example, whenUnknown, form } = field;
  const [id, unknownId, errorId] = [`fact-${path}`, `unknown-${path}`, `error-${path}`];
  const described = error === undefined ? unknownId : `${errorId} ${unknownId}`;
  const common = {
    id,
    name: path,
    defaultValue: text,
    'aria-describedby': described,
    'aria-invalid': error !== undefined,
  };
  return (
    <div className="field fact">
      <label htmlFor={id}>{title}</label>
      {form.kind === 'choice' ? (
        <select {...common}>
          <option value="">not stated</option>
          {form.choices.map(({ value, title: words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      ) : (
        <input {...common} placeholder={example} autoComplete="off" spellCheck={false} />
      )}
      {error !== undefined && (
        <p className="field-error" id={errorId}>
          ✕ {error}
        </p>
      )}
      <p className="quiet" id={unknownId}>
        Unknown? {whenUnknown}
      </p>
    </div>
  );
}
