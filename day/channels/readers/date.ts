import { clockSeconds } from './clock.ts';

/**
 * A date with or without time of day, in s since 1970-01-01 UTC. Without a zone it is taken as UTC.
 * order: what the writing proves about `a/b/yyyy`; `open` when both would be dates (then seconds are month first).
 */
export interface DateRead {
  readonly seconds: number;
  readonly order: 'certain' | 'month-first' | 'day-first' | 'open';
}

/**
 * Date-time in one of: `yyyy-mm-dd`, `yyyy/mm/dd`, `dd.mm.yyyy`, `a/b/yyyy`, `dd-mm-yyyy`, each with an optional time after a
 * space or `T` and an optional zone `Z`, `±hh:mm`. Undefined for everything else, days that do not exist included.
 *
 * @source ISO 8601-1:2019, 5.2–5.4; day first with dots: common practice, no source
 */
export function dateSeconds(text: string): DateRead | undefined {
  const match = DATE.exec(text);
  if (!match) return undefined;
  const time = match[4] === undefined ? 0 : timeOfDay(match[4]);
  if (time === undefined) return undefined;
  const day = dayAndOrder(match[1], match[2], match[3]);
  if (!day) return undefined;
  return { seconds: day.days * 86400 + time - zoneSeconds(match[5]), order: day.order };
}

/** The same written date with month and day exchanged [s since 1970-01-01 UTC]. */
export function dayAndMonthExchanged(seconds: number): number {
  const days = Math.floor(seconds / 86400);
  const date = civil(days);
  const exchanged = dayNumber(date.year, date.day, date.month);
  return exchanged === undefined ? Number.NaN : (exchanged - days) * 86400 + seconds;
}

function dayAndOrder(a: string, b: string, c: string): { days: number; order: DateRead['order'] } | undefined {
  const separator = a.slice(-1);
  const [first, second, third] = [Number(a.slice(0, -1)), Number(b.slice(0, -1)), Number(c)];
  if (b.slice(-1) !== separator) return undefined;
  if (a.length === 5) return dated(dayNumber(first, second, third), 'certain');
  if (c.length !== 4) return undefined;
  if (separator !== '/') return dated(dayNumber(third, second, first), 'certain');
  if (first > 12) return dated(dayNumber(third, second, first), 'day-first');
  return dated(dayNumber(third, first, second), second > 12 ? 'month-first' : 'open');
}

function dated(
  days: number | undefined,
  order: DateRead['order'],
): { days: number; order: DateRead['order'] } | undefined {
  return days === undefined ? undefined : { days, order };
}

/** A time of day has its hours; `12:34` after a date is hours and minutes. */
function timeOfDay(text: string): number | undefined {
  const parts = text.split(':').length;
  const clock = clockSeconds(parts === 2 ? text.replace(/(:\d{1,2})/, '$1:00') : text);
  return clock && clock.seconds >= 0 && clock.seconds <= 86400 ? clock.seconds : undefined;
}

function zoneSeconds(zone: string | undefined): number {
  const match = zone === undefined ? undefined : /^([+-])(\d{2}):?(\d{2})?$/.exec(zone);
  if (!match) return 0;
  const seconds = Number(match[2]) * 3600 + Number(match[3] ?? 0) * 60;
  return match[1] === '-' ? -seconds : seconds;
}

/** Days since 1970-01-01 in the Gregorian calendar, or undefined when there is no such day. Years begin in March here. */
function dayNumber(year: number, month: number, day: number): number | undefined {
  if (month < 1 || month > 12 || day < 1 || day > 31) return undefined;
  const y = month > 2 ? year : year - 1;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  const days = era * 146097 + dayOfEra - 719468;
  return civil(days).day === day ? days : undefined;
}

function civil(days: number): { year: number; month: number; day: number } {
  const shifted = days + 719468;
  const era = Math.floor(shifted / 146097);
  const dayOfEra = shifted - era * 146097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  const day = dayOfYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1;
  return { year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, day };
}

const DATE =
  /^(\d{4}[-/.]|\d{1,2}[-/.])(\d{1,2}[-/.])(\d{4}|\d{1,2})(?:[T ]\s*(\d{1,2}:\d{2}(?::\d{2})?(?:[.,]\d{1,12})?(?:\s?[aApP]\.?[mM]\.?)?)\s?(Z|[+-]\d{2}:?\d{0,2})?)?$/;
