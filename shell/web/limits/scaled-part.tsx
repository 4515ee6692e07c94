import { type FormEvent, memo, useState } from 'react';
import { type ScaledView, scaledView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { Empty, Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';

/** What was written into the box; empty stays as it was. */
type Wanted = Readonly<
  Record<'from' | 'displacement' | 'cylinders' | 'ambientPressure' | 'ambientTemperature', string>
>;

const AS_IT_WAS: Wanted = { from: '', displacement: '', cylinders: '', ambientPressure: '', ambientTemperature: '' };

/** A result of the day carried to another engine or other air, and what cannot be carried. */
export const ScaledPart = memo(({ day }: { readonly day: string }) => {
  const [wanted, setWanted] = useState(AS_IT_WAS);
  const asked = Object.fromEntries(
    Object.entries(wanted).map(([name, text]) => [name, text === '' ? undefined : text]),
  );
  const answer = useAnswer(paths.scaled(day, asked), scaledView);
  return (
    <section aria-labelledby="scaled">
      <h2 id="scaled">Carried to another engine, or other air</h2>
      <ScaledForm key={day} view={answer.asked.state === 'here' ? answer.asked.value : undefined} ask={setWanted} />
      <Whole asked={answer.asked} what="Carrying the result over">
        {(view) => <Carried view={view} />}
      </Whole>
    </section>
  );
});

const FIELDS = [
  { name: 'displacement', title: 'Displacement', kind: 'volume' },
  { name: 'cylinders', title: 'Cylinders', kind: 'count' },
  { name: 'ambientPressure', title: 'Pressure outside', kind: 'barometric-pressure' },
  { name: 'ambientTemperature', title: 'Temperature outside', kind: 'temperature' },
] as const;

function ScaledForm({ view, ask }: { readonly view: ScaledView | undefined; readonly ask: (wanted: Wanted) => void }) {
  const writing = useWriting();
  const [engine, setEngine] = useState(view?.engine);
  if (view?.engine && view.engine !== engine) setEngine(view.engine);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const text = (name: string) => String(form.get(name) ?? '').trim();
    ask({
      from: text('from'),
      displacement: text('displacement'),
      cylinders: text('cylinders'),
      ambientPressure: text('ambientPressure'),
      ambientTemperature: text('ambientTemperature'),
    });
  };
  return (
    <form className="scaled-form" onSubmit={submit} aria-label="Carry a result over">
      <label className="field">
        Result of
        <select name="from" defaultValue="">
          <option value="">the pull that made most</option>
          {view?.sources.map(({ entry, title, power }) => (
            <option key={entry} value={entry}>
              {[entry, title].filter((word) => word !== '').join(' · ')}, {writing.text(power, 'power')}
            </option>
          ))}
        </select>
      </label>
      {FIELDS.map(({ name, title, kind }) => (
        <label className="field" key={name}>
          {title}
          <input
            type="text"
            name={name}
            autoComplete="off"
            spellCheck={false}
            placeholder={engine ? writing.text(engine[name].value, kind) : ''}
          />
        </label>
      ))}
      <button type="submit">Carry it over</button>
    </form>
  );
}

function Carried({ view: { engine, rows, share, factors, doesNotScale, why } }: { readonly view: ScaledView }) {
  const writing = useWriting();
  if (why !== undefined || !engine) {
    return (
      <Empty title="Nothing to carry over">
        <p>{why}</p>
      </Empty>
    );
  }
  return (
    <div role="status">
      <Sideways name="Result before and after">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">At the crankshaft</th>
              <th scope="col">made</th>
              <th scope="col">near</th>
              <th scope="col">carried over</th>
              <th scope="col">near</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ what, before, speed, after, speedAfter }) => (
              <tr key={what}>
                <th scope="row">highest {what}</th>
                <td>{writing.text(before.value, what, { u: twice(before.standardUncertainty) })}</td>
                <td>{writing.text(speed, 'engine-speed')}</td>
                <td>
                  <strong>{writing.text(after.value, what, { u: twice(after.standardUncertainty) })}</strong>
                </td>
                <td>{writing.text(speedAfter, 'engine-speed')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
      {factors.length === 0 ? (
        <p className="quiet">Nothing was changed yet: an empty field stays as it was.</p>
      ) : (
        <p>
          {factors.map(({ name, factor }) => `${name}: × ${factor.toFixed(3)}`).join('; ')}.
          {share !== undefined && share > 0 && ` Carrying alone is good to ± ${(200 * share).toFixed(0)} %.`}
        </p>
      )}
      {doesNotScale.length > 0 && (
        <>
          <p className="list-title">What this does not carry over:</p>
          <ul>
            {doesNotScale.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </>
      )}
      {!engine.displacement.stated && <p className="quiet">The displacement is a usual value: nobody stated it.</p>}
    </div>
  );
}
