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

/** What came of saving: nothing yet, saved, or refused with the fields that cannot be read. */
export type Saving =
  | { readonly kind: 'saved'; readonly facts: FactsView }
  | { readonly kind: 'refused'; readonly refusal: RefusalRecord; readonly errors: ReadonlyMap<string, string> };

/** Sends the texts of a form that were changed; the server reads them and names every one that it cannot read. */
export async function saveFacts(facts: FactsView, form: FormData): Promise<Saving> {
  const texts = changedTexts(facts.fields, (path) => form.get(path));
  if (Object.keys(texts).length === 0) return { kind: 'saved', facts };
  const answer = await tell({ method: 'PUT', path: paths.facts(facts.day), body: { texts } }, factsView);
  if (answer.ok) return { kind: 'saved', facts: answer.value };
  const errors = new Map(answer.fields.map(({ path, message }) => [path, message]));
  return { kind: 'refused', refusal: answer.refusal, errors };
}

/** Facts as texts with units, in a form of their own. */
export function FactsForm({ facts, fields, saved }: FormProps) {
  const [saving, setSaving] = useState<Saving>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const done = await saveFacts(facts, new FormData(event.currentTarget));
    setSaving(done);
    if (done.kind === 'saved') saved(done.facts);
  };
  return (
    <form onSubmit={submit} aria-label="Facts" noValidate>
      <FactFields fields={fields} saving={saving} />
      <p className="button-line">
        <button type="submit" className="first">
          Save the facts
        </button>
        <span role="status">{saving?.kind === 'saved' && 'Saved.'}</span>
      </p>
      {saving?.kind === 'refused' && <Refused refusal={saving.refusal} title="Nothing was saved" />}
    </form>
  );
}

interface FieldsProps {
  readonly fields: readonly FactField[];
  readonly saving: Saving | undefined;
}

/** The fields in their groups, each with what happens when it stays empty. */
export function FactFields({ fields, saving }: FieldsProps) {
  const errors = saving?.kind === 'refused' ? saving.errors : new Map<string, string>();
  return (
    <div className="facts-form">
      {byGroup(fields).map(({ group, members }) => (
        <fieldset key={group}>
          <legend>{group}</legend>
          {members.map((field) => (
            <Fact key={`${field.path} ${field.text}`} field={field} error={errors.get(field.path)} />
          ))}
        </fieldset>
      ))}
    </div>
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
        <input
          {...common}
          placeholder={example === '' ? '' : `such as ${example}`}
          autoComplete="off"
          spellCheck={false}
        />
      )}
      <div>
        {error !== undefined && (
          <p className="field-error" id={errorId}>
            ✕ {error}
          </p>
        )}
        <p className="quiet" id={unknownId}>
          Unknown? {whenUnknown}
        </p>
      </div>
    </div>
  );
}
