import type { WindowView } from '../../contract/index.ts';
import type { Writing } from '../look/writing.ts';

/** How much a piece of evidence says, from its weight, the natural logarithm of a likelihood ratio; `open` for what is not known. @source words for a weight: our default */
export function weightInWords(weight: number): string {
  if (weight === 0) return 'open';
  const size = Math.abs(weight);
  const how = size >= 3 ? 'strongly' : size >= 1 ? 'clearly' : 'slightly';
  return `${how} ${weight >= 0 ? 'for' : 'against'}`;
}

/** `8.4–9.6 s`, each window with its engine speeds where they are known. */
export function windowInWords({ from, to, lowSpeed, highSpeed }: WindowView, writing: Writing): string {
  const seconds = `${from.toFixed(1)}–${to.toFixed(1)} s`;
  if (lowSpeed === null || highSpeed === null) return seconds;
  const [low, high] = [lowSpeed, highSpeed].map((speed) => tens(writing.plain(speed, 'engine-speed')));
  const speeds = low === high ? low : `${low}–${high}`;
  return `${speeds} ${writing.symbol('engine-speed')} (${seconds})`;
}

/** Borders of a window are told to the nearest ten: what was seen is no sharper. */
function tens(shown: number | null): string {
  return shown === null ? '–' : (10 * Math.round(shown / 10)).toFixed(0);
}
