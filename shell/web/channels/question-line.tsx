import type { ColumnView, Vocabulary } from '../../contract/index.ts';
import { Sketch } from '../drawing/sketch.tsx';
import { MeaningChoice, rangeOf, titleOf } from './column-line.tsx';
import { type Decision, offers } from './decisions.ts';

interface QuestionProps {
  readonly column: ColumnView;
  readonly decision: Decision;
  readonly list: Vocabulary;
  readonly decide: (decision: Decision) => void;
}

/** A column that a person must decide: the question, what we would offer and why, something else, or nothing. Arrow keys choose. */
export function QuestionLine({ column, decision, list, decide }: QuestionProps) {
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
      {all.map(({ meaning, unit, confidence, reason }) => (
        <label className="check" key={`${meaning} ${unit}`}>
          <input
            type="radio"
            name={`question ${name}`}
            checked={decision.meaning === meaning && decision.unit === unit}
            onChange={() => decide({ column: name, meaning, unit })}
          />
          <span>
            {titleOf(meaning, list)}, {unit}{' '}
            <small>
              {Math.round(confidence * 100)} %: {reason}
            </small>
          </span>
        </label>
      ))}
      <label className="check">
        <input
          type="radio"
          name={`question ${name}`}
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
