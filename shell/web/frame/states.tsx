import { type ReactNode, useEffect, useState } from 'react';
import type { FindingLine, RefusalRecord } from '../../contract/index.ts';
import type { Asked } from '../client/use-answer.ts';
import { groupedByKind, placesOf } from './finding-groups.ts';
import { counted, placeInWords } from './wording.ts';

interface WholeProps<Value> {
  readonly asked: Asked<Value>;
  readonly what: string;
  /** Heading of the page while the answer, which brings its own, is not there. */
  readonly title?: string;
  readonly children: (value: Value) => ReactNode;
}

/** Shows the answer once it is there; before that the waiting, or the refusal. */
export function Whole<Value>({ asked, what, title, children }: WholeProps<Value>) {
  const heading = title === undefined ? null : <h1>{title}</h1>;
  switch (asked.state) {
    case 'loading':
      return (
        <>
          {heading}
          <Loading what={what} cancel={asked.cancel} />
        </>
      );
    case 'refused':
      return (
        <>
          {heading}
          <Refused refusal={asked.refusal} again={asked.again} />
        </>
      );
    case 'here':
      return (
        <div className={asked.stale ? 'stale' : undefined} aria-busy={asked.stale}>
          {children(asked.value)}
        </div>
      );
  }
}

/** Quiet for a moment; after a second it says what it waits for and offers to stop. */
export function Loading({
  what,
  share,
  cancel,
}: {
  readonly what: string;
  readonly share?: number | undefined;
  readonly cancel?: (() => void) | undefined;
}) {
  const [long, setLong] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLong(true), 900);
    return () => clearTimeout(timer);
  }, []);
  return (
    <div className="state loading" role="status">
      <p>{what}…</p>
      {long && (
        <p className="state-line">
          <progress max={1} {...(share !== undefined && { value: share })} aria-label={what} />
          {share !== undefined && <span>{Math.round(100 * share)} %</span>}
          {cancel && (
            <button type="button" onClick={cancel}>
              Cancel
            </button>
          )}
        </p>
      )}
    </div>
  );
}

/** A question that cannot be answered: what, where, and which rule said so. */
export function Refused({
  refusal,
  again,
  title = 'No answer',
}: {
  readonly refusal: RefusalRecord;
  readonly again?: (() => void) | undefined;
  readonly title?: string;
}) {
  const where = placeInWords(refusal.place);
  // What a person ended is no fault.
  if (refusal.kind === 'cancelled') {
    return (
      <div className="state empty" role="status">
        <p className="state-title">Cancelled</p>
        <p>Ended by hand; nothing was lost.</p>
        {again && (
          <button type="button" onClick={again}>
            Ask again
          </button>
        )}
      </div>
    );
  }
  return (
    <div className="state refused" role="alert">
      <p className="state-title">{title}</p>
      <p className="state-message">{refusal.message}</p>
      {where !== '' && <p>Where: {where}</p>}
      {refusal.rule !== undefined && <p>Rule: {refusal.rule}</p>}
      {again && (
        <button type="button" onClick={again}>
          Ask again
        </button>
      )}
    </div>
  );
}

/** Nothing there yet, and what to do about it. */
export function Empty({ title, children }: { readonly title: string; readonly children?: ReactNode }) {
  return (
    <div className="state empty">
      <p className="state-title">{title}</p>
      {children}
    </div>
  );
}

const WEIGHT_SIGNS = { note: '·', doubt: '?', fault: '✕' } as const;

/** More notes than this are folded away: they must not bury a doubt. */
const MOST_NOTES = 3;

/** Findings, heaviest first: a sign, a word, the message, where. */
export function Findings({ findings, none }: { readonly findings: readonly FindingLine[]; readonly none?: string }) {
  if (findings.length === 0) return none === undefined ? null : <p className="quiet">{none}</p>;
  const of = (weight: FindingLine['weight']) => findings.filter((finding) => finding.weight === weight);
  const heavy = [...of('fault'), ...of('doubt')];
  const notes = of('note');
  if (notes.length <= MOST_NOTES) return <FindingList findings={[...heavy, ...notes]} />;
  return (
    <>
      {heavy.length > 0 ? <FindingList findings={heavy} /> : <p>Nothing speaks against it.</p>}
      <details>
        <summary>{notes.length} notes: good to know</summary>
        <FindingList findings={notes} />
      </details>
    </>
  );
}

function FindingList({ findings }: { readonly findings: readonly FindingLine[] }) {
  return (
    <ul className="findings">
      {groupedByKind(findings).map(({ first, others }, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: findings have no name of their own
        <li key={at} className={`finding ${first.weight}`}>
          <span className="finding-weight">
            <span aria-hidden="true">{WEIGHT_SIGNS[first.weight]} </span>
            {first.weight}
          </span>
          <div>
            <FindingText finding={first} />
            {others.length > 0 && (
              <details>
                <summary>
                  The same of {counted(others.length, 'other')}: {placesOf(others)}
                </summary>
                <ul>
                  {others.map((finding, other) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: findings have no name of their own
                    <li key={other}>
                      <FindingText finding={finding} />
                    </li>
                  ))}
                </ul>
              </details>
            )}
          </div>
        </li>
      ))}
    </ul>
  );
}

function FindingText({ finding: { message, place, rule } }: { readonly finding: FindingLine }) {
  return (
    <>
      {message}
      <small>{[placeInWords(place), rule].filter((part) => part !== undefined && part !== '').join(' · ')}</small>
    </>
  );
}

/** Says on every page of an invented day that it is one. */
export function InventedBanner({ invented }: { readonly invented: string | undefined }) {
  if (invented === undefined) return null;
  return (
    <p className="invented">
      <strong>Invented data.</strong> {invented}
    </p>
  );
}
