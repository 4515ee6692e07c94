import { answered, type Outcome, parseQuantity, refused } from '../../../core/quantities/index.ts';
import type { SeriesQuestion } from '../../../day/plans/index.ts';

/** Pause between pulls when nobody says so [s], and how many pulls at most. @source common practice, no source: 5 … 15 min; our default */
const USUAL_PAUSE = 480;
const MOST = 50;
const LONGEST = 86_400;

/** Reads how many pulls and the pause between them, such as `6` and `8 min`. */
export function readSeries(pulls: string, pause: string | undefined): Outcome<SeriesQuestion> {
  const count = Number(pulls.trim());
  if (!Number.isInteger(count) || count < 1 || count > MOST)
    return refused({
      kind: 'out of validity',
      message: `invalid pulls: "${pulls}", expected a whole number from 1 to ${MOST}`,
      numbers: { value: pulls, low: 1, high: MOST },
    });
  if (pause === undefined || pause.trim() === '') return answered({ pulls: count, pause: USUAL_PAUSE });
  const read = parseQuantity(pause, 'time');
  if (!read.ok) return refused({ ...read.refusal, message: `pause: ${read.refusal.message}` });
  const { value } = read.value;
  if (!(value >= 0 && value <= LONGEST))
    return refused({
      kind: 'out of validity',
      message: `pause out of validity: ${pause}, valid 0 s – 24 h`,
      numbers: { value, low: 0, high: LONGEST },
    });
  return answered({ pulls: count, pause: value });
}
