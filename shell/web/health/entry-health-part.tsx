import { healthView } from '../../contract/index.ts';
import { paths } from '../client/paths.ts';
import { useAnswer } from '../client/use-answer.ts';
import { StopPlate } from '../verdicts/stop-plate.tsx';
import { FoundList } from './found-list.tsx';

/** What the health of the day says about one entry. Silent while there is no answer, and where it asks for nothing. */
export function EntryHealthPart({ day, entry }: { readonly day: string; readonly entry: string }) {
  const { asked, reload } = useAnswer(paths.health(day), healthView);
  if (asked.state !== 'here') return null;
  const findings = asked.value.findings.filter((one) => one.entry === entry && one.stop.class > 0);
  if (findings.length === 0) return null;
  return (
    <section aria-labelledby="entry-health">
      <h2 id="entry-health">Health, beside the rest of the day</h2>
      <FoundList {...{ day, findings, reload }} />
    </section>
  );
}

interface PlateProps {
  readonly day: string;
  readonly entry: string;
  /** Stop class that the page shows already. */
  readonly told: number;
}

/** A hold or an end that the health of the day asks for from this entry on, where its own verdict asks for less. */
export function EntryHealthPlate({ day, entry, told }: PlateProps) {
  const { asked } = useAnswer(paths.health(day), healthView);
  if (asked.state !== 'here') return null;
  const [worst] = asked.value.findings.filter((one) => one.entry === entry && one.overruled === undefined);
  if (!worst || worst.stop.class < 2 || worst.stop.class <= told) return null;
  return (
    <StopPlate stop={worst.stop}>
      <p>
        Because of its health: {worst.title}; {worst.why}. The numbers stand below.
      </p>
    </StopPlate>
  );
}
