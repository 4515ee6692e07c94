import { useState } from 'react';
import type { EntryView, OccurrenceView } from '../../contract/index.ts';
import type { EntryAddress } from '../frame/address.ts';
import { counted } from '../frame/wording.ts';
import { useWriting } from '../look/use-preferences.ts';
import { Causes } from './causes.tsx';
import { EvidencePart } from './evidence-part.tsx';
import { FeaturesPart } from './features-part.tsx';
import { OverruleForm } from './overrule-form.tsx';
import { Reasons } from './reasons.tsx';
import { SeparationPart } from './separation-part.tsx';
import { StopTag } from './stop-plate.tsx';
import { windowInWords } from './words.ts';

interface OccurrenceProps {
  readonly view: EntryView;
  readonly address: EntryAddress;
  readonly occurrence: OccurrenceView;
  readonly number: number;
  readonly stretch: { readonly from: number; readonly to: number };
  readonly changed: (view: EntryView) => void;
  readonly reload: () => void;
}

/** One thing that went wrong: its causes weighed, the next check, what it was seen by, and whether a person accepts it. */
export function OccurrencePart(props: OccurrenceProps) {
  const { occurrence, number, view, address, stretch, changed, reload } = props;
  const { hypotheses, inseparable, next, stop, overruled, believed, channel } = occurrence;
  const [lead] = hypotheses;
  // The reasons of a single cause fit beside its check; those of several want the whole width.
  const alone = hypotheses.length === 1;
  const id = `occurrence-${number}`;
  const kind = overruled !== undefined ? 'overruled' : believed ? 'believed' : 'doubted';
  return (
    <section className={`occurrence ${kind}`} aria-labelledby={id}>
      <h3 id={id}>
        {lead?.title ?? 'Something that no known fault explains'}
        {channel !== undefined && <span className="occurrence-channel"> ({channel})</span>}
        {overruled === undefined && <StopTag stop={stop} />}
      </h3>
      <Where occurrence={occurrence} />
      {overruled !== undefined && <p className="overruled-why">Overruled, because: {overruled}</p>}
      <div className="occurrence-head">
        <div>
          <Causes hypotheses={hypotheses} />
          {alone && <Reasons hypotheses={hypotheses} />}
        </div>
        <div>
          {next && (
            <div className="next-check">
              <p className="next-title">Next check</p>
              <p>{next.text}</p>
              {next.needs.length > 0 && <p>It needs {next.needs.join(', ')}.</p>}
              <p className="quiet">
                {[
                  next.parts.length > 1 ? `It tells ${next.parts.join(' from ')}.` : '',
                  next.minutes === undefined
                    ? ''
                    : `About ${next.minutes} min, ${next.pulls === 0 ? 'no pull' : counted(next.pulls ?? 0, 'pull')}.`,
                ]
                  .filter((part) => part !== '')
                  .join(' ')}
              </p>
            </div>
          )}
          {inseparable.map(({ one, other, without }) => (
            <p className="missing" key={`${one} ${other}`}>
              This log cannot tell {one} from {other}
              {without.length > 0 && `: it lacks ${without.join(', ')}`}.
            </p>
          ))}
        </div>
      </div>
      {!alone && <Reasons hypotheses={hypotheses} />}
      <Unfolded open={kind === 'believed'}>
        <EvidencePart {...{ address, occurrence, stretch }} />
      </Unfolded>
      <FeaturesPart
        of={`${number} ${lead?.title ?? ''}`}
        day={view.day}
        entry={view.id}
        features={lead?.features ?? []}
        reload={reload}
      />
      <SeparationPart separation={occurrence.separation} />
      {lead && <OverruleForm {...{ view, changed, reload, overruled, stop }} fault={lead.fault} title={lead.title} />}
    </section>
  );
}

function Where({ occurrence: { windows, voids, channel } }: { readonly occurrence: OccurrenceView }) {
  const writing = useWriting();
  const places = windows.map((window) => windowInWords(window, writing));
  const effect = {
    power: 'Power is void there.',
    channel: `${channel ?? 'The channel'} cannot be used there.`,
    nothing: 'It makes nothing void.',
  }[voids];
  const shown = places.slice(0, MOST_PLACES).join(' · ');
  const rest = places.length - MOST_PLACES;
  return (
    <p className="where">
      {shown}
      {rest > 0 && ` · and ${rest} more`}
      {shown !== '' && '. '}
      {effect}
    </p>
  );
}

const MOST_PLACES = 4;

/** What costs a question to the server is asked only once it is wanted. */
function Unfolded({ open, children }: { readonly open: boolean; readonly children: React.ReactNode }) {
  const [wanted, setWanted] = useState(open);
  if (open) return children;
  return (
    <details onToggle={(event) => event.currentTarget.open && setWanted(true)}>
      <summary>Traces</summary>
      {wanted && children}
    </details>
  );
}
