import type { DayStop } from '../../contract/index.ts';
import { hashOf, PLAIN_LOOK } from '../frame/address.ts';
import { StopPlate } from '../verdicts/stop-plate.tsx';

/** A hold or the end of the day that stands, with the pull that called for it, its reason and what lifts it. */
export function DayStopPlate({ day, stop }: { readonly day: string; readonly stop: DayStop }) {
  const { entry, title, because, next } = stop;
  return (
    <StopPlate stop={stop.stop}>
      <p>
        Since <a href={hashOf({ page: 'entry', day, entry, look: PLAIN_LOOK })}>{title}</a>
        {because !== '' && <>: {because}.</>}
      </p>
      {next !== undefined && <p>Next check: {next}</p>}
    </StopPlate>
  );
}
