import { extname, join, resolve } from 'node:path';
import { answered } from '../../../core/quantities/index.ts';
import type { DayReport } from '../../../day/reports/index.ts';
import { readDayFolder } from '../../store/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { plainEntry } from '../plain-entry.ts';
import { jsonText } from '../plain-json.ts';
import { refuse, refuseOrWrong, wrong } from '../refuse.ts';
import { type ReportOptions, reportHtml } from '../report/report-html.ts';
import { dayText } from '../text/day-text.ts';
import { entryText } from '../text/pull-text.ts';
import { SET_HELP, THRESHOLD_OPTIONS } from '../threshold-options.ts';
import { unitSystem } from '../units-option.ts';
import { checkedTarget, OVERWRITE_HELP, OVERWRITE_OPTION, targetOf, written } from '../write-out.ts';
import { withReport } from './day.ts';

export const reportCommand: Command = {
  name: 'report',
  summary: 'a day as one file that stands alone',
  usage: 'knurl report FOLDER [--out FILE.html|.txt|.json]',
  details: [
    '  --out FILE         where it goes: .html, .txt or .json; `-` prints HTML (default: report.html)',
    ...OVERWRITE_HELP,
    SET_HELP,
  ].join('\n'),
  examples: [
    'knurl report plateau',
    'knurl report plateau --out plateau.html --units imperial',
    'knurl report plateau --overwrite',
  ],
  options: { ...OVERWRITE_OPTION, out: { type: 'string' }, set: THRESHOLD_OPTIONS.set },
  run: writeReport,
};

async function writeReport(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  if (asked.words.length !== 1) return wrong('missing folder: name the folder of one day', surroundings);
  const out = asked.text('out') ?? (asked.flag('json') ? '-' : 'report.html');
  const format = formatOf(out, asked.flag('json'));
  if (!format)
    return wrong(`invalid --out: ${out}, expected a name ending in .html, .txt or .json, or -`, surroundings);
  const inputs = out === '-' ? [] : await filesIn(asked.words[0] ?? '.');
  const target = targetOf(out, asked, inputs);
  const place = out === '-' ? answered(out) : await checkedTarget(target);
  if (!place.ok) return refuseOrWrong(place.refusal, surroundings);
  return withReport(asked, surroundings, async (report, desk, day) => {
    const files = desk.files(day);
    if (!files.ok) return refuse(files.refusal, surroundings);
    const text = textOf(format, report, {
      files: files.value,
      system: unitSystem(asked),
      at: `${surroundings.now().slice(0, 16).replace('T', ' ')} UTC`,
    });
    if (out === '-') {
      surroundings.out(text);
      return 0;
    }
    const done = await written(target, text);
    if (!done.ok) return refuseOrWrong(done.refusal, surroundings);
    surroundings.err(`wrote ${out}\n`);
    return 0;
  });
}

/** Logs that a day's folder names, and its `day.yaml`: what a report must never be written over. */
async function filesIn(folder: string): Promise<readonly string[]> {
  const read = await readDayFolder(resolve(folder));
  const logs = read.ok ? read.value.files.map(({ path }) => path) : [];
  return [join(folder, 'day.yaml'), ...logs];
}

type ReportFormat = 'html' | 'txt' | 'json';

function formatOf(out: string, json: boolean): ReportFormat | undefined {
  if (json) return 'json';
  if (out === '-') return 'html';
  const ending = extname(out).slice(1).toLowerCase();
  if (ending === 'htm') return 'html';
  return ending === 'html' || ending === 'txt' || ending === 'json' ? ending : undefined;
}

function textOf(format: ReportFormat, report: DayReport, options: ReportOptions): string {
  const style = { width: 100, system: options.system };
  switch (format) {
    case 'json':
      return jsonText({ ...report, entries: report.entries.map(plainEntry) });
    case 'html':
      return reportHtml(report, options);
    case 'txt': {
      const entries = report.entries.filter(({ facts }) => facts.kind === 'pull' || facts.kind === 'coast-down');
      return [
        dayText(report, style),
        ...entries.map((entry) => entryText(entry, style)),
        'End of the report.',
        '',
      ].join(`\n\n${'═'.repeat(style.width)}\n\n`);
    }
  }
}
