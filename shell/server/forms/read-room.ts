import { answered, type Outcome, parseQuantity, refused } from '../../../core/quantities/index.ts';
import { LIMIT_NAMES, type LimitName } from '../../../day/plans/index.ts';
import { limitTitle } from '../encode/limit-words.ts';

/** Which limit, and what share of it to keep in hand [1]. Without a limit all that are known. */
export interface RoomAsked {
  readonly name?: LimitName;
  readonly margin?: number;
}

/** Reads the name of a limit (`every`: all of them) and a share such as `3 %`. */
export function readRoom(limit: string | undefined, keep: string | undefined): Outcome<RoomAsked> {
  const asked = limit?.trim().toLowerCase() ?? 'every';
  const name = LIMIT_NAMES.find((one) => one === asked || limitTitle(one) === asked);
  if (name === undefined && asked !== 'every' && asked !== '')
    return refused({
      kind: 'unknown-limit',
      message: `unknown limit: "${limit}", expected every or one of ${LIMIT_NAMES.map(limitTitle).join(', ')}`,
      numbers: { value: limit ?? '' },
    });
  const named = name === undefined ? {} : { name };
  const kept = readKeep(keep);
  if (!kept.ok) return kept;
  return answered({ ...named, ...(kept.value !== undefined && { margin: kept.value }) });
}

/** Reads a share of a limit that is kept in hand, such as `3 %` [1]; undefined where none is written. */
export function readKeep(keep: string | undefined): Outcome<number | undefined> {
  if (keep === undefined || keep.trim() === '') return answered(undefined);
  const share = parseQuantity(keep, 'fraction');
  if (!share.ok) return refused({ ...share.refusal, message: `keep: ${share.refusal.message}` });
  const { value } = share.value;
  if (!(value >= 0 && value <= MOST_KEPT))
    return refused({
      kind: 'out of validity',
      message: `keep out of validity: ${keep}, valid 0 % – ${100 * MOST_KEPT} %`,
      numbers: { value, low: 0, high: MOST_KEPT },
    });
  return answered(value);
}

/** @source our default: more is another limit */
const MOST_KEPT = 0.5;
