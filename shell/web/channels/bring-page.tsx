import { useRef, useState } from 'react';
import { dayList, type FileView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { type Address, hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { Empty, Whole } from '../frame/states.tsx';
import { turn } from '../frame/use-address.ts';
import { FileDrop } from './file-drop.tsx';
import { Mapping } from './mapping.tsx';
import { NewEntryForm } from './new-entry-form.tsx';

type BringAddress = Extract<Address, { page: 'bring' }>;

/** Logs in, meanings decided, an entry made, a verdict out. */
export function BringPage({ address }: { readonly address: BringAddress }) {
  const { day, sources, back } = address;
  const [names, setNames] = useState<readonly string[]>([]);
  const [decided, setDecided] = useState<ReadonlySet<string>>(new Set());
  // Two files of one drop arrive one after the other, each before the page has been drawn again.
  const latest = useRef(sources);
  latest.current = sources;
  const taken = ({ source }: FileView) => {
    latest.current = [...new Set([...latest.current, source])];
    turn({ ...address, sources: latest.current });
  };
  const open = sources.filter((source) => !decided.has(source));
  return (
    <>
      <h1>Bring logs in</h1>
      <ol className="steps">
        <li aria-current={sources.length === 0 ? 'step' : undefined}>the files</li>
        <li aria-current={sources.length > 0 && open.length > 0 ? 'step' : undefined}>what the columns mean</li>
        <li aria-current={sources.length > 0 && open.length === 0 ? 'step' : undefined}>
          what happened, and what must be known
        </li>
      </ol>
      {day === undefined ? (
        <WhichDay />
      ) : (
        <>
          {back === undefined && <FileDrop taken={taken} />}
          {sources.map((source) => (
            <Mapping
              key={source}
              source={source}
              decided={({ file }) => {
                setDecided((former) => new Set([...former, source]));
                setNames((former) => [...new Set([...former, file])]);
              }}
              dropped={() => turn({ ...address, sources: sources.filter((other) => other !== source) })}
            />
          ))}
          {sources.length > 0 && open.length === 0 && <After day={day} files={names} back={back} />}
        </>
      )}
    </>
  );
}

interface AfterProps {
  readonly day: string;
  readonly files: readonly string[];
  readonly back: string | undefined;
}

/** Decided: back to the entry that waited, or on to a new one. */
function After({ day, files, back }: AfterProps) {
  if (back === undefined) return <NewEntryForm day={day} files={files} />;
  return (
    <p>
      <a className="button" href={hashOf({ page: 'entry', day, entry: back, look: PLAIN_LOOK })}>
        Show what {back} made
      </a>
    </p>
  );
}

function WhichDay() {
  const { asked } = useAnswer(paths.days, dayList);
  return (
    <Whole asked={asked} what="Looking for days">
      {({ days }) =>
        days.length === 0 ? (
          <Empty title="There is no day to bring them to">
            <p>
              <a href={hashOf({ page: 'days' })}>Begin a day first</a>
            </p>
          </Empty>
        ) : (
          <section aria-labelledby="which-day">
            <h2 id="which-day">To which day?</h2>
            <ul className="days">
              {days.map(({ id, title, date }) => (
                <li key={id}>
                  <a href={hashOf({ page: 'bring', day: id, sources: [] })}>
                    <span className="days-title">{title}</span>
                    <span className="quiet">{date}</span>
                  </a>
                </li>
              ))}
            </ul>
          </section>
        )
      }
    </Whole>
  );
}
