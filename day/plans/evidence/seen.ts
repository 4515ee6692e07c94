import { BELIEVED, type Fault, type FaultWindow } from '../../verdicts/index.ts';
import type { JudgedPull } from './moment.ts';

/** What a pull says of one fault. `silent`: nothing can be learnt of it from this pull. */
export type Said =
  | { readonly said: 'there'; readonly windows: readonly FaultWindow[] }
  | { readonly said: 'not there' }
  | { readonly said: 'silent' };

/**
 * Whether one of some faults was there.
 *
 * There: one of them leads an occurrence with more likely than not behind them together. Not there: its detector could look and saw nothing. Silent: the detector
 * could not look, something was seen that another cause may explain, or a person overruled it.
 */
export function saidOf({ verdict }: JudgedPull, faults: readonly Fault[]): Said {
  const about = verdict.occurrences.filter(({ hypotheses }) => hypotheses.some(({ fault }) => faults.includes(fault)));
  const leading = about.filter(({ hypotheses }) => {
    const [first] = hypotheses;
    const together = hypotheses.reduce((sum, one) => sum + (faults.includes(one.fault) ? one.probability : 0), 0);
    return first !== undefined && faults.includes(first.fault) && together >= BELIEVED;
  });
  if (leading.some(({ overruled }) => overruled !== undefined)) return { said: 'silent' };
  if (leading.length > 0) return { said: 'there', windows: leading.flatMap(({ windows }) => windows).sort(byTime) };
  const looked = verdict.detections.filter(({ fault }) => faults.includes(fault));
  const quiet = looked.some(({ answer }) => answer === 'not seen') && looked.every(({ answer }) => answer !== 'seen');
  return quiet ? { said: 'not there' } : { said: 'silent' };
}

function byTime(one: FaultWindow, other: FaultWindow): number {
  return one.from - other.from;
}
