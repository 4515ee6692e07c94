import { formatQuantity, type UnitSystem } from '../../../core/quantities/index.ts';
import type { DayFacts, PullResult } from '../../../day/pulls/index.ts';
import { bestPeak, type DayReport, type EntryReport, peakText, withBand } from '../../../day/reports/index.ts';
import { curveSvg } from './curve-svg.ts';
import { element, escaped, htmlTable } from './html.ts';
import { STYLE } from './style.ts';

/** Logs that took part, by name and SHA-256: the fingerprint of the raw data. */
export interface ReportFile {
  readonly name: string;
  readonly hash: string;
}

/** A whole day as one file that stands alone: no script, no network, prints well. */
export function reportHtml(
  report: DayReport,
  { files, system, at }: { files: readonly ReportFile[]; system: UnitSystem; at: string },
): string {
  const { facts, entries, cautions, findings, method } = report;
  const title = [facts.title, facts.date].filter((part) => part !== undefined).join(', ');
  const body = [
    element('h1', title),
    facts.invented === undefined ? '' : `<p class="invented">${escaped(`Invented data: ${facts.invented}`)}</p>`,
    `<p>${escaped(`Drawn up ${at} by Knurl, method ${method}. The results relate only to the engine, the roller and the logs named here. Bands are two standard uncertainties, about 95 %.`)}</p>`,
    element('h2', 'Entries'),
    entryTable(entries, system),
    ...entries.map((entry) => entrySection(entry, system)),
    element('h2', 'What was stated'),
    factsTable(facts, system),
    findings.length > 0
      ? element('h2', 'Findings of the day') + findingList(findings.map(({ message }) => message))
      : '',
    element('h2', 'Raw data'),
    htmlTable(
      ['log', 'SHA-256'],
      files.map(({ name, hash }) => [name, hash]),
    ),
    element('h2', 'Cautions'),
    findingList(cautions),
    '<p class="end">End of the report.</p>',
  ];
  return `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escaped(title)}</title><style>${STYLE}</style></head><body><main>\n${body.join('\n')}\n</main></body></html>\n`;
}

function entryTable(entries: readonly EntryReport[], system: UnitSystem): string {
  const rows = entries.map((entry) => {
    const peak = bestPeak(entry);
    const loss = entry.result?.losses[0]?.middle;
    const lost =
      loss &&
      `${withBand(loss.force.value, loss.force.standardUncertainty, { kind: 'force', system })} at ${formatQuantity(loss.speed, 'speed', { system })} lost`;
    return [
      entry.facts.id,
      entry.facts.clock ?? '',
      entry.facts.title ?? entry.facts.kind,
      Object.entries(entry.facts.settings)
        .map(([key, value]) => `${key} ${value}`)
        .join(', '),
      peak ? `${peakText(peak, system)} (${peak.what})` : (lost ?? entry.result?.refusal?.message ?? ''),
    ];
  });
  return htmlTable(['entry', 'clock', 'what', 'settings', 'made'], rows);
}

function entrySection({ facts, result, sentence }: EntryReport, system: UnitSystem): string {
  if (facts.kind === 'change' || facts.kind === 'note') return '';
  const messages = [...(result?.findings ?? []), ...(result?.pulls ?? []).flatMap((pull) => pull.findings)].map(
    ({ message }) => message,
  );
  return [
    `<section>${element('h2', `Entry ${facts.id}`)}`,
    `<p class="sentence">${escaped(sentence)}</p>`,
    ...(result?.pulls ?? []).map((pull) => pullPart(pull, system)),
    facts.notes === undefined ? '' : `<p>${escaped(`Note: ${facts.notes}`)}</p>`,
    messages.length > 0
      ? `<details open><summary>Findings</summary>${findingList([...new Set(messages)])}</details>`
      : '',
    '</section>',
  ].join('\n');
}

function pullPart(pull: PullResult, system: UnitSystem): string {
  const watts = (value: number): string => formatQuantity(value, 'power', { system, decimals: 2 });
  const rows = pull.budget.map(({ name, roll, tyre, engine, sharing, origin }) => [
    name,
    watts(roll),
    watts(tyre),
    watts(engine),
    sharing,
    origin,
  ]);
  const missing = pull.curve.missing.length > 0 ? findingList(pull.curve.missing) : '';
  const budget = htmlTable(
    ['one standard deviation of', 'roll', 'wheel', 'engine', 'between pulls', 'from'],
    rows,
    new Set([1, 2, 3]),
  );
  return `<figure>${curveSvg(pull.curve, system)}</figure>${missing}<details><summary>Uncertainty</summary>${budget}</details>`;
}

function findingList(messages: readonly string[]): string {
  return `<ul>${messages.map((message) => element('li', message)).join('')}</ul>`;
}

function factsTable({ place, vehicle, engine, roller, ambient }: DayFacts, system: UnitSystem): string {
  const sections = { place, vehicle, engine, roller, ambient };
  const rows = Object.entries(sections).flatMap(([section, facts]) =>
    Object.entries(facts).map(([name, value]) => [
      section,
      name.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`),
      factText(value, system),
    ]),
  );
  return htmlTable(['of', 'fact', 'value (SI)'], rows);
}

function factText(value: unknown, _system: UnitSystem): string {
  if (typeof value !== 'object' || value === null || !('value' in value)) return String(value);
  const spread =
    'standardUncertainty' in value && Number(value.standardUncertainty) > 0
      ? ` ± ${String(value.standardUncertainty)}`
      : '';
  return `${String(value.value)}${spread}`;
}
