import { useCallback } from 'react';
import { dayView, type EntryView, entryView, type VerdictView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Strip } from '../day/strip.tsx';
import { type EntryAddress, hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { Findings, Refused, Whole } from '../frame/states.tsx';
import { go } from '../frame/use-address.ts';
import { usePageKey } from '../frame/use-keys.ts';
import { STANDING_WORDS, unbroken } from '../frame/wording.ts';
import { EntryHealthPart, EntryHealthPlate } from '../health/entry-health-part.tsx';
import { ReadinessPart } from '../health/readiness-part.tsx';
import { VerdictPart } from '../verdicts/verdict-part.tsx';
import { VerdictPlate } from '../verdicts/verdict-plate.tsx';
import { AirPart } from './air-part.tsx';
import { BudgetPart } from './budget-part.tsx';
import { EntryDecisions } from './entry-decisions.tsx';
import { JoiningPart } from './joining-part.tsx';
import { KeepPart } from './keep-part.tsx';
import { LossPart } from './loss-part.tsx';
import { PullPart } from './pull-part.tsx';
import { SegmentsPart } from './segments-part.tsx';
import { TracesPart } from './traces-part.tsx';

/** One entry: its sentence, what it made, the evidence, and how sure all of it is. */
export function EntryPage({ address }: { readonly address: EntryAddress }) {
  const { day, entry } = address;
  const { asked, put, reload } = useAnswer(paths.entry(day, entry), entryView);
  return (
    <>
      <Neighbours address={address} />
      <Whole asked={asked} what="Working out the entry" title={entry}>
        {(view) => <EntryHere {...{ view, address, reload }} changed={put} />}
      </Whole>
    </>
  );
}

function Neighbours({ address: { day, entry } }: { readonly address: EntryAddress }) {
  const { asked } = useAnswer(paths.day(day), dayView);
  const entries = asked.state === 'here' ? asked.value.entries : [];
  const at = entries.findIndex(({ id }) => id === entry);
  const to = useCallback(
    (step: number) => {
      const next = entries[at + step];
      if (at >= 0 && next) go({ page: 'entry', day, entry: next.id, look: PLAIN_LOOK });
    },
    [entries, at, day],
  );
  usePageKey(
    'before',
    useCallback(() => to(-1), [to]),
  );
  usePageKey(
    'after',
    useCallback(() => to(1), [to]),
  );
  if (entries.length === 0) return null;
  return (
    <div className="neighbours">
      <Strip day={day} entries={entries} here={entry} height={100} />
    </div>
  );
}

interface HereProps {
  readonly view: EntryView;
  readonly address: EntryAddress;
  readonly changed: (view: EntryView) => void;
  readonly reload: () => void;
}

function EntryHere({ view, address, changed, reload }: HereProps) {
  const { look } = address;
  const pull = view.pulls[Math.min(look.pull, view.pulls.length - 1)];
  const verdict = view.verdicts.find(({ index }) => index === Math.min(look.pull, view.pulls.length - 1));
  const window = pull?.segment ?? view.losses[0]?.segment;
  return (
    <article>
      <Heading view={view} verdict={verdict} />
      {view.refusal && <Refused refusal={view.refusal} />}
      {view.questions.map(({ file, source, columns }) => (
        <p className="state waiting" key={file}>
          {file} waits for a decision about {columns.join(', ')}.{' '}
          <a
            href={hashOf({
              page: 'bring',
              day: view.day,
              sources: source === undefined ? [] : [source],
              back: view.id,
            })}
          >
            Decide
          </a>
        </p>
      ))}
      {view.pulls.length > 1 && <PullChoice view={view} address={address} />}
      {pull && <PullPart pull={pull} address={address} key={look.pull} />}
      {pull && verdict && (
        <VerdictPart
          key={`verdict ${look.pull}`}
          {...{ view, verdict, address, changed, reload }}
          stretch={{ from: pull.segment.fromTime, to: pull.segment.toTime }}
        />
      )}
      <EntryHealthPart day={view.day} entry={view.id} />
      {pull && <BudgetPart pull={pull} />}
      {pull && <ReadinessPart day={view.day} entry={view.id} />}
      {view.losses.map((loss) => (
        <LossPart loss={loss} key={loss.segment.fromTime} />
      ))}
      {view.files.length > 0 && <TracesPart {...{ address, pull, window, verdict }} />}
      <section aria-labelledby="findings">
        <h2 id="findings">Findings</h2>
        <Findings
          findings={[...(pull?.findings ?? []), ...view.findings]}
          none="Nothing was found against this entry."
        />
      </section>
      {view.alignment && <JoiningPart view={view} alignment={view.alignment} changed={changed} />}
      {view.conditions && <AirPart view={view} conditions={view.conditions} changed={changed} />}
      <SegmentsPart segments={view.segments} />
      <KeepPart address={address} curves={view.pulls.length > 0} channels={view.files.length > 0} />
      <EntryDecisions view={view} changed={changed} />
    </article>
  );
}

function Heading({ view, verdict }: { readonly view: EntryView; readonly verdict: VerdictView | undefined }) {
  const { clock, title, id, kind, settings, files, standing, sentence, excluded } = view;
  const parts = [...Object.entries(settings).map(([name, value]) => `${name} ${value}`), ...files];
  return (
    <header className={`verdict ${standing}`}>
      <p className="quiet">
        {view.invented !== undefined && (
          <span className="tag" title={view.invented}>
            Invented data
          </span>
        )}{' '}
        <a href={hashOf({ page: 'day', day: view.day })}>{view.dayTitle}</a> ·{' '}
        {[clock, kind].filter((part) => part !== undefined).join(' · ')}
      </p>
      <h1>
        {title ?? id}
        {STANDING_WORDS[standing] !== '' && <span className={`standing ${standing}`}>{STANDING_WORDS[standing]}</span>}
      </h1>
      {verdict && <VerdictPlate verdict={verdict} />}
      <EntryHealthPlate day={view.day} entry={id} told={verdict?.stop.class ?? 0} />
      {verdict ? (
        <>
          <p className="sentence">{unbroken(verdict.sentence)}</p>
          <p className="made">{unbroken(view.pulls.length > 1 ? sentence : verdict.made)}</p>
        </>
      ) : (
        <p className="sentence">{unbroken(sentence)}</p>
      )}
      {view.reasons.length > 0 && (
        <p className="why">
          {standing === 'valid' ? 'But' : 'Because'}: {view.reasons.join('; ')}
        </p>
      )}
      {excluded !== undefined && <p className="state waiting">Left out by a person: {excluded}</p>}
      <p className="quiet">{[view.notes, ...parts].filter((part) => part !== undefined).join(' · ')}</p>
    </header>
  );
}

function PullChoice({ view, address }: { readonly view: EntryView; readonly address: EntryAddress }) {
  return (
    <nav aria-label="Pulls in this entry" className="choice">
      {view.pulls.map(({ segment }, at) => (
        <a
          key={segment.fromTime}
          href={hashOf({ ...address, look: { pull: at, against: address.look.against } })}
          aria-current={at === address.look.pull ? 'page' : undefined}
        >
          pull {at + 1} · {segment.fromTime.toFixed(1)}–{segment.toTime.toFixed(1)} s
        </a>
      ))}
    </nav>
  );
}
