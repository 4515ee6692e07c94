import { useMemo, useState } from 'react';
import { ambientRule, type DayView, dayView, type OverlayView, overlayView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { Legend } from '../drawing/legend.tsx';
import { Plot } from '../drawing/plot.tsx';
import { NumbersOf } from '../drawing/table.tsx';
import { type Address, hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { Empty, InventedBanner, Whole } from '../frame/states.tsx';
import { turn } from '../frame/use-address.ts';
import { counted, STANDING_WORDS } from '../frame/wording.ts';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';
import { firstFront, overlayFigure } from './overlay-figure.ts';

type OverlayAddress = Extract<Address, { page: 'overlay' }>;

/** Several pulls over each other under one ambient rule. */
export function OverlayPage({ address }: { readonly address: OverlayAddress }) {
  const { day, entries, rule, of } = address;
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries({ entries, rule, of })) if (value !== undefined) query.set(name, value);
  const days = useAnswer(paths.day(day), dayView);
  const overlay = useAnswer(paths.overlay(day, query.toString()), overlayView);
  return (
    <>
      <InventedBanner invented={days.asked.state === 'here' ? days.asked.value.invented : undefined} />
      <h1>Pulls side by side</h1>
      {days.asked.state === 'here' && <Choice address={address} view={days.asked.value} />}
      <Whole asked={overlay.asked} what="Laying the pulls over each other">
        {(view) => <OverlayHere view={view} />}
      </Whole>
    </>
  );
}

function Choice({ address, view }: { readonly address: OverlayAddress; readonly view: DayView }) {
  const pulls = view.entries.filter(({ kind }) => kind === 'pull');
  const chosen = new Set(address.entries?.split(',').map(decodeURIComponent) ?? pulls.map(({ id }) => id));
  const toggle = (id: string) => {
    const next = pulls.map((pull) => pull.id).filter((other) => (other === id ? !chosen.has(id) : chosen.has(other)));
    turn({ ...address, entries: next.map(encodeURIComponent).join(',') });
  };
  const { rule: _former, ...without } = address;
  return (
    <div className="tools">
      <label className="field in-line">
        One ambient rule for all
        <select
          value={address.rule ?? ''}
          onChange={({ currentTarget: { value } }) => turn(value === '' ? without : { ...address, rule: value })}
        >
          <option value="">the rule of the pulls, if it is one</option>
          {ambientRule.options.map((rule) => (
            <option key={rule}>{rule}</option>
          ))}
        </select>
      </label>
      <details className="channels">
        <summary>
          Pulls ({pulls.filter(({ id }) => chosen.has(id)).length} of {pulls.length})
        </summary>
        <div className="channel-list">
          {pulls.map(({ id, clock, title, standing }) => (
            <label className="check" key={id}>
              <input type="checkbox" checked={chosen.has(id)} onChange={() => toggle(id)} />
              <span>
                {clock} {title ?? id} <small>{STANDING_WORDS[standing]}</small>
              </span>
            </label>
          ))}
        </div>
      </details>
    </div>
  );
}

function OverlayHere({ view }: { readonly view: OverlayView }) {
  const writing = useWriting();
  const [chosen, setChosen] = useState<number | 'alike'>();
  const front = chosen === 'alike' ? undefined : (chosen ?? firstFront(view));
  const power = useMemo(() => overlayFigure(view, { what: 'power', front }, writing), [view, front, writing]);
  const torque = useMemo(() => overlayFigure(view, { what: 'torque', front }, writing), [view, front, writing]);
  if (view.curves.length === 0) return <Empty title="No curve to show">{left(view)}</Empty>;
  const invalid = view.curves.filter(({ ruleValid }) => !ruleValid);
  return (
    <>
      {invalid.length > 0 && (
        <p className="state waiting">
          {view.rule} does not allow itself to be used here for {invalid.map(({ entry }) => entry).join(', ')}:{' '}
          {invalid[0]?.ruleWhy}. The level of these curves cannot be trusted.
        </p>
      )}
      <div className="overlay">
        <figure>
          <Plot spec={power} />
          <Legend lines={power.lines.filter(({ faint }) => faint !== true)} />
          {front !== undefined && view.curves.length > 1 && (
            <p className="quiet">Thin: the {counted(view.curves.length - 1, 'other pull')}.</p>
          )}
          <Plot spec={torque} />
          <NumbersOf spec={power} />
        </figure>
        <HighestTable view={view} front={front} choose={setChosen} />
      </div>
      {left(view)}
    </>
  );
}

interface TableProps {
  readonly view: OverlayView;
  readonly front: number | undefined;
  readonly choose: (front: number | 'alike') => void;
}

/** Every pull with its highest power; the chosen one stands in front. Arrow keys run through the pulls. */
function HighestTable({ view, front, choose }: TableProps) {
  const writing = useWriting();
  return (
    <table className="overlay-table">
      <caption>
        Highest usable {view.of} power ±2u, rule: {view.rule}
      </caption>
      <thead>
        <tr>
          <th scope="col">in front</th>
          <th scope="col">pull</th>
          <th scope="col">power</th>
          <th scope="col">at</th>
          <th scope="col">stands</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <td>
            <FrontChoice name="all alike" checked={front === undefined} choose={() => choose('alike')} />
          </td>
          <td colSpan={4}>all alike</td>
        </tr>
        {view.curves.map((curve, at) => {
          const { highest } = curve;
          const look = { ...PLAIN_LOOK, pull: curve.pull };
          return (
            <tr key={`${curve.entry} ${curve.pull}`} className={front === at ? 'used' : undefined}>
              <td>
                <FrontChoice name={curve.title} checked={front === at} choose={() => choose(at)} />
              </td>
              <th scope="row">
                <a href={hashOf({ page: 'entry', day: view.day, entry: curve.entry, look })}>{curve.title}</a>
                {view.rule !== 'none' && <small> × {writing.text(curve.factor, 'ratio')}</small>}
              </th>
              <td>{writing.text(highest?.power, 'power', { u: twice(highest?.uncertainty) })}</td>
              <td>{writing.text(highest?.engineSpeed, 'engine-speed')}</td>
              <td>{STANDING_WORDS[curve.standing]}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

interface FrontProps {
  readonly name: string;
  readonly checked: boolean;
  readonly choose: () => void;
}

function FrontChoice({ name, checked, choose }: FrontProps) {
  return <input type="radio" name="front" checked={checked} onChange={choose} aria-label={`${name} in front`} />;
}

function left({ left: entries }: OverlayView) {
  if (entries.length === 0) return null;
  return <p className="quiet">Not shown: {entries.map(({ entry, why }) => `${entry} (${why})`).join('; ')}</p>;
}
