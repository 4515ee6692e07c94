import { useRef } from 'react';
import { type HealthFindingView, type HealthLineView, type HealthView, healthView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { useWidth } from '../drawing/use-width.ts';
import { hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { OverruleForm } from '../verdicts/overrule-form.tsx';
import { StopPlate, StopTag } from '../verdicts/stop-plate.tsx';
import { sized } from '../verdicts/words.ts';
import { chartLayout } from './chart-layout.ts';

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

function HealthHere({ day, entries, told, health, reload }: HereProps) {
  const { stop, lines, findings, unknown } = health;
  const counted = findings.filter(({ overruled }) => overruled === undefined);
  const worst = counted.find((finding) => finding.stop.class === stop.class);
  const grave = findings.filter((finding) => finding.stop.class > 0);
  const notes = findings.filter((finding) => finding.stop.class === 0);
  return (
    <>
      {stop.class >= 2 && stop.class > told && worst && (
        <StopPlate stop={stop}>
          <p>
            Since <EntryName day={day} entry={worst.entry} />: {worst.title}; {worst.why}.
          </p>
        </StopPlate>
      )}
      {lines.map((line) => (
        <Line key={line.name} {...{ day, entries, line }} />
      ))}
      {lines.length > 0 && (
        <p className="quiet">
          Each point: a pull or coast-down at equal state against the first ones (filled), ± two standard uncertainties.
          Shaded: the band of its moving average. Ringed: where it left its band.
        </p>
      )}
      {grave.length > 0 && (
        <ul className="health-findings">
          {grave.map((finding) => (
            <Found key={`${finding.title} ${finding.entry} ${finding.why}`} {...{ day, finding, reload }} />
          ))}
        </ul>
      )}
      {grave.length === 0 && <p>Nothing was found; that clears no engine.</p>}
      {notes.length > 0 && (
        <details>
          <summary>{notes.length} notes on health</summary>
          <ul className="health-findings">
            {notes.map((finding) => (
              <Found key={`${finding.title} ${finding.entry} ${finding.why}`} {...{ day, finding, reload }} />
            ))}
          </ul>
        </details>
      )}
      {unknown.length > 0 && (
        <details>
          <summary>What this day leaves open about health ({unknown.length})</summary>
          <ul>
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

function EntryName({ day, entry }: { readonly day: string; readonly entry: string }) {
  return <a href={hashOf({ page: 'entry', day, entry, look: PLAIN_LOOK })}>{entry}</a>;
}

interface FoundProps {
  readonly day: string;
  readonly finding: HealthFindingView;
  readonly reload: () => void;
}

function Found({ day, finding, reload }: FoundProps) {
  const writing = useWriting();
  const { name, title, entry, stop, why, values, changed, overruled } = finding;
  const numbers = values.map(({ name, value, kind, limit }) => {
    const held = limit === undefined ? '' : `, limit ${sized(limit, kind, writing)}`;
    return `${name} ${value ? sized(value.value, kind, writing) : '–'}${held}`;
  });
  return (
    <li className={overruled === undefined ? undefined : 'overruled'}>
      <EntryName day={day} entry={entry} /> <strong>{title}</strong>
      {overruled === undefined && <StopTag stop={stop} />} {why}
      {overruled !== undefined && <p className="overruled-why">Overruled, because: {overruled}</p>}
      <small>
        {[...numbers, changed.length > 0 ? `changed between: ${changed.join(', ')}` : ''].filter(Boolean).join(' · ')}
      </small>
      {stop.class > 0 && (
        <OverruleForm
          view={{ day, id: entry }}
          fault={name}
          title={title}
          {...{ stop, overruled, reload }}
          changed={reload}
        />
      )}
    </li>
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
      ? `${sized(Math.min(...values), kind, writing)} … ${sized(Math.max(...values), kind, writing)}`
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
        <svg width={width} height={HEIGHT} role="img" aria-label={`${name}: ${verdict}, ${range}`}>
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
