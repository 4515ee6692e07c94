/** How near a limit is, by the chance that it is passed. */
export type Heat = 'free' | 'near' | 'doubt' | 'passed' | 'unknown';

/** @source our default: one and two standard deviations of a normal spread, and even odds */
const NEAR = 0.025;
const DOUBT = 0.16;
const PASSED = 0.5;

export function heatOf(over: number | null | undefined): Heat {
  if (over === null || over === undefined) return 'unknown';
  if (over >= PASSED) return 'passed';
  if (over >= DOUBT) return 'doubt';
  return over >= NEAR ? 'near' : 'free';
}

/** Each with a sign and a word of its own: colour only adds. */
export const HEATS: readonly { readonly heat: Heat; readonly sign: string; readonly meaning: string }[] = [
  { heat: 'free', sign: '', meaning: 'passed in under 2.5 % of cases' },
  { heat: 'near', sign: '·', meaning: '2.5 to 16 %' },
  { heat: 'doubt', sign: '!', meaning: '16 to 50 %' },
  { heat: 'passed', sign: '✕', meaning: 'more likely passed than not' },
  { heat: 'unknown', sign: '?', meaning: 'cannot be told' },
];

export function signOf(heat: Heat): string {
  return HEATS.find((one) => one.heat === heat)?.sign ?? '';
}

/** Margin in whole percent with its sign: `+12`, `−3`; far margins are said as such. */
export function marginText(margin: number | null | undefined): string {
  if (margin === null || margin === undefined) return '–';
  const percent = Math.round(100 * margin);
  if (percent > 99) return '>99';
  return percent < 0 ? `−${-percent}` : `+${percent}`;
}

/** Chance in words of people; never nought, never certain. */
export function chanceText(over: number): string {
  if (over < 0.005) return '<1 %';
  return over > 0.995 ? '>99 %' : `${Math.round(100 * over)} %`;
}
