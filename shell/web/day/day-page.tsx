import { useCallback, useState } from 'react';
import { type DayView, driftView, type StripEntry } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { useWatch, type Watch } from '../client/use-watch.ts';
import { useWork } from '../client/use-work.ts';
import { hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { CautionsPart } from '../frame/cautions-part.tsx';
import { Empty, Findings, InventedBanner, Loading, Refused } from '../frame/states.tsx';
import { counted, STANDING_WORDS, unbroken } from '../frame/wording.ts';
import { HealthPart } from '../health/health-part.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { StopSign, StopTag } from '../verdicts/stop-plate.tsx';
import { DayStopPlate } from './day-stop-plate.tsx';
import { Strip } from './strip.tsx';
import { stripScale } from './strip-scale.ts';

/** What happened on the day: the strip, then every entry with its sentence. */
export function DayPage({ day }: { readonly day: string }) {
  const { work, reload } = useWork(day);
  const [news, setNews] = useState<string>();
  const seen = useCallback(
    (entry: string) => {
      setNews(entry);
      reload();
    },
    [reload],
  );
  const { watch, trouble } = useWatch(day, work.state === 'here' && work.value.folder !== undefined, seen);
  if (work.state === 'working') {
    return (
      <>
        <h1>The day</h1>
        <Loading
          what={work.progress ? `Working: ${work.progress.what}` : 'Opening the day'}
          share={work.progress?.share}
          cancel={work.cancel}
        />
      </>
    );
  }
  if (work.state === 'refused') {
    return (
      <>
        <h1>The day</h1>
        <Refused refusal={work.refusal} again={work.again} />
      </>
    );
  }
  return (
    <>
      {trouble && <Refused refusal={trouble} title="A log could not be taken in" />}
      <DayHere view={work.value} watch={watch} news={news} />
    </>
  );
}

function DayHere({
  view,
  watch,
  news,
}: {
  readonly view: DayView;
  readonly watch: Watch;
  readonly news: string | undefined;
}) {
  const { asked } = useAnswer(paths.drift(view.id), driftView);
  const { id, title, date, place, vehicle, entries, findings } = view;
  return (
    <>
      <InventedBanner invented={view.invented} />
      <div className="title-line">
        <h1>{title}</h1>
        <p className="quiet">
          {[date, place, vehicle, counted(entries.length, 'entry', 'entries')]
            .filter((part) => part !== undefined)
            .join(' · ')}
        </p>
        <WatchState watch={watch} folder={view.folder} news={news} day={id} />
      </div>
      {entries.length === 0 ? (
        <Empty title="Nothing has happened yet">
          <p>
            <a href={hashOf({ page: 'bring', day: id, sources: [] })}>Bring the first logs in</a>
          </p>
        </Empty>
      ) : (
        <>
          {view.stop && <DayStopPlate day={id} stop={view.stop} />}
          <Strip day={id} entries={entries} drift={asked.state === 'here' ? asked.value : undefined} />
          <StandingLegend entries={entries} />
          {entries.some(({ pulls, kind }) => pulls > 0 || kind === 'coast-down') && (
            <HealthPart
              day={id}
              told={view.stop?.stop.class ?? 0}
              entries={entries.map((entry) => entry.id)}
              key={entries.length}
            />
          )}
          <h2>In order</h2>
          <ol className="entries">
            {entries.map((entry) => (
              <EntryLine key={entry.id} day={id} entry={entry} />
            ))}
          </ol>
        </>
      )}
      {findings.length > 0 && <h2>About the whole day</h2>}
      <Findings findings={findings} />
      <CautionsPart cautions={view.cautions} />
    </>
  );
}

function EntryLine({ day, entry }: { readonly day: string; readonly entry: StripEntry }) {
  const writing = useWriting();
  const { id, clock, kind, title, peak, sentence, standing, stop, stopOf, excluded, findings } = entry;
  return (
    <li className={`entry-line ${standing}`}>
      <span className="entry-clock">{clock ?? '–'}</span>
      <span className="entry-body">
        <a href={hashOf({ page: 'entry', day, entry: id, look: PLAIN_LOOK })}>{title ?? id}</a>{' '}
        <span className="quiet">{kind}</span>
        {STANDING_WORDS[standing] !== '' && <span className={`standing ${standing}`}>{STANDING_WORDS[standing]}</span>}
        {stop && stop.class >= 2 && <StopTag stop={stop} />}
        {stop && stop.class >= 2 && stopOf !== undefined && (
          <span className="entry-fault">
            {stop.word.toUpperCase()} for its health: {stopOf}.
          </span>
        )}
        {sentence !== title && <span className="entry-sentence">{unbroken(sentence)}</span>}
        {findings.fault > 0 && (
          <span className="entry-fault">✕ {counted(findings.fault, 'fault')} found, named on its page</span>
        )}
        {excluded !== undefined && <span className="quiet">Left out by a person: {excluded}</span>}
      </span>
      <span className="entry-peak">
        {peak ? writing.text(peak.value, 'power', { u: twice(peak.standardUncertainty) }) : ''}
      </span>
    </li>
  );
}

const STOPS = [
  { class: 2, word: 'hold', meaning: '' },
  { class: 3, word: 'end the day', meaning: '' },
] as const;

function StandingLegend({ entries }: { readonly entries: readonly StripEntry[] }) {
  const writing = useWriting();
  const of = entries.find(({ peakOf }) => peakOf !== undefined)?.peakOf;
  const { ground } = stripScale(entries);
  return (
    <ul className="legend standing-legend">
      {(['valid', 'doubtful', 'windows', 'void', 'refused', 'waiting'] as const).map((standing) => (
        <li key={standing}>
          <svg viewBox="0 0 22 22" className={`mark-of pull ${standing}`} aria-hidden="true">
            <rect className="mark-block" x="2" y="2" width="18" height="18" />
            <text className="mark-letter" x="11" y="17" textAnchor="middle">
              {standing === 'refused' || standing === 'void' ? '✕' : standing === 'waiting' ? '?' : ''}
            </text>
          </svg>
          {STANDING_WORDS[standing]}
        </li>
      ))}
      {STOPS.map((stop) => (
        <li key={stop.class}>
          <StopSign stop={stop} />
          {stop.word}
        </li>
      ))}
      {of !== undefined && (
        <li>
          block: highest {of} ±2u
          {ground > 0 && `; the ground line is ${writing.text(ground, 'power', { decimals: 0 })}, not zero`}
        </li>
      )}
    </ul>
  );
}

function WatchState({
  watch,
  folder,
  news,
  day,
}: {
  readonly watch: Watch;
  readonly folder: string | undefined;
  readonly news: string | undefined;
  readonly day: string;
}) {
  const words = {
    off: '',
    connecting: 'Looking for the folder…',
    watching: 'Watching the folder',
    lost: 'The watch is interrupted; it will try again',
  }[watch];
  if (words === '') return null;
  return (
    <p className={`watch ${watch}`} role="status">
      <span aria-hidden="true">{watch === 'watching' ? '◉' : '◌'} </span>
      {words} {folder}
      {news !== undefined && (
        <>
          {' · new: '}
          <a href={hashOf({ page: 'entry', day, entry: news, look: PLAIN_LOOK })}>{news}</a>
        </>
      )}
    </p>
  );
}
