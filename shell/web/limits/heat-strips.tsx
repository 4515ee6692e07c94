import { memo } from 'react';
import type { LimitRow, LimitsView } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { hashOf } from '../frame/address.ts';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { chanceText, HEATS, heatOf, marginText, signOf } from './heat.ts';
import { UnknownList } from './unknown-list.tsx';

/** Every limit over engine speed: a strip each, the likeliest passed first; what cannot be told below. */
export const HeatStrips = memo(({ view: { day, limits, speed, values } }: { readonly view: LimitsView }) => {
  const writing = useWriting();
  const told = limits.filter(({ tightest }) => tightest !== undefined);
  return (
    <>
      <Sideways name="Margins over engine speed">
        <table className="heat">
          <caption>Margin over engine speed, in percent of what is asked.</caption>
          <thead>
            <tr>
              <th scope="col">Limit</th>
              {speed.map((at) => (
                <th scope="col" key={at} className="heat-speed">
                  {writing.text(at, 'engine-speed', { unit: false })}
                </th>
              ))}
              <th scope="col" className="heat-tightest">
                tightest
              </th>
              <th scope="col" className="heat-tightest">
                passed
              </th>
            </tr>
          </thead>
          <tbody>
            {told.map((row) => (
              <StripRow key={row.name} row={row} speed={speed} />
            ))}
          </tbody>
        </table>
      </Sideways>
      <HeatLegend />
      <Learnt rows={limits} />
      <Sources rows={told} known={{ day, values }} />
      <Untold rows={limits.filter(({ tightest }) => tightest === undefined)} known={{ day, values }} />
    </>
  );
});

function StripRow({ row, speed }: { readonly row: LimitRow; readonly speed: readonly number[] }) {
  const writing = useWriting();
  const { title, kind, margin, over, required, requiredUncertainty, available, availableUncertainty, tightest } = row;
  // Written when a pointer comes: two hundred texts a turn of a slider are too many.
  const tell = (cell: HTMLElement, i: number) => {
    const needs = writing.text(required[i], kind, { u: twice(requiredUncertainty[i]) });
    const has = writing.text(available[i], kind, { u: twice(availableUncertainty[i]) });
    cell.title = `asked ${needs}, there ${has}`;
  };
  return (
    <tr>
      <th scope="row">{title}</th>
      {speed.map((at, i) => {
        const heat = heatOf(over[i]);
        return (
          <td key={at} className={`heat-cell ${heat}`} onPointerEnter={(event) => tell(event.currentTarget, i)}>
            <span>
              {marginText(margin[i])}
              <i aria-hidden="true">{signOf(heat)}</i>
            </span>
          </td>
        );
      })}
      <td className="heat-tightest">
        {tightest && (
          <>
            {marginText(tightest.margin)}
            {tightest.marginUncertainty !== null && ` ± ${Math.round(200 * tightest.marginUncertainty)}`} %
          </>
        )}
      </td>
      <td className="heat-tightest">{tightest && chanceText(tightest.over)}</td>
    </tr>
  );
}

function HeatLegend() {
  return (
    <ul className="legend heat-legend">
      {HEATS.map(({ heat, sign, meaning }) => (
        <li key={heat}>
          <span className={`heat-key ${heat}`} aria-hidden="true">
            <span>{sign}</span>
          </span>
          {meaning}
        </li>
      ))}
    </ul>
  );
}

/** Borders that the day itself showed: they narrow a limit. */
function Learnt({ rows }: Pick<TellingProps, 'rows'>) {
  const taught = rows.flatMap(({ name, title, learnt = [] }) => learnt.map((words) => ({ name, title, words })));
  if (taught.length === 0) return null;
  return (
    <section aria-labelledby="learnt">
      <h3 id="learnt">What the day taught about its limits</h3>
      <ul>
        {taught.map(({ name, title, words }) => (
          <li key={`${name} ${words}`}>
            <strong>{title}</strong>: {words}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface TellingProps {
  readonly rows: readonly LimitRow[];
  readonly known: Pick<LimitsView, 'day' | 'values'>;
}

/** The equation behind each limit, and what of it nobody stated: stating it would sharpen the margin. */
function Sources({ rows, known }: TellingProps) {
  return (
    <details>
      <summary>Where each limit comes from, and what would sharpen it</summary>
      <dl className="limit-sources">
        {rows.map(({ name, title, source, unknown, kept }) => (
          <div key={name}>
            <dt>{title}</dt>
            <dd>
              {source}.{kept !== undefined && kept > 0 && ` ${Math.round(100 * kept)} % is held back already.`}
              <UnknownList unknown={unknown} {...known} lead="Nobody stated" />
            </dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

/** One click to each field that would tell; a single one needs no name, the sentence before has it. */
function StateIt({ day, unknown }: { readonly day: string; readonly unknown: LimitRow['unknown'] }) {
  const fields = unknown.filter(({ fact }) => fact !== undefined);
  return fields.map(({ name, title, fact = '' }) => (
    <span key={name}>
      {' · '}
      <a href={hashOf({ page: 'facts', day, field: fact })}>
        {fields.length === 1 ? (
          <>
            to its field<span className="unseen">: {title}</span>
          </>
        ) : (
          `state ${title}`
        )}
      </a>
    </span>
  ));
}

function Untold({ rows, known }: TellingProps) {
  if (rows.length === 0) return null;
  return (
    <section className="state waiting" aria-labelledby="untold">
      <h2 id="untold">Cannot be told: unknown is not safe</h2>
      <ul>
        {rows.map(({ name, title, why, missing, unknown }) => (
          <li key={name}>
            <strong>{title}</strong>: {why ?? 'nothing is known of it'}
            <StateIt day={known.day} unknown={unknown.slice(0, missing.length)} />
          </li>
        ))}
      </ul>
    </section>
  );
}
