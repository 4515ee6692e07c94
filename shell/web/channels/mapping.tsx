import { useState } from 'react';
import {
  type FileView,
  fileView,
  mappingKept,
  type RefusalRecord,
  type Vocabulary,
  vocabulary,
} from '../../contract/index.ts';
import { tell } from '../client/ask.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Findings, Refused, Whole } from '../frame/states.tsx';
import { bytesInWords, counted } from '../frame/wording.ts';
import { ColumnLine } from './column-line.tsx';
import { decided as changed, type Decision, firstDecisions, inOrder, mappingOf } from './decisions.ts';
import { QuestionLine } from './question-line.tsx';

interface MappingProps {
  readonly source: string;
  readonly decided: (file: FileView) => void;
  readonly dropped: () => void;
}

/** What the columns of one file mean: questions first, then what we believe, then what nobody knows. */
export function Mapping({ source, decided, dropped }: MappingProps) {
  const file = useAnswer(paths.file(source), fileView);
  const words = useAnswer(paths.vocabulary, vocabulary);
  return (
    <Whole asked={file.asked} what="Reading the file">
      {(reading) => (
        <Whole asked={words.asked} what="Fetching the list of meanings">
          {(list) => <MappingHere key={source} file={reading} list={list} decided={decided} dropped={dropped} />}
        </Whole>
      )}
    </Whole>
  );
}

interface HereProps extends Omit<MappingProps, 'source'> {
  readonly file: FileView;
  readonly list: Vocabulary;
}

function MappingHere({ file, list, decided, dropped }: HereProps) {
  const [decisions, setDecisions] = useState(() => firstDecisions(file));
  const [state, setState] = useState<{ kind: 'open' | 'kept' } | { kind: 'refused'; refusal: RefusalRecord }>({
    kind: 'open',
  });
  const { asked, believed, unnamed } = inOrder(file.columns);
  const decide = (decision: Decision) => {
    setState({ kind: 'open' });
    setDecisions((former) => changed(former, decision, list));
  };
  const of = (name: string) =>
    decisions.find(({ column }) => column === name) ?? { column: name, meaning: undefined, unit: '1' };
  const keep = async () => {
    const answer = await tell(
      { method: 'PUT', path: paths.mapping(file.source), body: mappingOf(file, decisions) },
      mappingKept,
    );
    if (!answer.ok) return setState({ kind: 'refused', refusal: answer.refusal });
    setState({ kind: 'kept' });
    decided(file);
  };
  const open = asked.filter(({ name }) => of(name).meaning === undefined).length;
  return (
    <section className="mapping" aria-label={file.file}>
      <div className="title-line">
        <h2>{file.file}</h2>
        <p className="quiet">
          {file.format} · {counted(file.rows, 'row')} · {bytesInWords(file.bytes)}
          {file.remembered && ' · decided before for these columns'}
        </p>
        <button type="button" onClick={dropped}>
          Leave this file out
        </button>
      </div>
      <Findings findings={file.findings} />
      {asked.map((column) => (
        <QuestionLine key={column.name} column={column} decision={of(column.name)} list={list} decide={decide} />
      ))}
      <div className="columns">
        {believed.map((column) => (
          <ColumnLine key={column.name} column={column} decision={of(column.name)} list={list} decide={decide} />
        ))}
      </div>
      {unnamed.length > 0 && (
        <details>
          <summary>{counted(unnamed.length, 'column')} that nothing spoke for: kept, not used</summary>
          <div className="columns">
            {unnamed.map((column) => (
              <ColumnLine key={column.name} column={column} decision={of(column.name)} list={list} decide={decide} />
            ))}
          </div>
        </details>
      )}
      <p className="button-line">
        <button type="button" className="first" onClick={keep}>
          {state.kind === 'kept' ? 'Kept ✓' : 'These meanings are right'}
        </button>
        {open > 0 && (
          <span className="quiet">{counted(open, 'question')} without an answer: these columns will not be used.</span>
        )}
      </p>
      {state.kind === 'refused' && <Refused refusal={state.refusal} title="Not kept" />}
    </section>
  );
}
