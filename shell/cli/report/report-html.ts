import { formatQuantity, type UnitSystem } from '../../../core/quantities/index.ts';
import { bestPeak, type DayReport, type EntryReport, peakText, withBand } from '../../../day/reports/index.ts';
import { entryPart, listPart } from './entry-part.ts';
import { factsTable } from './facts-part.ts';
import { element, escaped, htmlTable } from './html.ts';
import { reportIdentification } from './identification.ts';
import { standing } from './standing.ts';
import { STYLE } from './style.ts';

/** Logs that took part, by name and SHA-256: the fingerprint of the raw data. */
export interface ReportFile {
  readonly name: string;
  readonly hash: string;
}

export interface ReportOptions {
  readonly files: readonly ReportFile[];
  readonly system: UnitSystem;
  /** When it is drawn up, as it is to be printed. */
  readonly at: string;
}

/**
 * A whole day as one file that stands alone: no script, no network, prints well.
 *
 * @source contents after ISO/IEC 17025:2017, 7.8.2, from memory
 */
export function reportHtml(report: DayReport, { files, system, at }: ReportOptions): string {
  const { facts, entries, cautions, findings, method } = report;
  const title = [facts.title, facts.date].filter((part) => part !== undefined).join(', ');
  const name = reportIdentification(facts, files, method);
  const body = [
    element('h1', title),
    facts.invented === undefined ? '' : `<p class="invented">${escaped(`Invented data: ${facts.invented}`)}</p>`,
    headTable({ report, name, at }),
    `<p>${escaped('The results relate only to the vehicle, the engine, the roller and the logs named here, in the state they were in. Bands are two standard uncertainties, about 95 %.')}</p>`,
    element('h2', 'Conclusions'),
    list(conclusions(entries, system)),
    element('h2', 'Open questions'),
    list(openQuestions(entries)),
    element('h2', 'What counts'),
    element(
      'p',
      'Valid: the logs carry the figure. Valid in part: the void windows named with the entry are left out.',
    ),
    standingTable(entries),
    element('h2', 'Observations'),
    entryTable(entries, system),
    findings.length > 0
      ? listPart(
          'Of the day',
          findings.map(({ message }) => message),
        )
      : '',
    facts.notes === undefined ? '' : `<p>${escaped(`Note: ${facts.notes}`)}</p>`,
    ...entries.map((entry) => entryPart(entry, system)),
    element('h2', 'Method'),
    ...METHOD_TEXT.map((text) => element('p', text)),
    element('h2', 'What was stated'),
    factsTable(facts, system),
    element('h2', 'Raw data'),
    htmlTable(
      ['log', 'SHA-256'],
      files.map(({ name: file, hash }) => [file, hash]),
    ),
    element('h2', 'Cautions'),
    list(cautions),
    `<p class="end">${escaped(`End of report ${name}.`)}</p>`,
  ];
  return `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escaped(title)}</title><style>${STYLE}</style></head><body><main>\n${body.filter((part) => part !== '').join('\n')}\n</main></body></html>\n`;
}

function headTable({ report, name, at }: { report: DayReport; name: string; at: string }): string {
  const { facts, method } = report;
  const rows: readonly (readonly [string, string | undefined])[] = [
    ['report', name],
    ['where', facts.place.name],
    ['date of the test', facts.date],
    ['vehicle', facts.vehicle.name],
    ['engine', facts.engine.name],
    ['roller', facts.roller.name],
    ['drawn up', `${at}, by Knurl, method ${method}`],
  ];
  const body = rows.map(
    ([what, value]) => `<tr><th scope="row">${escaped(what)}</th><td>${escaped(value ?? 'not stated')}</td></tr>`,
  );
  return `<table class="head"><tbody>${body.join('\n')}</tbody></table>`;
}

