import { memo } from 'react';
import type { LimitsView, RestsOn } from '../../contract/index.ts';
import { Sideways } from '../drawing/sideways.tsx';
import { hashOf } from '../frame/address.ts';
import { counted } from '../frame/wording.ts';
import { useWriting } from '../look/use-preferences.ts';
import { twice } from '../look/writing.ts';

const ORIGINS = ['prior', 'measured today', 'stated'] as const;
const ORIGIN_WORDS = {
  prior: 'usual value: nobody stated it',
  'measured today': 'measured today',
  stated: 'stated',
} as const;

type BasisProps = Pick<LimitsView, 'day' | 'values' | 'pulls' | 'unknown'>;

/** What every margin rests on: usual values first, because stating one narrows the answer. */
export const BasisPart = memo(({ day, values, pulls, unknown }: BasisProps) => {
  const priors = values.filter(({ origin }) => origin === 'prior').length;
  return (
    <section className="basis" aria-labelledby="basis">
      <h2 id="basis">What it rests on</h2>
      <p>
        {pulls === 0
          ? 'No pull went into this: stated parts and usual values of the trade, with their spreads.'
          : `Calibrated to ${counted(pulls, 'clean pull')} of the day.`}{' '}
        {priors > 0 && (
          <>
            {counted(priors, 'value')} nobody stated:{' '}
            <a href={hashOf({ page: 'facts', day })}>state them in the facts</a> and the spreads shrink.
          </>
        )}
      </p>
      {unknown.length > 0 && (
        <ul>
          {unknown.map((what) => (
            <li key={what}>{what}</li>
          ))}
        </ul>
      )}
      <details>
        <summary>{counted(values.length, 'value')}, each with its origin</summary>
        <Sideways name="Values that the margins rest on">
          <table className="wide">
            <thead>
              <tr>
                <th scope="col">Value</th>
                <th scope="col">is, ±2u</th>
                <th scope="col">origin</th>
                <th scope="col">source</th>
              </tr>
            </thead>
            <tbody>
              {ORIGINS.flatMap((origin) =>
                values
                  .filter((one) => one.origin === origin)
                  .map((one) => <ValueRow key={one.name} day={day} one={one} />),
              )}
            </tbody>
          </table>
        </Sideways>
      </details>
    </section>
  );
}, sameBasis);

/** The engine does not change while a step is turned: an answer that says the same is not drawn again. */
function sameBasis(one: BasisProps, other: BasisProps): boolean {
  return (
    one.day === other.day &&
    one.pulls === other.pulls &&
    one.values.length === other.values.length &&
    one.unknown.join() === other.unknown.join() &&
    one.values.every(
      ({ value, origin }, at) => value === other.values[at]?.value && origin === other.values[at]?.origin,
    )
  );
}

function ValueRow({ day, one }: { readonly day: string; readonly one: RestsOn }) {
  const writing = useWriting();
  const { title, value, standardUncertainty, kind, origin, source, fact } = one;
  return (
    <tr>
      <th scope="row">{title}</th>
      <td>{value === 0 ? writing.exact(value, kind) : writing.text(value, kind, { u: twice(standardUncertainty) })}</td>
      <td>{ORIGIN_WORDS[origin]}</td>
      <td className="words">
        {source}{' '}
        {origin !== 'stated' && fact !== undefined && (
          <a href={hashOf({ page: 'facts', day, field: fact })}>
            state it<span className="unseen">: {title}</span>
          </a>
        )}
      </td>
    </tr>
  );
}
