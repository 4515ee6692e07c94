import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { DayHealth } from '../../../day/verdicts/index.ts';
import type { Desk } from '../../desk/index.ts';
import { encodeHealth, healthStop } from '../../server/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { plainEntry } from '../plain-entry.ts';
import { jsonText } from '../plain-json.ts';
import { work } from '../progress.ts';
import { refuse, refuseOrWrong, wrong } from '../refuse.ts';
import { asksToStop } from '../stops.ts';
import { BANDS } from '../text/bands.ts';
import { dayText } from '../text/day-text.ts';
import { entryText } from '../text/pull-text.ts';
import { SET_HELP, THRESHOLD_OPTIONS, writtenThresholds } from '../threshold-options.ts';
import { unitSystem } from '../units-option.ts';
import { withDesk } from '../with-desk.ts';

export const dayCommand: Command = {
  name: 'day',
  summary: 'a whole day: every entry in a line, or one entry in full',
  usage: 'knurl day FOLDER [--entry ID] [--set "NAME = NUMBER UNIT"]…',
  details: [
    'FOLDER holds day.yaml and its logs; without a day.yaml one is proposed from the file names.',
    '',
    '  --entry ID         this entry in full',
    SET_HELP,
  ].join('\n'),
  examples: [
    'knurl day plateau',
    'knurl day plateau --entry 9',
    'knurl day plateau --set "boost-overshoot.pressure = 10 kPa" --set "health.coast.hold = 25 %"',
    'knurl day plateau --json > plateau.json',
  ],
  options: { entry: { type: 'string' }, set: THRESHOLD_OPTIONS.set },
  run: readDay,
};

async function readDay(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  const [folder] = asked.words;
  if (folder === undefined || asked.words.length > 1)
    return wrong('missing folder: name the folder of one day', surroundings);
  return withReport(asked, surroundings, async (report, desk, day) => {
    const style = { width: surroundings.width, system: unitSystem(asked) };
    const id = asked.text('entry');
    if (id === undefined) {
      const health = await desk.health(day, thresholdsOf(asked));
      if (!health.ok) return refuse(health.refusal, surroundings);
      const plain = () => ({
        ...report,
        entries: report.entries.map(plainEntry),
        health: encodeHealth(day, health.value),
      });
      surroundings.out(asked.flag('json') ? jsonText(plain()) : dayText(report, style, health.value));
      return codeOf(report.entries, health.value);
    }
    const entry = report.entries.find(({ facts }) => facts.id === id);
    if (!entry) {
      const known = report.entries.map(({ facts }) => facts.id).join(', ');
      return wrong(`unknown entry: ${id}, expected one of ${known}`, surroundings);
    }
    surroundings.out(asked.flag('json') ? jsonText(plainEntry(entry)) : `${entryText(entry, style)}\n\n${BANDS}`);
    return codeOf([entry]) || (entry.result?.refusal ? 1 : 0);
  });
}

/** The limits of `--set`; they were checked before the day was opened. */
function thresholdsOf(asked: Asked): { readonly thresholds: Readonly<Record<string, string>> } {
  const set = writtenThresholds(asked);
  return { thresholds: set.ok ? set.value : {} };
}

/** A log that could not be read before a stop, a stop before an open decision; what was left out by hand does not count. */
function codeOf(entries: readonly EntryReport[], health?: DayHealth): ExitCode {
  const counted = entries.filter(({ facts }) => facts.excluded === undefined);
  if (counted.some(({ unread = [] }) => unread.length > 0)) return 1;
  if (asksToStop(counted) || (health && healthStop(health, entries) !== undefined)) return 4;
  return entries.some(({ questions }) => questions.length > 0) ? 3 : 0;
}

/** Opens the folder that was named and hands its report on, what the folder itself told included; prints a refusal where there is one. */
export async function withReport(
  asked: Asked,
  surroundings: Surroundings,
  use: (report: DayReport, desk: Desk, day: string) => ExitCode | Promise<ExitCode>,
): Promise<ExitCode> {
  const set = writtenThresholds(asked);
  if (!set.ok) return refuseOrWrong(set.refusal, surroundings, 2);
  return withDesk(asked, surroundings, async (desk) => {
    const opened = await desk.openFolder(asked.words[0] ?? '.');
    if (!opened.ok) return refuse(opened.refusal, surroundings);
    const { id } = opened.value;
    const { done, ...progress } = work(surroundings);
    const report = await desk.report(id, { ...progress, thresholds: set.value });
    done();
    if (!report.ok) return refuse(report.refusal, surroundings);
    // The folder says of a missing log what the day says too, and more of why.
    const said = new Set(opened.findings.map(({ place }) => place?.file));
    const own = report.value.findings.filter(({ kind, place }) => kind !== 'log-not-there' || !said.has(place?.file));
    return use({ ...report.value, findings: [...opened.findings, ...own] }, desk, id);
  });
}
