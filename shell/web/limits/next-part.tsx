import { type FormEvent, useState } from 'react';
import type { NextView } from '../../contract/index.ts';
import type { Asked } from '../client/use-answer.ts';
import { Loading, Refused } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { chanceText } from './heat.ts';

/** Which limit comes first when manifold pressure rises, and then which. */
export function NextPart({ asked }: { readonly asked: Asked<NextView> }) {
  const writing = useWriting();
  if (asked.state === 'loading') return <Loading what="Looking for the next limit" cancel={asked.cancel} />;
  if (asked.state === 'refused') return <Refused refusal={asked.refusal} again={asked.again} />;
  const { sentence, next } = asked.value;
  return (
    <section aria-label="Next limit" aria-busy={asked.stale}>
      <p className="sentence" role="status">
        {sentence}
      </p>
      {next.length > 1 && (
        <ol className="next-limits">
          {next.map(({ name, title, manifoldPressure, standardUncertainty, speed, everywhere }) => (
            <li key={name}>
              <strong>{title}</strong>
              <span>
                {everywhere
                  ? 'at any pressure'
                  : writing.text(manifoldPressure, 'absolute-pressure', {
                      u: twice(standardUncertainty),
                      ...(standardUncertainty === null && { decimals: 0 }),
                    })}
              </span>
              <small>near {writing.text(speed, 'engine-speed')}</small>
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

interface GoalProps {
  readonly asked: Asked<NextView>;
  readonly goal: string | undefined;
  readonly ask: (goal: string) => void;
}

/** Can these parts reach it? */
export function GoalPart({ asked, goal, ask }: GoalProps) {
  const writing = useWriting();
  const [text, setText] = useState(goal ?? '');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    ask(text.trim());
  };
  const answer = asked.state === 'here' ? asked.value.goal : undefined;
  return (
    <section aria-labelledby="goal-title">
      <h2 id="goal-title">A goal before the day</h2>
      <form className="tools" onSubmit={submit}>
        <label className="field in-line">
          Torque or power at the crankshaft{' '}
          <input
            type="text"
            autoComplete="off"
            spellCheck={false}
            value={text}
            placeholder="500 N·m at 4000 rpm"
            onChange={({ currentTarget }) => setText(currentTarget.value)}
          />
        </label>
        <button type="submit">Can these parts?</button>
      </form>
      {answer && (
        <div role="status">
          <p>
            <strong>{answer.sentence}</strong>
          </p>
          <table className="wide">
            <thead>
              <tr>
                <th scope="col">engine speed</th>
                <th scope="col">needs</th>
                <th scope="col">passes, likelier than not</th>
              </tr>
            </thead>
            <tbody>
              {answer.rows.map(({ speed, manifoldPressure, standardUncertainty, passed }) => (
                <tr key={speed}>
                  <th scope="row">{writing.text(speed, 'engine-speed')}</th>
                  <td>
                    {manifoldPressure === null
                      ? 'out of reach'
                      : writing.text(manifoldPressure, 'absolute-pressure', { u: twice(standardUncertainty) })}
                  </td>
                  <td className="words">{manifoldPressure === null ? '–' : passed.join(', ') || 'nothing'}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {answer.chance !== null && <p className="quiet">Best chance: {chanceText(answer.chance)}.</p>}
        </div>
      )}
    </section>
  );
}
