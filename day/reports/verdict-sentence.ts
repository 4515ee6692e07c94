import { displayUnit, fromSi, type UnitSystem, unitSymbol } from '../../core/quantities/index.ts';
import {
  BELIEVED,
  type FaultWindow,
  type Hypothesis,
  isBelieved,
  type Occurrence,
  type PullVerdict,
} from '../verdicts/index.ts';
import { FAULT_TITLES, STOP_WORDS } from './fault-titles.ts';

/** Occurrences named in the one sentence; the rest is counted. @source our default */
const NAMED = 2;
/** Another cause is named from this probability on. @source our default: one in twenty */
const WORTH_NAMING = 0.05;
/** A window over more than this share of the pull is the whole pull to whoever reads. @source our default */
const WHOLE = 0.9;

/**
 * The verdict of one pull in a sentence: `Void from 5700 to 6440 rpm: spark breakup, too much asked of the spark (92 %), or too little
 * energy from the coil (5 %).` A hold or an end leads. Says so when nothing was found, and when little could be looked for.
 */
export function verdictSentence(verdict: PullVerdict, system: UnitSystem = 'metric'): string {
  const { validity, stopClass, occurrences } = verdict;
  const counted = occurrences.filter((one) => one.overruled === undefined && isBelieved(one));
  const asks = stopClass >= 2 ? STOP_WORDS[stopClass].word.toUpperCase() : undefined;
  const overruled = occurrences.filter((one) => one.overruled !== undefined).length;
  const tail = overruled > 0 ? ` ${overruled} overruled by hand.` : '';
  const head = validityText(verdict, system);
  if (counted.length === 0) return `${head}; nothing found that spoiled it${blindText(verdict)}.${tail}`;
  const named = counted.slice(0, NAMED).map((one, at) => {
    const where = isWhole(one.windows, verdict) ? '' : windowsText(one.windows, system);
    const unsure = !((one.hypotheses[0]?.probability ?? 0) >= BELIEVED);
    return occurrenceAt(one, { where: head.includes(where) ? '' : where, others: at === 0 || unsure });
  });
  const rest = counted.length - named.length;
  const found = `${named.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}.`;
  if (validity !== 'valid') return `${asks === undefined ? '' : `${asks}. `}${head}: ${found}${tail}`;
  return `${asks === undefined ? `${head}. Found: ${found}` : `${asks}: ${found} ${head}.`}${tail}`;
}

/** `spark breakup … (92 %) from 5700 to 6700 rpm, or … (5 %)`. */
export function occurrenceText(occurrence: Occurrence, system: UnitSystem = 'metric'): string {
  return occurrenceAt(occurrence, { where: windowsText(occurrence.windows, system), others: true });
}

function occurrenceAt(
  { hypotheses, channel }: Occurrence,
  { where, others }: { readonly where: string; readonly others: boolean },
): string {
  const [first, second] = hypotheses;
  if (!first) return 'something that no known fault explains';
  const named = channel === undefined ? '' : ` “${channel}”`;
  const other = others && second && second.probability >= WORTH_NAMING ? `, or ${alternativeText(first, second)}` : '';
  return `${causeText(first, named)}${where === '' ? '' : ` ${where}`}${other}`;
}

function causeText({ fault, probability }: Hypothesis, channel = ''): string {
  return `${FAULT_TITLES[fault]}${channel} (${probabilityText(probability)})`;
}

/** What two causes have in common is said once. */
function alternativeText(first: Hypothesis, second: Hypothesis): string {
  const [common] = FAULT_TITLES[first.fault].split(', ', 1);
  const text = causeText(second);
  return text.startsWith(`${common}, `) ? text.slice(`${common}, `.length) : text;
}

/** In percent, and never a certainty: `92 %`, `over 99 %`. */
export function probabilityText(probability: number): string {
  if (probability > 0.995) return 'over 99 %';
  return probability < 0.005 ? 'under 1 %' : `${Math.round(100 * probability)} %`;
}

function validityText({ validity, voidWindows }: PullVerdict, system: UnitSystem): string {
  if (validity === 'valid') return 'Power valid';
  if (validity === 'void') return 'Void';
  const where = windowsText(voidWindows, system);
  return where === '' ? 'Valid in windows' : `Void ${where}`;
}

function isWhole(windows: readonly FaultWindow[], { pull: { segment } }: PullVerdict): boolean {
  const from = Math.min(...windows.map((window) => window.from));
  const to = Math.max(...windows.map((window) => window.to));
  return to - from > WHOLE * (segment.toTime - segment.fromTime);
}

/** Engine speeds are told to this step: what was seen is no sharper [as shown]. @source our default */
const STEP = 10;

/** An engine speed as a window's border, without its unit. */
export function borderText(speed: number, system: UnitSystem = 'metric'): string {
  return (STEP * Math.round(fromSi(speed, displayUnit('engine-speed', system)) / STEP)).toFixed(0);
}

/** `from 5700 to 6700 rpm`: lowest and highest engine speed over all windows, or their times where no speed is known. */
export function windowsText(windows: readonly FaultWindow[], system: UnitSystem = 'metric'): string {
  if (windows.length === 0) return '';
  const [low, high] = [
    Math.min(...windows.map(({ lowSpeed }) => lowSpeed)),
    Math.max(...windows.map(({ highSpeed }) => highSpeed)),
  ];
  if (Number.isFinite(low) && Number.isFinite(high)) {
    const [from, to] = [low, high].map((speed) => borderText(speed, system));
    const unit = unitSymbol('engine-speed', system);
    return from === to ? `at ${from} ${unit}` : `from ${from} to ${to} ${unit}`;
  }
  const [from, to] = [Math.min(...windows.map((one) => one.from)), Math.max(...windows.map((one) => one.to))];
  return to - from < 0.05 ? `at ${from.toFixed(1)} s` : `from ${from.toFixed(1)} to ${to.toFixed(1)} s`;
}

/** How much could not be looked for: said when it is more than half of everything. */
function blindText({ detections }: PullVerdict): string {
  const blind = detections.filter(({ answer }) => answer === 'cannot tell').length;
  return blind > detections.length / 2 ? `, but ${blind} of ${detections.length} faults could not be looked for` : '';
}
