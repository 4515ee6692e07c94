import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { jsonText } from '../plain-json.ts';
import { work } from '../progress.ts';
import { reportHtml } from '../report/report-html.ts';
import { dayText } from '../text/day-text.ts';
import { refusalText } from '../text/findings.ts';
import { unitSystem } from '../units-option.ts';
import { withDesk } from '../with-desk.ts';
import { written } from '../write-out.ts';

export const reportCommand: Command = {
  name: 'report',
  summary: 'a day as one file that stands alone',
  usage: 'knurl report FOLDER [--out FILE.html|.txt|.json]',
  details: ['  --out FILE         where it goes: .html (default), .txt or .json; `-` prints HTML'].join('\n'),
  examples: ['knurl report plateau', 'knurl report plateau --out plateau.html --units imperial'],
  options: { out: { type: 'string' } },
  run: writeReport,
};

async function writeReport(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  const [folder] = asked.words;
  if (folder === undefined || asked.words.length > 1) {
    surroundings.err('missing folder: name the folder of one day\n');
    return 2;
  }
  const out = asked.text('out') ?? 'report.html';
  return withDesk(asked, surroundings, async (desk) => {
    const opened = await desk.openFolder(folder);
    const progress = work(surroundings);
    const report = opened.ok ? await desk.report(opened.value.id, progress) : opened;
    progress.done();
    const files = opened.ok ? desk.files(opened.value.id) : opened;
    if (!report.ok || !files.ok) {
      surroundings.err(`${refusalText(report.ok ? (files.ok ? NOTHING : files.refusal) : report.refusal)}\n`);
      return 1;
    }
    const system = unitSystem(asked);
    const text =
      asked.flag('json') || out.endsWith('.json')
        ? jsonText(report.value)
        : out.endsWith('.txt')
          ? dayText(report.value, { width: 100, system })
          : reportHtml(report.value, {
              files: files.value,
              system,
              at: surroundings.now().slice(0, 16).replace('T', ' '),
            });
    if (out === '-') {
      surroundings.out(text);
      return 0;
    }
    const done = await written(out, text);
    surroundings.err(done.ok ? `wrote ${out}\n` : `${refusalText(done.refusal)}\n`);
    return done.ok ? 0 : 1;
  });
}

const NOTHING = { kind: 'none', message: '' };
