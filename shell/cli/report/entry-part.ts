import { formatQuantity, type UnitSystem } from '../../../core/quantities/index.ts';
import type { EntryResult, PowerCurve, PullResult } from '../../../day/pulls/index.ts';
import {
  airInWords,
  type EntryReport,
  entrySentence,
  occurrenceText,
  peakText,
  pullSentence,
} from '../../../day/reports/index.ts';
import { isBelieved, THRESHOLDS } from '../../../day/verdicts/index.ts';
import { encodeVerdict } from '../../server/index.ts';
import { bandwidthText } from '../text/bandwidth-text.ts';
import { chainColumn } from '../text/chain-text.ts';
import { clockText, joinText } from '../text/clock-text.ts';
import { saidOnce } from '../text/findings.ts';
import { curveSvg } from './curve-svg.ts';
import { element, escaped, htmlTable } from './html.ts';
import { voidWindows } from './void-windows.ts';

/** One entry in full: sentence, settings, curve, chain, budget, clocks, air, findings, open questions. */
export function entryPart(entry: EntryReport, system: UnitSystem): string {
  const { facts, result, questions } = entry;
  if (facts.kind === 'change' || facts.kind === 'note') return '';
  const findings = saidOnce([...(result?.findings ?? []), ...(result?.pulls ?? []).flatMap((pull) => pull.findings)]);
  const settings = Object.entries(facts.settings).map(([key, value]) => `${key} ${value}`);
  const asked = questions.flatMap(({ file, proposals }) =>
    proposals.map(({ column, question }) => `${file}, ${column}: ${question ?? 'what is it?'}`),
  );
  const title = [facts.id, facts.title, facts.clock].filter((part) => part !== undefined).join(' · ');
  return [
    `<section>${element('h3', title)}`,
    `<p class="sentence">${escaped(entrySentence(entry, system))}</p>`,
    paragraph('Settings', settings.join(', ')),
    paragraph('Note', facts.notes ?? ''),
    paragraph('Logs', facts.files.join(', ')),
    ...(result?.pulls ?? []).map((pull, i) =>
      pullPart(pull, system, (result?.pulls.length ?? 0) > 1 ? i + 1 : undefined),
    ),
    result ? clockPart(result) : '',
    result ? airPart(result, system) : '',
    listPart('What spoiled it', spoiledTexts(entry, system)),
    listPart(
      'Findings',
      findings.map(({ weight, message }) => (weight === 'note' ? message : `${weight}: ${message}`)),
    ),
    listPart('To be decided', asked),
    '</section>',
  ].join('\n');
}

/** Every occurrence that counts or was overruled, with what it asks for and the next check. */
function spoiledTexts({ verdicts }: EntryReport, system: UnitSystem): readonly string[] {
  return verdicts.flatMap((verdict) => {
    const number = verdicts.length > 1 ? `pull ${verdict.index + 1}: ` : '';
    const { occurrences } = encodeVerdict(verdict, THRESHOLDS);
    return verdict.occurrences.flatMap((one, at) => {
      const shown = occurrences[at];
      if (!shown || (one.overruled === undefined && !isBelieved(one))) return [];
      const asks =
        one.overruled === undefined ? shown.stop.meaning : `Overruled by a person, because: ${one.overruled}.`;
      const next = shown.next && one.overruled === undefined ? ` Next check: ${shown.next.text}` : '';
      return [`${number}${occurrenceText(one, system)}. ${asks}${next}`];
    });
  });
}

function pullPart(pull: PullResult, system: UnitSystem, number: number | undefined): string {
  const lead = number === undefined ? '' : `<p>${escaped(`Pull ${number}: ${pullSentence(pull, system)}`)}</p>`;
  if (pull.refusal) return lead || `<p>${escaped(`No power claim: ${pull.refusal.message}.`)}</p>`;
  const { curve, peaks, segment } = pull;
  const column = chainColumn(pull, system);
  const bases = { curve: 'curve', 'one second': 'mean over 1 s', samples: 'single sample' } as const;
  return [
    lead,
    `<figure>${curveSvg(curve, system)}<figcaption>${escaped(captionText(pull))}</figcaption></figure>`,
    paragraph('Taken as full load because', segment.reason),
    '<div class="pair">',
    htmlTable(
      [`the chain ${column.heading}`, 'power'],
      column.rows.map(({ label, value }) => [label, value]),
      new Set([1]),
    ),
    htmlTable(
      ['peak', 'of', 'value'],
      peaks.map((peak) => [peak.what, bases[peak.basis], peakText(peak, system)]),
    ),
    '</div>',
    listPart('Void in', voidTexts(curve, system)),
    listPart('Missing', curve.missing),
    budgetTable(pull, system),
  ].join('\n');
}

function captionText({ curve }: PullResult): string {
  return `Curve: ${bandwidthText(curve)}. The band is two standard uncertainties; grey bars are void.`;
}

function voidTexts(curve: PowerCurve, system: UnitSystem): readonly string[] {
  const kind = curve.axis === 'engine-speed' ? 'engine-speed' : 'speed';
  return voidWindows(curve).map(({ low, high }) => {
    const from = low === undefined ? 'up to' : formatQuantity(low, kind, { system, unit: high === undefined });
    const to = high === undefined ? 'upward' : formatQuantity(high, kind, { system });
    return `${from}${low === undefined || high === undefined ? ' ' : ' – '}${to}: in a gap of the record or a window that must not be used`;
  });
}

function budgetTable({ budget }: PullResult, system: UnitSystem): string {
  if (budget.length === 0) return '';
  const watts = (value: number): string => formatQuantity(value, 'power', { system, decimals: 2 });
  return htmlTable(
    ['one standard deviation of', 'roll', 'wheel', 'engine', 'between pulls', 'from'],
    budget.map(({ name, roll, tyre, engine, sharing, origin }) => [
      name,
      watts(roll),
      watts(tyre),
      watts(engine),
      sharing,
      origin,
    ]),
    new Set([1, 2, 3]),
  );
}

function clockPart({ alignment }: EntryResult): string {
  if (!alignment || alignment.by === 'same clock') return '';
  return paragraph('Clocks', `${[joinText(alignment), ...alignment.pieces.map(clockText)].join('; ')}.`);
}

function airPart({ conditions }: EntryResult, system: UnitSystem): string {
  const { chosen, factors } = conditions;
  const known = airInWords(conditions, system);
  const others = factors
    .filter(({ rule, factor }) => rule !== 'none' && factor !== undefined)
    .map(({ rule, factor, valid }) => `${rule} ${factor?.toFixed(4)}${valid ? '' : ' (not valid here)'}`);
  const force = chosen.rule === 'none' ? 'no correction' : `${chosen.rule}, ${chosen.why}`;
  return paragraph(
    'Air',
    `${known.join(', ')}. In force: ${force}. Factors of the rules: ${others.join(', ') || 'none can be given'}.`,
  );
}

function paragraph(title: string, text: string): string {
  return text === '' ? '' : `<p><b>${escaped(title)}</b> ${escaped(text)}</p>`;
}

/** A titled list; nothing where there is nothing to list. */
export function listPart(title: string, texts: readonly string[]): string {
  if (texts.length === 0) return '';
  return `<p><b>${escaped(title)}</b></p><ul>${texts.map((text) => element('li', text)).join('')}</ul>`;
}
