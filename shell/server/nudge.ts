import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import { type Alignment, residualAt } from '../../day/channels/index.ts';
import type { EntryLogs } from '../../day/pulls/index.ts';
import type { NudgeView } from '../contract/index.ts';
import { plainNumber, plainSamples } from './encode/plain.ts';

interface Standing {
  readonly alignment: Alignment | undefined;
  /** What a person has put on top already [s]; part of the alignment's offset. */
  readonly nudge: number;
}

/** How the two logs agree when the engine log is moved by `by` [s] on top of what stands now. Refused for one log and for one clock. */
export function nudgePreview(
  { roller, engine }: EntryLogs,
  { alignment, nudge }: Standing,
  by: number,
): Outcome<NudgeView> {
  if (!roller || !engine || !alignment || alignment.by === 'same clock') {
    return refused({ kind: 'missing-log', message: 'missing log: two logs with a clock each are needed' });
  }
  const now = offsetNow(alignment);
  const around = residualAt(roller, engine, now);
  if (!around.ok) return around;
  const there = by === 0 ? around : residualAt(roller, engine, now + by);
  if (!there.ok) return there;
  const { offsets, correlation } = around.value.curve;
  return answered({
    offset: plainSamples(offsets.map((offset) => offset - now)),
    correlation: plainSamples(correlation),
    nudge,
    at: { offset: by, residual: plainNumber(there.value.residual), correlation: plainNumber(there.value.correlation) },
  });
}

/** Offset of the engine log's clock in the middle of the longest piece [s]: the rate is small, so it stands for the whole. */
function offsetNow({ pieces }: Alignment): number {
  const [longest] = [...pieces].sort((one, other) => other.to - other.from - (one.to - one.from));
  if (!longest) return 0;
  const middle = (longest.from + longest.to) / 2;
  return longest.offset + (Number.isFinite(middle) ? longest.rate * middle : 0);
}
