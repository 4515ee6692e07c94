import { formatQuantity, type UnitSystem } from '../../core/quantities/index.ts';
import type { EntryFacts, EntryResult, LossFit, Peak, PullResult } from '../pulls/index.ts';
import type { EntryReport } from './day-report.ts';
import { peakText } from './words.ts';

/** One sentence in plain words: what the entry made, with its band, or why that cannot be said. */
export function entrySentence(
  facts: EntryFacts,
  result: EntryResult | undefined,
  system: UnitSystem = 'metric',
): string {
  if (facts.excluded !== undefined) return `Left out by hand: ${facts.excluded}.`;
  if (facts.kind === 'change' || facts.kind === 'note') return facts.notes ?? facts.title ?? '';
  if (!result) return facts.files.length === 0 ? 'No log belongs to this entry.' : 'Not read yet.';
  if (result.refusal) return `No answer: ${result.refusal.message}.`;
  const pulls = result.pulls.map((pull, i) => pullSentence(pull, result.pulls.length > 1 ? i + 1 : undefined, system));
  const losses = result.losses.map((fit) => lossSentence(fit, system));
  const sentences = facts.kind === 'coast-down' ? [...losses, ...pulls] : [...pulls, ...losses];
  return sentences.length > 0 ? sentences.join(' ') : 'No full-load pull and no coast-down found in these logs.';
}

/** `Made 274 ± 6 kW at the engine (6480 rpm): 233.2 ± 2.1 kW at the wheels, 226 ± 2 kW at the rolls; not corrected.` */
export function pullSentence(pull: PullResult, number?: number, system: UnitSystem = 'metric'): string {
  const lead =
    number === undefined
      ? ''
      : `Pull ${number} (${pull.segment.fromTime.toFixed(1)}–${pull.segment.toTime.toFixed(1)} s): `;
  if (pull.refusal) return `${lead}no power claim: ${pull.refusal.message}.`;
  const by = (what: Peak['what']): Peak | undefined =>
    pull.peaks.find((peak) => peak.what === what && peak.basis === 'curve');
  const [engine, wheel, roll, corrected] = [
    by('engine power'),
    by('wheel power'),
    by('roll power'),
    by('corrected power'),
  ];
  const parts = [
    engine && `${peakText(engine, system)} at the engine`,
    wheel && `${peakText(wheel, system)} at the wheels`,
    roll && `${peakText(roll, system)} at the rolls`,
  ].filter((part) => part !== undefined);
  if (parts.length === 0) return `${lead}no power could be computed from what is there.`;
  const rule = corrected ? ` By ${pull.curve.rule}: ${peakText(corrected, system)}.` : ' Not corrected for the air.';
  const void_ = voidText(pull);
  return `${lead}made ${parts.join('; ')}.${rule}${void_}`.replace(/^made/, 'Made');
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
  return holes === 0
    ? ''
    : ` ${holes} of ${curve.valid.length} points of the curve lie in gaps of the record and are not used.`;
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
