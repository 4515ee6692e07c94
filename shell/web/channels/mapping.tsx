import { useState } from 'react';
import {
  type ColumnView,
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
import { ColumnLine, titleOf } from './column-line.tsx';
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
  const { asked, unsure, sure, unnamed } = inOrder(file.columns);
  const decide = (decision: Decision) => {
    setState({ kind: 'open' });
    setDecisions((former) => changed(former, decision, list));
  };
  const of = (name: string) =>
    decisions.find(({ column }) => column === name) ?? { column: name, meaning: undefined, unit: '1' };
  // A sound has no columns: nothing in it needs a meaning.
  const plain = file.columns.length === 0;
  const keep = async () => {
    if (plain) {
      setState({ kind: 'kept' });
      return decided(file);
    }
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
          {file.format} · {!plain && `${counted(file.rows, 'row')} · `}
          {bytesInWords(file.bytes)}
          {file.remembered && ' · decided before for these columns'}
        </p>
        <button type="button" onClick={dropped}>
          Leave this file out
        </button>
      </div>
      {state.kind !== 'kept' && (
        <>
          <Findings findings={file.findings} />
          {asked.map((column) => (
            <QuestionLine key={column.name} column={column} decision={of(column.name)} list={list} decide={decide} />
          ))}
          <Columns columns={unsure} of={of} list={list} decide={decide} />
          <Folded
            title={`${counted(sure.length, 'column')} we are sure of`}
            columns={sure}
            of={of}
            list={list}
            decide={decide}
          />
          <Folded
            title={`${counted(unnamed.length, 'column')} that nothing spoke for: kept, not used`}
            columns={unnamed}
            of={of}
            list={list}
            decide={decide}
          />
        </>
      )}
      <p className="button-line">
        {state.kind === 'kept' && plain && <strong>✓ It will stand beside the logs.</strong>}
        {state.kind === 'kept' && !plain && (
          <>
            <strong>✓ The meanings are kept.</strong>
            <button type="button" onClick={() => setState({ kind: 'open' })}>
              Change them
            </button>
          </>
        )}
        {state.kind !== 'kept' && (
          <button type="button" className="first" onClick={keep}>
            {plain ? 'Put it beside the logs' : 'These meanings are right'}
          </button>
        )}
        {open > 0 && (
          <span className="quiet">{counted(open, 'question')} without an answer: these columns will not be used.</span>
        )}
      </p>
      {state.kind === 'refused' && <Refused refusal={state.refusal} title="Not kept" />}
    </section>
  );
}

interface ColumnsProps {
  readonly columns: readonly ColumnView[];
  readonly of: (name: string) => Decision;
  readonly list: Vocabulary;
  readonly decide: (decision: Decision) => void;
}

function Columns({ columns, of, list, decide }: ColumnsProps) {
  return (
    <div className="columns">
      {columns.map((column) => (
        <ColumnLine key={column.name} column={column} decision={of(column.name)} list={list} decide={decide} />
      ))}
    </div>
  );
}

/** Columns behind a fold; their meanings can be read at a glance without opening it. */
function Folded({ title, ...rest }: ColumnsProps & { readonly title: string }) {
  const { columns, of, list } = rest;
  if (columns.length === 0) return null;
  const said = columns.map(({ name }) => `${name} = ${titleOf(of(name).meaning ?? 'not used', list)}`);
  return (
    <details>
      <summary>{title}</summary>
      <p className="quiet">{said.join(' · ')}</p>
      <Columns {...rest} />
    </details>
  );
}
