import { formatQuantity, type UnitSystem } from '../../core/quantities/index.ts';
import { type FaultWindow, type Hypothesis, isBelieved, type Occurrence, type PullVerdict } from '../verdicts/index.ts';
import { FAULT_TITLES, STOP_WORDS } from './fault-titles.ts';

/** Occurrences named in the one sentence; the rest is counted. @source our default */
const NAMED = 2;

/**
 * The verdict of one pull in a sentence: `Void from 5700 to 6440 rpm: spark breakup, too much asked of the spark (0.92), next likely coil
 * energy (0.05).` Says so when nothing was found, and when little could be looked for.
 */
export function verdictSentence(verdict: PullVerdict, system: UnitSystem = 'metric'): string {
  const counted = verdict.occurrences.filter((one) => one.overruled === undefined && isBelieved(one));
  const lead = verdict.stopClass >= 2 ? `${STOP_WORDS[verdict.stopClass].word.toUpperCase()}. ` : '';
  const overruled = verdict.occurrences.filter((one) => one.overruled !== undefined).length;
  const tail = overruled > 0 ? ` ${overruled} overruled by hand.` : '';
  const head = validityText(verdict, system);
  if (counted.length === 0) return `${lead}${head}; nothing found that spoiled it${blindText(verdict)}.${tail}`;
  const named = counted.slice(0, NAMED).map((one) => {
    const where = windowsText(one.windows, system);
    return occurrenceAt(one, head.includes(where) ? '' : where);
  });
  const rest = counted.length - named.length;
  const joint = verdict.validity === 'valid' ? '. Found: ' : ': ';
  return `${lead}${head}${joint}${named.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}.${tail}`;
}

/** `spark breakup … (0.92) from 5700 to 6700 rpm, next likely … (0.05)`. */
export function occurrenceText(occurrence: Occurrence, system: UnitSystem = 'metric'): string {
  return occurrenceAt(occurrence, windowsText(occurrence.windows, system));
}

function occurrenceAt({ hypotheses, channel }: Occurrence, where: string): string {
  const [first, second] = hypotheses;
  if (!first) return 'something that no known fault explains';
  const named = channel === undefined ? '' : ` “${channel}”`;
  const other = second ? `, next likely ${causeText(second)}` : '';
  return `${causeText(first, named)}${where === '' ? '' : ` ${where}`}${other}`;
}

function causeText({ fault, probability }: Hypothesis, channel = ''): string {
  return `${FAULT_TITLES[fault]}${channel} (${probabilityText(probability)})`;
}

/** Two digits, and never a certainty: `0.92`, `over 0.99`. */
export function probabilityText(probability: number): string {
  if (probability > 0.995) return 'over 0.99';
  return probability < 0.005 ? 'under 0.01' : probability.toFixed(2);
}

function validityText({ validity, voidWindows }: PullVerdict, system: UnitSystem): string {
  if (validity === 'valid') return 'Power valid';
  if (validity === 'void') return 'Void';
  const where = windowsText(voidWindows, system);
  return where === '' ? 'Valid in windows' : `Void ${where}`;
}

/** `from 5700 to 6700 rpm`: lowest and highest engine speed over all windows, or their times where no speed is known. */
export function windowsText(windows: readonly FaultWindow[], system: UnitSystem = 'metric'): string {
  if (windows.length === 0) return '';
  const [low, high] = [
    Math.min(...windows.map(({ lowSpeed }) => lowSpeed)),
    Math.max(...windows.map(({ highSpeed }) => highSpeed)),
  ];
  if (Number.isFinite(low) && Number.isFinite(high)) {
    const [from, to] = [low, high].map((speed) => formatQuantity(speed, 'engine-speed', { system }));
    return from === to ? `at ${from}` : `from ${from?.replace(/\s*\D+$/, '')} to ${to}`;
  }
  const from = Math.min(...windows.map((window) => window.from));
  const to = Math.max(...windows.map((window) => window.to));
  return `from ${from.toFixed(1)} to ${to.toFixed(1)} s`;
}

/** How much could not be looked for: said when it is more than half of everything. */
function blindText({ detections }: PullVerdict): string {
  const blind = detections.filter(({ answer }) => answer === 'cannot tell').length;
  return blind > detections.length / 2 ? `, but ${blind} of ${detections.length} faults could not be looked for` : '';
}