/** What follows from the observations, and no more: comparisons are not drawn here. */
function conclusions(entries: readonly EntryReport[], system: UnitSystem): readonly string[] {
  const claims = entries.flatMap((entry) => {
    const peak = bestPeak(entry);
    const state = standing(entry)?.state;
    return peak && (state === 'valid' || state === 'valid in part') ? [{ id: entry.facts.id, peak }] : [];
  });
  const highest = ['engine power', 'wheel power', 'roll power'].flatMap((what) => {
    const of = claims.filter(({ peak }) => peak.what === what).sort((a, b) => b.peak.value - a.peak.value);
    const [best] = of;
    if (!best) return [];
    const count = `${of.length} ${of.length === 1 ? 'entry has' : 'entries have'} a claim of ${what}`;
    return [
      `${count}; the highest is ${peakText(best.peak, system)} (entry ${best.id}). One pull: a repeat may differ.`,
    ];
  });
  const without = entries.filter((entry) => standing(entry)?.state === 'no claim').map(({ facts }) => facts.id);
  return [
    ...highest,
    ...(without.length > 0 ? [`No claim can be made from ${without.join(', ')}: see the reasons below.`] : []),
    ...(claims.length > 0
      ? ['Whether a change helped is not concluded here.']
      : ['No power can be claimed from these logs.']),
  ];
}

function openQuestions(entries: readonly EntryReport[]): readonly string[] {
  const columns = entries.flatMap(({ questions }) =>
    questions.flatMap(({ file, proposals }) =>
      proposals.map(({ column, question }) => `${file}, ${column}: ${question ?? 'what is it?'}`),
    ),
  );
  const missing = new Map<string, string[]>();
  for (const { facts, result } of entries)
    for (const text of new Set(result?.pulls.flatMap(({ curve }) => curve.missing)))
      missing.set(text, [...(missing.get(text) ?? []), facts.id]);
  const gaps = [...missing].map(([text, ids]) => `${text} (${ids.join(', ')})`);
  return columns.length + gaps.length > 0 ? [...columns, ...gaps] : ['None was left by the logs and the facts.'];
}

function standingTable(entries: readonly EntryReport[]): string {
  const rows = entries.flatMap((entry) => {
    const found = standing(entry);
    return found ? [[entry.facts.id, found.state, found.reasons.join('; ')]] : [];
  });
  return htmlTable(['entry', 'state', 'because, and what lowers confidence'], rows);
}

function entryTable(entries: readonly EntryReport[], system: UnitSystem): string {
  const rows = entries.map((entry) => {
    const { facts, result } = entry;
    const peak = bestPeak(entry);
    const loss = result?.losses[0]?.middle;
    const lost =
      loss &&
      `${withBand(loss.force.value, loss.force.standardUncertainty, { kind: 'force', system })} at ${formatQuantity(loss.speed, 'speed', { system })} lost`;
    const settings = Object.entries(facts.settings).map(([key, value]) => `${key} ${value}`);
    const made = peak ? `${peakText(peak, system)} (${peak.what})` : (lost ?? '');
    return [facts.id, facts.clock ?? '', facts.title ?? facts.kind, settings.join(', '), made];
  });
  return htmlTable(['entry', 'clock', 'what', 'settings', 'made'], rows);
}

function list(texts: readonly string[]): string {
  return `<ul>${texts.map((text) => element('li', text)).join('')}</ul>`;
}

const METHOD_TEXT = [
  'Roll power is the force at the roll surface times its speed; where the force is the brake’s alone, equivalent mass times acceleration is added. Slip gives wheel power; rolling loss from coast-downs with the clutch open, the inertia of wheels and engine and the loss in the meshes give engine power. A line that is not known is not added, and what lies behind it is not claimed.',
  'Full-load stretches are found in the logs. Two clocks are joined by speed; nothing is interpolated or integrated across a gap. A curve has a stated bandwidth; its effect on the peak is given. Power is corrected for the air only where a rule was chosen.',
  'Uncertainties are combined after the Guide to the expression of uncertainty in measurement (JCGM 100:2008). Contributions marked shared are the same in all pulls of one set-up and cancel in a difference; those marked random do not.',
];
