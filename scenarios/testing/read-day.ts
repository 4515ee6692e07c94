import type { Finding } from '../../core/quantities/index.ts';
import { matters, type Proposal, type Recording, readDelimited } from '../../day/channels/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { analyseDay, type DayLogs, type DayReport } from '../../day/reports/index.ts';
import { decidedTogether, type ReadTable, readTable, recordingOf } from '../../shell/desk/reading.ts';
import { parseDayText } from '../../shell/store/day-folder/parse.ts';
import type { MadeDay, MadeFile } from '../truth.ts';

/** A day of raw bytes as the program sees it, without any person deciding anything. */
export interface SeenDay {
  readonly facts: DayFacts;
  readonly logs: DayLogs;
  readonly report: DayReport;
}

/** The whole chain: bytes → tables → mappings decided together → recordings → report. Throws when `day.yaml` itself is refused. */
export function readDay(day: Pick<MadeDay, 'files'>): SeenDay {
  const facts = factsOf(day.files);
  const logs = logsOf(day.files, facts);
  return { facts, logs, report: analyseDay(facts, logs) };
}

function factsOf(files: readonly MadeFile[]): DayFacts {
  const file = files.find(({ name }) => name === 'day.yaml');
  const facts = parseDayText(new TextDecoder().decode(file?.bytes));
  if (!facts.ok) throw new Error(`day.yaml: ${facts.refusal.message}`);
  return facts.value;
}

/** The logs of a day as they are read without a person: what could be read, what waits for an answer. */
export function logsOf(files: readonly MadeFile[], facts: DayFacts): DayLogs {
  const reads = new Map<string, ReadTable>();
  const findings: Finding[] = [];
  for (const { name, bytes } of files) {
    if (name === 'day.yaml' || name === facts.parts?.compressorMap) continue;
    const table = readDelimited({ bytes, file: name, source: name });
    if (table.ok)
      reads.set(
        name,
        readTable(table.value, () => undefined),
      );
    else findings.push(notRead(name, table.refusal.message));
  }
  const recordings = new Map<string, Recording>();
  const questions = new Map<string, readonly Proposal[]>();
  for (const [name, read] of decidedTogether(reads, facts)) {
    const open = read.open.filter(matters);
    if (open.length > 0) questions.set(name, open);
    const recording = recordingOf(read);
    if (recording.ok) recordings.set(name, recording.value);
    else findings.push(notRead(name, recording.refusal.message));
  }
  return { recordings, questions, findings };
}

function notRead(file: string, message: string): Finding {
  return { kind: 'log-not-read', weight: 'fault', message: `${file} could not be read: ${message}`, place: { file } };
}
