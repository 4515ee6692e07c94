import { useMemo } from 'react';
import { type OccurrenceView, tracesView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { type CursorLink, Plot } from '../drawing/plot.tsx';
import type { EntryAddress } from '../frame/address.ts';
import { Whole } from '../frame/states.tsx';
import { useWriting } from '../look/use-preferences.ts';
import { cursorOf } from '../pulls/cursor-of.ts';
import { evidenceRows, shortLabel, shownAround } from './evidence-figure.ts';

const POINTS = 900;

interface EvidenceProps {
  readonly address: EntryAddress;
  readonly occurrence: OccurrenceView;
  readonly stretch: { readonly from: number; readonly to: number };
}

/** The channels that speak about one occurrence, on one axis of time, its windows shaded. */
export function EvidencePart({ address, occurrence, stretch }: EvidenceProps) {
  const { from, to } = shownAround(occurrence, stretch);
  const query = new URLSearchParams({
    ...{ points: String(POINTS), from: from.toFixed(3), to: to.toFixed(3) },
    meanings: occurrence.channels.join(','),
    ...(occurrence.channel !== undefined && { name: occurrence.channel }),
  });
  const { asked } = useAnswer(paths.traces(address, query.toString()), tracesView);
  const writing = useWriting();
  const cursor = cursorOf(address.day, address.entry);
  const link = useMemo<CursorLink>(() => ({ x: cursor.time, move: cursor.move, listen: cursor.listen }), [cursor]);
  const rows = useMemo(
    () => (asked.state === 'here' ? evidenceRows(asked.value, occurrence, writing) : []),
    [asked, occurrence, writing],
  );
  return (
    <Whole asked={asked} what="Fetching what speaks">
      {() =>
        rows.length === 0 ? (
          <p className="quiet">None of the channels in which it shows is in this log.</p>
        ) : (
          <figure className="evidence">
            {rows.map(({ row, spec, guides }) => (
              <div className="evidence-row" key={row.traces[0]?.id}>
                <div className="trace-values">
                  <strong>{row.title}</strong>
                  {row.traces.map((trace, at) => (
                    <p key={trace.id}>
                      <svg className={`swatch look-${(at % 6) + 1}`} viewBox="0 0 40 10" aria-hidden="true">
                        <path d="M0 5H40" />
                      </svg>
                      <small>{shortLabel(trace)}</small>
                    </p>
                  ))}
                  {guides.map(({ title, threshold, add }) => (
                    <p key={`${threshold} ${add}`}>
                      <svg className="swatch guide" viewBox="0 0 40 10" aria-hidden="true">
                        <path d="M0 5H40" />
                      </svg>
                      <small>limit: {title}</small>
                    </p>
                  ))}
                </div>
                <Plot spec={spec} link={link} empty="No value around this window." />
              </div>
            ))}
            <figcaption className="quiet">Shaded and hatched: where it was seen.</figcaption>
          </figure>
        )
      }
    </Whole>
  );
}
