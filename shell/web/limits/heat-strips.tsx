import type { LimitRow, LimitsView } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { chanceText, HEATS, heatOf, marginText, signOf } from './heat.ts';

/** Every limit over engine speed: a strip each, the likeliest passed first; what cannot be told below. */
export function HeatStrips({ view: { limits, speed } }: { readonly view: LimitsView }) {
  const writing = useWriting();
  const told = limits.filter(({ tightest }) => tightest !== undefined);
  return (
    <>
      <Sideways name="Margins over engine speed">
        <table className="heat">
          <caption>
            Margin in percent of what is asked, over engine speed; how likely each limit is passed is in sign, pattern
            and colour.
          </caption>
          <thead>
            <tr>
              <th scope="col">Limit</th>
              {speed.map((at) => (
                <th scope="col" key={at} className="heat-speed">
                  {writing.text(at, 'engine-speed', { unit: false })}
                </th>
              ))}
              <th scope="col">tightest</th>
              <th scope="col">passed</th>
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
      <Sources rows={told} />
      <Untold rows={limits.filter(({ tightest }) => tightest === undefined)} />
    </>
  );
}

function StripRow({ row, speed }: { readonly row: LimitRow; readonly speed: readonly number[] }) {
  const writing = useWriting();
  const { title, kind, margin, over, required, requiredUncertainty, available, availableUncertainty, tightest } = row;
  return (
    <tr>
      <th scope="row">{title}</th>
      {speed.map((at, i) => {
        const heat = heatOf(over[i]);
        const needs = writing.text(required[i], kind, { u: twice(requiredUncertainty[i]) });
        const has = writing.text(available[i], kind, { u: twice(availableUncertainty[i]) });
        return (
          <td key={at} className={`heat-cell ${heat}`} title={`asked ${needs}, there ${has}`}>
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

/** The equation behind each limit, and what of it nobody stated. */
function Sources({ rows }: { readonly rows: readonly LimitRow[] }) {
  return (
    <details>
      <summary>Where each limit comes from</summary>
      <dl className="limit-sources">
        {rows.map(({ name, title, source, assumed, kept }) => (
          <div key={name}>
            <dt>{title}</dt>
            <dd>
              {source}.{assumed.length > 0 && ` Usual values, not stated: ${assumed.join(', ')}.`}
              {kept !== undefined && kept > 0 && ` ${Math.round(100 * kept)} % is held back already.`}
            </dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

function Untold({ rows }: { readonly rows: readonly LimitRow[] }) {
  if (rows.length === 0) return null;
  return (
    <section className="state waiting" aria-labelledby="untold">
      <h2 id="untold">Cannot be told: unknown is not safe</h2>
      <ul>
        {rows.map(({ name, title, why }) => (
          <li key={name}>
            <strong>{title}</strong>: {why ?? 'nothing is known of it'}
          </li>
        ))}
      </ul>
    </section>
  );
}
