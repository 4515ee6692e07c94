import type { ColumnView, Vocabulary } from '../../contract/index.ts';
import { Sketch } from '../drawing/sketch.tsx';
import { type Decision, unitsFor } from './decisions.ts';

interface ColumnProps {
  readonly column: ColumnView;
  readonly decision: Decision;
  readonly list: Vocabulary;
  readonly decide: (decision: Decision) => void;
}

/** One column that we believe to know: picture, meaning, unit, how sure, why. */
export function ColumnLine(props: ColumnProps) {
  const { name, unit, confidence, reason, sketch, low, high, missing, origin } = props.column;
  return (
    <div className="column-line">
      <Sketch values={sketch} label={`${name} over the file`} />
      <div className="column-name">
        <strong>{name}</strong> {unit !== '' && <span className="quiet">{unit}</span>}
        <small>
          {rangeOf(low, high)}
          {missing > 0 && `, ${missing} missing`}
        </small>
      </div>
      <MeaningChoice {...props} />
      <div className="column-why">
        <meter min={0} max={1} value={confidence} aria-label={`How sure about ${name}`} />
        <span>{Math.round(confidence * 100)} %</span>
        <small>
          {origin !== 'measured' && <strong>{origin}. </strong>}
          {reason}
        </small>
      </div>
    </div>
  );
}

/** Any meaning and any unit that fits it. */
export function MeaningChoice({ column: { name }, decision, list, decide }: ColumnProps) {
  const kind = list.meanings.find(({ meaning }) => meaning === decision.meaning)?.kind;
  const subjects = [...new Set(list.meanings.map(({ subject }) => subject))];
  return (
    <div className="meaning">
      <select
        aria-label={`Meaning of ${name}`}
        value={decision.meaning ?? ''}
        onChange={({ currentTarget: { value } }) =>
          decide({ column: name, meaning: value === '' ? undefined : value, unit: decision.unit })
        }
      >
        <option value="">do not use it</option>
        {subjects.map((subject) => (
          <optgroup key={subject} label={subject}>
            {list.meanings
              .filter((line) => line.subject === subject)
              .map(({ meaning, title }) => (
                <option key={meaning} value={meaning}>
                  {title}
                </option>
              ))}
          </optgroup>
        ))}
      </select>
      <select
        aria-label={`Unit of ${name}`}
        value={decision.unit}
        disabled={kind === undefined}
        onChange={({ currentTarget: { value } }) => decide({ ...decision, unit: value, divisor: undefined })}
      >
        {(kind === undefined ? [decision.unit] : [...new Set([...unitsFor(kind), decision.unit])]).map((unit) => (
          <option key={unit} value={unit}>
            {unit === '1' ? 'no unit' : unit}
          </option>
        ))}
      </select>
    </div>
  );
}

export function titleOf(meaning: string, { meanings }: Vocabulary): string {
  return meanings.find((line) => line.meaning === meaning)?.title ?? meaning;
}

export function rangeOf(low: number | null, high: number | null): string {
  if (low === null || high === null) return 'no values';
  const short = (value: number) => String(Number(value.toPrecision(4)));
  return `${short(low)} … ${short(high)}`;
}
