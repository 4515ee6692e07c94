import { formatQuantity, type UnitSystem } from '../../core/quantities/index.ts';
import type { LossFit, Peak, PullResult } from '../pulls/index.ts';
import type { EntryReport, UnreadLog } from './day-report.ts';
import { verdictSentence } from './verdict-sentence.ts';
import { peakPlace, peakText, peakValue } from './words.ts';

/** One sentence in plain words: what the entry made, with its band, or why that cannot be said. */
export function entrySentence(
  {
    facts,
    result,
    verdicts = [],
    unread = [],
  }: Pick<EntryReport, 'facts' | 'result'> & Partial<Pick<EntryReport, 'unread' | 'verdicts'>>,
  system: UnitSystem = 'metric',
): string {
  if (facts.excluded !== undefined) return `Left out by hand: ${facts.excluded}.`;
  if (facts.kind === 'change' || facts.kind === 'note') return facts.notes ?? facts.title ?? '';
  const left = unread.length > 0 ? unreadText(unread) : undefined;
  if (!result) {
    if (left !== undefined) return `No answer: ${left}.`;
    return facts.files.length === 0 ? 'No log belongs to this entry.' : 'Not read yet.';
  }
  if (result.refusal)
    return `No answer: ${[left, result.refusal.message].filter((text) => text !== undefined).join('; ')}.`;
  const pulls = result.pulls.map((pull, i) => {
    const made = pullSentence(pull, system);
    const verdict = verdicts.find(({ index }) => index === i);
    const told = verdict ? `${verdictSentence(verdict, system)} ${made}` : made;
    return result.pulls.length > 1 ? `Pull ${i + 1}, ${spanText(pull)}: ${told}` : told;
  });
  const losses = result.losses.map((fit) => lossSentence(fit, system));
  const sentences = facts.kind === 'coast-down' ? [...losses, ...pulls] : [...pulls, ...losses];
  if (sentences.length > 0) return [...sentences, ...(left === undefined ? [] : [`${left}.`])].join(' ');
  return left === undefined
    ? 'No full-load pull and no coast-down found in these logs.'
    : `No answer: ${left}; no full-load pull and no coast-down found in what could be read.`;
}

/** `pull-09-engine.csv could not be read: invalid file: this is a picture; …`: every log of an entry that is not part of its answer. */
export function unreadText(unread: readonly UnreadLog[]): string {
  return unread.map(({ file, why }) => `${file} could not be read: ${why}`).join('; ');
}

/** Where each kind of power is seen. */
const PLACES = [
  { what: 'engine power', place: 'at the engine' },
  { what: 'wheel power', place: 'at the wheels' },
  { what: 'roll power', place: 'on the roll' },
] as const;

/** `Made 274 ± 6 kW at the engine, 233.2 ± 2.1 kW at the wheels, 226 ± 2 kW on the roll, at 6480 rpm. Not corrected for the air.` */
export function pullSentence(pull: PullResult, system: UnitSystem = 'metric'): string {
  if (pull.refusal) return `No power claim: ${pull.refusal.message}.`;
  const by = (what: Peak['what']): Peak | undefined =>
    pull.peaks.find((peak) => peak.what === what && peak.basis === 'curve');
  const made = PLACES.flatMap(({ what, place }) => {
    const peak = by(what);
    return peak ? [{ text: `${peakValue(peak, system)} ${place}`, at: peakPlace(peak, system) }] : [];
  });
  if (made.length === 0) return 'No power could be computed from what is there.';
  const together = new Set(made.map(({ at }) => at)).size === 1 ? made[0]?.at : undefined;
  const parts = made.map(({ text, at }) => (together === undefined ? `${text} (${at})` : text)).join(', ');
  const corrected = by('corrected power');
  const rule = corrected ? `By ${pull.curve.rule}: ${peakText(corrected, system)}.` : 'Not corrected for the air.';
  return `Made ${parts}${together === undefined ? '' : `, at ${together}`}. ${rule}${voidText(pull)}`;
}

function spanText({ segment: { fromTime, toTime } }: PullResult): string {
  return `${fromTime.toFixed(1)}–${toTime.toFixed(1)} s`;
}

function lossSentence(fit: LossFit, system: UnitSystem): string {
  const clutch = fit.clutch === 'unknown' ? '' : fit.clutch === 'open' ? ' with the clutch open' : ' in gear';
  const force = formatQuantity(fit.middle.force.value, 'force', {
    system,
    standardUncertainty: 2 * fit.middle.force.standardUncertainty,
  });
  const speed = formatQuantity(fit.middle.speed, 'speed', { system });
  return `Coasted down${clutch}: ${force} lost at ${speed}.`;
}

function voidText({ curve }: PullResult): string {
  const holes = curve.valid.reduce((count, ok) => count + (ok ? 0 : 1), 0);
  if (holes === 0) return '';
  const share = Math.round((100 * holes) / curve.valid.length);
  return ` ${share < 1 ? 'Under 1' : share} % of the curve is void or missing and is not used.`;
}

/** The peak an entry is known by: engine before wheel before roll power, highest of its pulls. Undefined where nothing was made. */
export function bestPeak({ result }: EntryReport): Peak | undefined {
  const peaks = (result?.pulls ?? [])
    .filter(({ refusal }) => !refusal)
    .flatMap((pull) => pull.peaks.filter(({ basis }) => basis === 'curve'));
  for (const what of ['engine power', 'wheel power', 'roll power']) {
    const found = peaks.filter((peak) => peak.what === what).sort((a, b) => b.value - a.value)[0];
    if (found) return found;
  }
  return undefined;
}
