import type { EntryView, OccurrenceView, VerdictView } from '../../contract/index.ts';
import type { EntryAddress } from '../frame/address.ts';
import { counted } from '../frame/wording.ts';
import { BlindPart } from './blind-part.tsx';
import { OccurrencePart } from './occurrence-part.tsx';
import { UnseenPart } from './unseen-part.tsx';

interface VerdictProps {
  readonly view: EntryView;
  readonly verdict: VerdictView;
  readonly address: EntryAddress;
  /** The stretch of the pull, s on the record's clock. */
  readonly stretch: { readonly from: number; readonly to: number };
  readonly changed: (view: EntryView) => void;
  readonly reload: () => void;
}

/** What spoiled a pull: what is believed, then what is not, what a person overruled, what could not be told. */
export function VerdictPart({ verdict, ...rest }: VerdictProps) {
  const { occurrences, untold, unseen } = verdict;
  const believed = occurrences.filter((one) => one.believed && one.overruled === undefined);
  const doubted = occurrences.filter((one) => !one.believed && one.overruled === undefined);
  const overruled = occurrences.filter((one) => one.overruled !== undefined);
  const part = (one: OccurrenceView, number: number) => (
    <OccurrencePart key={keyOf(one)} {...rest} occurrence={one} number={number} />
  );
  return (
    <section aria-labelledby="spoiled" className="verdicts">
      <h2 id="spoiled">What spoiled it</h2>
      {believed.length === 0 && (
        <p>
          Nothing that was looked for is more likely than not.
          {untold.length > 0 && ' What could not be told stands below.'}
        </p>
      )}
      {believed.map((one, at) => part(one, at + 1))}
      {doubted.length > 0 && (
        <details>
          <summary>Less likely than not ({doubted.length}): named, and nothing made void</summary>
          {doubted.map((one, at) => part(one, believed.length + at + 1))}
        </details>
      )}
      {overruled.length > 0 && (
        <details open>
          <summary>{counted(overruled.length, 'finding')} overruled by a person</summary>
          {overruled.map((one, at) => part(one, believed.length + doubted.length + at + 1))}
        </details>
      )}
      <BlindPart untold={untold} />
      <UnseenPart unseen={unseen} />
    </section>
  );
}

function keyOf({ hypotheses, windows, channel }: OccurrenceView): string {
  return `${hypotheses[0]?.fault} ${channel ?? ''} ${windows[0]?.from ?? ''}`;
}
