import type { LimitName } from '../../../day/plans/index.ts';

/** What a limit is called in a sentence. */
export function limitTitle(name: LimitName): string {
  return name === 'piston speed' ? 'mean piston speed' : name;
}

/** Names of facts within a text, in words: `coil unknown: state sparkVoltage` → `coil unknown: state spark voltage`. */
export function inWords(text: string): string {
  return text.replaceAll(/[a-z]+(?:[A-Z][a-z]*)+/g, (name) =>
    name.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`),
  );
}

/** Facts that are themselves what a limit is held against. */
const BORDERS: ReadonlySet<string> = new Set([
  ...['peakPressureLimit', 'exhaustTemperatureLimit', 'pistonSpeedLimit', 'bearingLoadLimit', 'compressorTipLimit'],
  ...['largestCoilDuty', 'largestDuty', 'grip'],
]);

/** Is a limit held against a usual value of the trade that nobody stated. @param assumed what it rests on that nobody stated */
export function isUsual(assumed: readonly string[]): boolean {
  return assumed.some((name) => BORDERS.has(name));
}
