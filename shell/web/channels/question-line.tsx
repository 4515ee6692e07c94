import { useId } from 'react';
import type { ColumnView, Vocabulary } from '../../contract/index.ts';
import { Sketch } from '../drawing/sketch.tsx';
import { MeaningChoice, rangeOf, titleOf } from './column-line.tsx';
import { type Decision, isSame, offers, unitInWords } from './decisions.ts';

interface QuestionProps {
  readonly column: ColumnView;
  readonly decision: Decision;
  readonly list: Vocabulary;
  readonly decide: (decision: Decision) => void;
}

/** A column that a person must decide: the question, what we would offer and why, something else, or nothing. Arrow keys choose. */
export function QuestionLine({ column, decision, list, decide }: QuestionProps) {
  // Two files may hold a column of the same name; their choices must not be one group.
  const group = useId();
  const all = offers(column);
  const { name, question, low, high } = column;
  return (
    <fieldset className="question">
      <legend>{question}</legend>
      <div className="question-column">
        <Sketch values={column.sketch} label={`${name} over the file`} />
        <p>
          <strong>{name}</strong> {column.unit !== '' && `in ${column.unit}`}{' '}
          <span className="quiet">{rangeOf(low, high)}</span>
        </p>
      </div>
      {all.map(({ meaning, unit, divisor, zero, confidence, reason }) => (
        <label className="check" key={`${meaning} ${unit} ${divisor} ${zero}`}>
          <input
            type="radio"
            name={group}
            checked={isSame(decision, { meaning, unit, divisor, zero })}
            onChange={() => decide({ column: name, meaning, unit, divisor, zero })}
          />
          <span>
            {titleOf(meaning, list)}, {unitInWords({ unit, divisor, zero })}{' '}
            <small>
              {Math.round(confidence * 100)} %: {reason}
            </small>
          </span>
        </label>
      ))}
      <label className="check">
        <input
          type="radio"
          name={group}
          checked={decision.meaning === undefined}
          onChange={() => decide({ ...decision, meaning: undefined })}
        />
        do not use it
      </label>
      <p className="quiet">Something else, or another unit:</p>
      <MeaningChoice column={column} decision={decision} list={list} decide={decide} />
    </fieldset>
  );
}
