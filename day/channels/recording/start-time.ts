import type { Started } from '../channel.ts';
import type { Column, Table } from '../table.ts';

/** hours:minutes:seconds, perhaps a fraction and AM or PM; not part of a longer number. */
const STAMP = /(?<![\d:.])(\d{1,2}):([0-5]\d):([0-5]\d)(?:[.,](\d{1,6}))?\s*([AaPp][Mm])?(?![\d:])/g;

/**
 * When the writer's own clock says that a recording began, as time of day. From the time column when it is written as a clock or a
 * date, or counts from far away; else from the lines before the header when exactly one time of day with seconds stands there; else what the
 * column counts from, which tells nothing alone and, where it counts on through the day, how its records lie to one another.
 *
 * @param first the recording's first time [s]; origin: what was taken off the clock as written [s]
 */
export function startTime(
  { preamble }: Pick<Table, 'preamble'>,
  column: Column | undefined,
  { first, origin }: { readonly first: number; readonly origin: number },
): Started | undefined {
  const counted = { value: origin, resolution: 0 };
  if (column?.writing === 'clock' || column?.writing === 'date' || origin !== 0) return counted;
  const stamps = preamble.flatMap((line) => [...line.matchAll(STAMP)]);
  const [stamp] = stamps;
  if (!stamp || stamps.length !== 1) return column && counted;
  const [, hours, minutes, seconds, fraction = '', half] = stamp;
  const hour = half === undefined ? Number(hours) : (Number(hours) % 12) + (/p/i.test(half) ? 12 : 0);
  if (hour > 23) return column && counted;
  const value = hour * 3600 + Number(minutes) * 60 + Number(seconds) + Number(`0.${fraction === '' ? '0' : fraction}`);
  const resolution = 10 ** -fraction.length;
  // Clocks are written cut off, not rounded: the middle of the step is the best guess.
  return { value: value + resolution / 2 - first, resolution };
}
