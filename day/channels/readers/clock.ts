/** A time of day or a running time: `mm:ss.s`, `hh:mm:ss.sss`, with `AM`/`PM` or without. */
export interface ClockRead {
  /** s */
  readonly seconds: number;
  /** Written with two parts and no fraction: minutes and seconds, or hours and minutes; nothing in the cell decides. */
  readonly twoParts: boolean;
}

/**
 * Time written with colons [s], or undefined. Two parts are minutes and seconds, three are hours, minutes and seconds.
 * The first part may exceed 59 (a running time); the others not.
 *
 * @source ISO 8601-1:2019, 5.3 for hh:mm:ss; two parts as mm:ss is our default
 */
export function clockSeconds(text: string): ClockRead | undefined {
  const match = CLOCK.exec(text);
  if (!match) return undefined;
  const [, sign, first, second, third, fraction = '', half] = match;
  if (Number(second) > 59 || (third !== undefined && Number(third) > 59)) return undefined;
  const hour = half === undefined ? Number(first) : halfDayHour(Number(first), half);
  if (hour === undefined) return undefined;
  const hasHours = third !== undefined || half !== undefined;
  const whole = hasHours ? hour * 3600 + Number(second) * 60 + Number(third ?? 0) : hour * 60 + Number(second);
  // One conversion of the whole decimal keeps the fraction correctly rounded.
  const seconds = fraction === '' ? whole : Number(`${whole}.${fraction.slice(1)}`);
  return { seconds: sign === '-' ? -seconds : seconds, twoParts: !hasHours && fraction === '' };
}

function halfDayHour(hour: number, half: string): number | undefined {
  if (hour < 1 || hour > 12) return undefined;
  return (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
}

const CLOCK = /^([+-]?)(\d{1,6}):(\d{1,2})(?::(\d{1,2}))?([.,]\d{0,12})?(?:\s?([aApP])\.?[mM]\.?)?$/;
