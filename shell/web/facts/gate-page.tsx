import { useState } from 'react';
import { type GateView, gateView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { DayStopPlate } from '../day/day-stop-plate.tsx';
import { hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { Findings, InventedBanner, Whole } from '../frame/states.tsx';
import { ReadinessPart } from '../health/readiness-part.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { gateSentence } from './gate.ts';

/** What to look at before a pull. Read before and after, never during. */
export function GatePage({ day }: { readonly day: string }) {
  const { asked } = useAnswer(paths.gate(day), gateView);
  return (
    <Whole asked={asked} what="Fetching the list" title="Before a pull">
      {(gate) => <GateHere gate={gate} />}
    </Whole>
  );
}

function GateHere({ gate }: { readonly gate: GateView }) {
  const [seen, setSeen] = useState<ReadonlySet<string>>(new Set());
  const toggle = (id: string) =>
    setSeen((former) =>
      former.has(id) ? new Set([...former].filter((other) => other !== id)) : new Set([...former, id]),
    );
  const sentence = gateSentence(gate, seen.size);
  const [first] = gate.items;
  const shared = gate.items.every(({ source }) => source === first?.source) ? first?.source : undefined;
  return (
    <>
      <InventedBanner invented={gate.invented} />
      <div className="title-line">
        <h1>Before a pull</h1>
        <button type="button" onClick={() => setSeen(new Set())} disabled={seen.size === 0}>
          Begin the list again
        </button>
      </div>
      {gate.stop ? (
        <DayStopPlate day={gate.day} stop={gate.stop} />
      ) : (
        <p className={`gate-state ${sentence.kind}`} role="status">
          {sentence.text}
        </p>
      )}
      {gate.open.map(({ entry, findings }) => (
        <section key={entry} className="state refused" aria-label={`Open from ${entry}`}>
          <p className="state-title">
            Answer this first: <a href={hashOf({ page: 'entry', day: gate.day, entry, look: PLAIN_LOOK })}>{entry}</a>
          </p>
          <Findings findings={findings} />
        </section>
      ))}
      <ul className="gate">
        {gate.items.map(({ id, text, why, source }) => (
          <li key={id}>
            <label className="check">
              <input type="checkbox" checked={seen.has(id)} onChange={() => toggle(id)} />
              <span>
                {text}
                <small>
                  {why} {shared === undefined && <em>{source}</em>}
                </small>
              </span>
            </label>
          </li>
        ))}
      </ul>
      {shared !== undefined && <p className="quiet">Source of every line: {shared}.</p>}
      <ReadinessPart day={gate.day} />
      <Reach gate={gate} />
      <h2>If something is wrong</h2>
      <ul className="abort">
        {gate.abort.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p className="disclaimer">{gate.disclaimer}</p>
      <ul className="quiet">
        {gate.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </>
  );
}

function Reach({ gate }: { readonly gate: GateView }) {
  const writing = useWriting();
  return (
    <section aria-labelledby="reach">
      <h2 id="reach">What a pull like those of today reaches</h2>
      <dl className="facts-line">
        {gate.reach.map(({ what, kind, value, limit, from, limitFrom, over }) => (
          <div key={what} className={over ? 'over' : undefined}>
            <dt>{what}</dt>
            <dd>{writing.text(value, kind)}</dd>
            <dd className="quiet">{from}</dd>
            <dd>
              {over
                ? `✕ over the limit of ${writing.text(limit, kind)}`
                : limit === undefined
                  ? 'limit not known'
                  : `limit ${writing.text(limit, kind)}`}
            </dd>
            <dd className="quiet">{limitFrom}</dd>
          </div>
        ))}
      </dl>
      <p>Compare the speed with the speed rating and the age on the tyre’s own wall.</p>
    </section>
  );
}
