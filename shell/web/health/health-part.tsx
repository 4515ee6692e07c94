import { useRef } from 'react';
import { type HealthLineView, type HealthView, healthView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { useWidth } from '../drawing/use-width.ts';
import { Whole } from '../frame/states.tsx';
import { counted } from '../frame/wording.ts';
import { useWriting } from '../look/use-preferences.ts';
import { StopPlate } from '../verdicts/stop-plate.tsx';
import { chartLayout } from './chart-layout.ts';
import { foundGroups, foundInWords } from './found-groups.ts';
import { EntryName, FoundList } from './found-list.tsx';

interface HealthProps {
  readonly day: string;
  /** All entries of the day in order: the places of the lines. */
  readonly entries: readonly string[];
  /** Stop class that the page shows already; only a graver one gets a plate of its own. */
  readonly told: number;
}

/** Health of engine and car over the day: slow trends with their bands, what was found, what the day leaves open. */
export function HealthPart({ day, entries, told }: HealthProps) {
  const { asked, reload } = useAnswer(paths.health(day), healthView);
  return (
    <section aria-labelledby="health" className="health">
      <h2 id="health">Health of the day</h2>
      <Whole asked={asked} what="Comparing the entries of the day">
        {(health) => <HealthHere {...{ day, entries, told, health, reload }} />}
      </Whole>
    </section>
  );
}

interface HereProps extends HealthProps {
  readonly health: HealthView;
  readonly reload: () => void;
}

function HealthHere({ day, entries, told: already, health, reload }: HereProps) {
  const { stop, lines, findings, unknown } = health;
  const worst = findings.find((finding) => finding.overruled === undefined && finding.stop.class === stop.class);
  const { open, folded, notes } = foundGroups(findings);
  const told = lines.filter(({ verdict }) => verdict !== 'not enough');
  const untold = lines.filter(({ verdict }) => verdict === 'not enough');
  return (
    <>
      {stop.class >= 2 && stop.class > already && worst && (
        <StopPlate stop={stop}>
          <p>
            Since <EntryName day={day} entry={worst.entry} />: {worst.title}; {worst.why}.
          </p>
        </StopPlate>
      )}
      {open.length > 0 && <FoundList {...{ day, reload }} findings={open} />}
      {folded.length > 0 && (
        <details>
          <summary>
            {folded.length} times repeat: <span className="fold-words">{foundInWords(folded)}</span>
          </summary>
          <FoundList {...{ day, reload }} findings={folded} />
        </details>
      )}
      {open.length + folded.length === 0 && <p>Nothing was found; that clears no engine.</p>}
      {told.map((line) => (
        <Line key={line.name} {...{ day, entries, line }} />
      ))}
      {told.length > 0 && (
        <p className="quiet">
          Each point: a pull or coast-down at equal state against the first ones (filled), ± two standard uncertainties.
          Shaded: the band of its moving average. Ringed: where it left its band.
        </p>
      )}
      {notes.length > 0 && (
        <details>
          <summary>
            {counted(notes.length, 'note')} on health: <span className="fold-words">{foundInWords(notes)}</span>
          </summary>
          <FoundList {...{ day, reload }} findings={notes} />
        </details>
      )}
      {unknown.length + untold.length > 0 && (
        <details>
          <summary>What this day leaves open about health ({unknown.length + untold.length})</summary>
          <ul>
            {untold.map(({ name, why }) => (
              <li key={name}>
                {name}: {why ?? 'not enough'}
              </li>
            ))}
            {unknown.map(({ what, entries: of, why }) => (
              <li key={`${what} ${of.join()} ${why}`}>
                {what}
                {of.length > 0 && ` (${of.join(', ')})`}: {why}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

const HEIGHT = 64;

function Line({ day, entries, line }: Omit<HealthProps, 'told'> & { readonly line: HealthLineView }) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder);
  const writing = useWriting();
  const { name, verdict, why, left, points, kind, remarks } = line;
  const layout = chartLayout(line, entries, { width, height: HEIGHT });
  const values = points.flatMap(({ value }) => (value === null ? [] : [value]));
  const range =
    values.length > 0
      ? `${writing.measured(Math.min(...values), kind)} … ${writing.measured(Math.max(...values), kind)}`
      : '–';
  return (
    <div className={`health-line ${verdict === 'left its band' ? (left?.worse ? 'left worse' : 'left') : ''}`}>
      <div>
        <strong>{name}</strong>
        <p>
          {verdict === 'not enough' && why !== undefined ? why : verdict}
          {left && (
            <>
              {' '}
              at <EntryName day={day} entry={left.entry} />, {left.direction}
              {left.worse ? ': the worse way' : ''}
            </>
          )}
        </p>
        <small>{[range, ...remarks].join(' · ')}</small>
      </div>
      <div ref={holder} className="health-chart">
        <svg
          width={width}
          height={HEIGHT}
          viewBox={`0 0 ${width} ${HEIGHT}`}
          role="img"
          aria-label={`${name}: ${verdict}, ${range}`}
        >
          <path className="health-band" d={layout.band} />
          <path className="health-zero" d={`M0 ${layout.zero}H${width}`} />
          <path className="health-average" d={layout.average} />
          {layout.dots.map(({ entry, x, y, top, bottom, left: out, counted }, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: two pulls of one entry share its name
            <g key={at} className={counted ? 'health-dot counted' : 'health-dot'}>
              <path d={`M${x} ${top}V${bottom}`} />
              {out && <circle className="health-ring" cx={x} cy={y} r={9} />}
              <circle cx={x} cy={y} r={3.5}>
                <title>{entry}</title>
              </circle>
            </g>
          ))}
        </svg>
      </div>
    </div>
  );
}
