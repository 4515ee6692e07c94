import { useState } from 'react';
import {
  ambientRule,
  type ConditionsView,
  type EntryView,
  entryView,
  type RefusalRecord,
} from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { Findings, Refused } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';

interface AirProps {
  readonly view: EntryView;
  readonly conditions: ConditionsView;
  readonly changed: (view: EntryView) => void;
}

/** State of the air, where each value comes from, and every rule's factor beside the others. */
export function AirPart({ view, conditions, changed }: AirProps) {
  const writing = useWriting();
  const { temperature, pressure, vapourPressure, origin } = conditions;
  return (
    <section aria-labelledby="air">
      <h2 id="air">Air, and what the rules would make of it</h2>
      <dl className="facts-line">
        <div>
          <dt>temperature</dt>
          <dd>{writing.text(temperature?.value, 'temperature', { u: temperature?.standardUncertainty })}</dd>
          <dd className="quiet">{origin.temperature}</dd>
        </div>
        <div>
          <dt>station pressure</dt>
          <dd>{writing.text(pressure?.value, 'barometric-pressure', { u: pressure?.standardUncertainty })}</dd>
          <dd className="quiet">{origin.pressure}</dd>
        </div>
        <div>
          <dt>vapour pressure</dt>
          <dd>
            {writing.text(vapourPressure?.value, 'barometric-pressure', { u: vapourPressure?.standardUncertainty })}
          </dd>
          <dd className="quiet">{origin.humidity}</dd>
        </div>
      </dl>
      <Rules view={view} conditions={conditions} changed={changed} />
      <Findings findings={conditions.findings} />
    </section>
  );
}

function Rules({ view, conditions, changed }: AirProps) {
  const writing = useWriting();
  const [refusal, setRefusal] = useState<RefusalRecord>();
  const used = conditions.chosen;
  const choose = async (rule: string) => {
    const answer = await tell({ method: 'PATCH', path: paths.entry(view.day, view.id), body: { rule } }, entryView);
    if (answer.ok) changed(answer.value);
    else setRefusal(answer.refusal);
  };
  const known = new Set<string>(ambientRule.options);
  return (
    <>
      <p>Two rules cannot be mixed: a comparison uses one rule for all pulls, or none.</p>
      <Sideways name="Ambient rules">
        <table className="wide">
          <thead>
            <tr>
              <th scope="col">Rule</th>
              <th scope="col">factor</th>
              <th scope="col">allowed here by its own text</th>
              <th scope="col">why</th>
            </tr>
          </thead>
          <tbody>
            {conditions.factors.map(({ rule, factor, standardUncertainty, valid, why }) => (
              <tr key={rule} className={rule === used ? 'used' : undefined}>
                <th scope="row">
                  <label className="check">
                    <input
                      type="radio"
                      name="rule"
                      checked={rule === used}
                      disabled={factor === undefined || !known.has(rule)}
                      onChange={() => choose(rule)}
                    />
                    {rule}
                  </label>
                </th>
                <td>{writing.text(factor, 'ratio', { u: standardUncertainty })}</td>
                <td>{valid ? '✓ yes' : '✕ no'}</td>
                <td>{why.replaceAll(`${rule}: `, '')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Sideways>
      {refusal && <Refused refusal={refusal} />}
    </>
  );
}
