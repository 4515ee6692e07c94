import type { VerdictView } from '../../contract/index.ts';
import { StopPlate } from './stop-plate.tsx';

/** The stop class of a pull with the cause that asks for it and the check that lifts it. */
export function VerdictPlate({ verdict: { stop, occurrences } }: { readonly verdict: VerdictView }) {
  const cause = occurrences.find((one) => one.believed && one.overruled === undefined && one.stop.class === stop.class);
  const [lead] = cause?.hypotheses ?? [];
  return (
    <StopPlate stop={stop}>
      {stop.class >= 2 && lead && (
        <p>
          Because of: {lead.title}, {lead.chance}.{cause?.next && <> Next check: {cause.next.text}</>}
        </p>
      )}
    </StopPlate>
  );
}
