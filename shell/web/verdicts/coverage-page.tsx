import { type CoverageRowView, type CoverageView, coverageView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Sideways } from '../drawing/sideways.tsx';
import type { Address } from '../frame/address.ts';
import { InventedBanner, Whole } from '../frame/states.tsx';
import { turn } from '../frame/use-address.ts';
import { counted } from '../frame/wording.ts';
import { bestAdditions, confusions, REACH_SIGNS, REACH_WORDS, reaches, turned } from './coverage.ts';

type CoverageAddress = Extract<Address, { page: 'coverage' }>;

/** Before the day: what could be told with these channels, and what one more would open. */
export function CoveragePage({ address }: { readonly address: CoverageAddress }) {
  const { asked } = useAnswer(paths.coverage(address.day, address.channels), coverageView);
  return (
    <Whole asked={asked} what="Asking every detector" title="What would show">
      {(view) => (
        <>
          <InventedBanner invented={view.invented} />
          <h1>What would show: {view.dayTitle}</h1>
          <Summary rows={view.rows} />
          <Channels view={view} address={address} />
          <Matrix rows={view.rows} />
        </>
      )}
    </Whole>
  );
}

const MOST_ADDITIONS = 4;
const MOST_CONFUSIONS = 6;

function Summary({ rows }: { readonly rows: readonly CoverageRowView[] }) {
  const { full, weak, blind } = reaches(rows);
  const additions = bestAdditions(rows).slice(0, MOST_ADDITIONS);
  const confused = confusions(rows);
  return (
    <div role="status">
      <p className="coverage-sum">
        Of {counted(rows.length, 'fault')} with these channels: {full} would show, {weak} weakly, {blind} not at all.
      </p>
      {confused.length > 0 && (
        <div className="coverage-confused">
          <p>With these channels you cannot tell these apart:</p>
          <ul>
            {confused.slice(0, MOST_CONFUSIONS).map((pair) => (
              <li key={pair}>{pair}</li>
            ))}
          </ul>
          {confused.length > MOST_CONFUSIONS && (
            <p>and {confused.length - MOST_CONFUSIONS} pairs more: see the table.</p>
          )}
        </div>
      )}
      {additions.length > 0 && (
        <p>
          One channel more, by itself:{' '}
          {additions.map(({ channel, opens }) => `${channel} opens ${counted(opens.length, 'fault')}`).join('; ')}.
        </p>
      )}
    </div>
  );
}

interface ChannelsProps {
  readonly view: CoverageView;
  readonly address: CoverageAddress;
}

function Channels({ view: { channels }, address }: ChannelsProps) {
  const subjects = [...new Set(channels.map(({ subject }) => subject))];
  const change = (meaning: string) => turn({ ...address, channels: turned(channels, meaning) });
  const ticked = channels.filter((channel) => channel.ticked).length;
  return (
    <details className="coverage-channels" open={ticked === 0}>
      <summary>
        Channels that will be logged: {ticked} of {channels.length}
      </summary>
      <p className="button-line">
        <button type="button" onClick={() => turn({ page: 'coverage', day: address.day })}>
          As in the newest log
        </button>
        <button type="button" onClick={() => turn({ ...address, channels: '' })}>
          None
        </button>
      </p>
      {subjects.map((subject) => (
        <fieldset key={subject} className="coverage-subject">
          <legend>{subject}</legend>
          <div className="channel-list">
            {channels
              .filter((channel) => channel.subject === subject)
              .map(({ meaning, title, logged, ticked: on }) => (
                <label className="check" key={meaning}>
                  <input type="checkbox" checked={on} onChange={() => change(meaning)} />
                  <span>
                    {title}
                    {logged && <small>in the newest log</small>}
                  </span>
                </label>
              ))}
          </div>
        </fieldset>
      ))}
    </details>
  );
}

function Matrix({ rows }: { readonly rows: readonly CoverageRowView[] }) {
  const subjects = [...new Set(rows.map(({ subject }) => subject))];
  return (
    <Sideways name="Faults and whether they would show">
      <table className="wide coverage">
        <thead>
          <tr>
            <th scope="col">Fault</th>
            <th scope="col">with these channels</th>
            <th scope="col">what it lacks</th>
            <th scope="col">cannot be told from</th>
          </tr>
        </thead>
        {subjects.map((subject) => (
          <tbody key={subject}>
            <tr>
              <th scope="rowgroup" colSpan={4} className="coverage-group">
                {subject}
              </th>
            </tr>
            {rows
              .filter((row) => row.subject === subject)
              .map((row) => (
                <CoverageLine key={row.fault} row={row} />
              ))}
          </tbody>
        ))}
      </table>
    </Sideways>
  );
}

function CoverageLine({ row: { title, reach, why, lacking, unparted } }: { readonly row: CoverageRowView }) {
  return (
    <tr>
      <th scope="row">{title}</th>
      <td className={`reach ${reach}`}>
        <span aria-hidden="true">{REACH_SIGNS[reach]} </span>
        {REACH_WORDS[reach]}
      </td>
      <td className="words">{lackingText(reach, lacking) || why || '–'}</td>
      <td className="words">
        {unparted
          .map((other) => `${other.title}${other.add.length > 0 ? ` (without ${other.add.join(' or ')})` : ''}`)
          .join('; ') || '–'}
      </td>
    </tr>
  );
}

/** Any one of these gives an answer; all of those together do; these would make it surer. */
function lackingText(reach: CoverageRowView['reach'], lacking: CoverageRowView['lacking']): string {
  const named = (adds: string) => lacking.filter((one) => one.adds === adds).map(({ channel }) => channel);
  const [alone, parts, surer] = [named('an answer'), named('part of an answer'), named('certainty')];
  return [
    alone.length > 0 ? alone.join(' or ') : '',
    alone.length === 0 && parts.length > 0 ? parts.join(' and ') : '',
    reach === 'weak' && surer.length > 0 ? `surer with ${surer.join(', ')}` : '',
  ]
    .filter((part) => part !== '')
    .join('; ');
}
