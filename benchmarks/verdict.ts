import {
  checkHealth,
  decideMapping,
  proposeMapping,
  type Recording,
  readDelimited,
  toRecording,
} from '../day/channels/index.ts';
import { analyseDay } from '../day/reports/index.ts';
import { makePlateauDay } from '../scenarios/index.ts';
import { parseDayText } from '../shell/store/index.ts';

/** Milliseconds of one part, over the runs. */
export interface Part {
  readonly name: string;
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

/** What a person waits for after dropping two logs [ms]. @source our aim */
const AIM = 300;
const RUNS = 15;

/**
 * From the bytes of two logs of one pull to its verdict, part by part, in this process. The peer in the same run is a plain scan over
 * the same bytes: what any reader has to do at least.
 */
export function verdictBenchmark(runs = RUNS): readonly Part[] {
  const made = makePlateauDay({ seed: 1420, pulls: ['8', 'C3'] });
  const text = made.files.find(({ name }) => name === 'day.yaml');
  const day = parseDayText(new TextDecoder().decode(text?.bytes));
  if (!day.ok) throw new Error(day.refusal.message);
  const files = made.files.filter(({ name }) => name.startsWith('pull-08'));
  const entries = day.value.entries.filter(({ id }) => id === '8');
  const parts = new Map<string, number[]>();
  for (let run = -3; run < runs; run++) {
    const timed = <Value>(name: string, work: () => Value): Value => {
      const from = performance.now();
      const value = work();
      if (run >= 0) parts.set(name, [...(parts.get(name) ?? []), performance.now() - from]);
      return value;
    };
    timed('all of it', () => {
      const recordings = new Map<string, Recording>();
      for (const { name, bytes } of files) {
        const table = timed('bytes to columns', () => readDelimited({ bytes, file: name, source: name }));
        if (!table.ok) throw new Error(table.refusal.message);
        const { mapping } = timed('what the columns are', () => decideMapping(proposeMapping(table.value)));
        const recording = timed('channels in SI', () => toRecording({ table: table.value, mapping }));
        if (!recording.ok) throw new Error(recording.refusal.message);
        recordings.set(
          name,
          timed('channel health', () => checkHealth(recording.value)),
        );
      }
      const report = timed('clocks, cut, power', () =>
        analyseDay({ ...day.value, entries }, { recordings, questions: new Map(), findings: [] }),
      );
      if ((report.entries[0]?.result?.pulls.length ?? 0) !== 1) throw new Error('no verdict');
    });
    timed('plain scan of the bytes', () => files.reduce((sum, { bytes }) => sum + scanned(bytes), 0));
  }
  return [...parts].map(([name, times]) => partOf(name, times, runs));
}

/** Two files make two readings of a part in one run: they are added up. */
function partOf(name: string, times: readonly number[], runs: number): Part {
  const each = times.length / runs;
  const sums = Array.from({ length: runs }, (_, run) =>
    times.slice(run * each, (run + 1) * each).reduce((a, b) => a + b, 0),
  );
  sums.sort((a, b) => a - b);
  return { name, median: sums[runs >> 1] ?? 0, low: sums[0] ?? 0, high: sums[runs - 1] ?? 0 };
}

function scanned(bytes: Uint8Array): number {
  let lines = 0;
  for (let i = 0; i < bytes.length; i++) if (bytes[i] === 10) lines++;
  return lines;
}

/** The parts as text, with ratios to the aim and to the plain scan of the same run. */
export function verdictText(parts: readonly Part[]): string {
  const find = (name: string): number => parts.find((part) => part.name === name)?.median ?? Number.NaN;
  const lines = parts.map(
    ({ name, median, low, high }) =>
      `  ${name.padEnd(26)} ${median.toFixed(1).padStart(7)} ms  (${low.toFixed(1)}–${high.toFixed(1)})`,
  );
  return [
    'From two dropped logs to the verdict of one pull (51 columns at 100 Hz and 8 at 50 Hz, about 24 s):',
    ...lines,
    `  all of it against the aim of ${AIM} ms: ${(find('all of it') / AIM).toFixed(2)}`,
    `  all of it against a plain scan:   ${(find('all of it') / find('plain scan of the bytes')).toFixed(0)}`,
  ].join('\n');
}

if (import.meta.main) console.log(verdictText(verdictBenchmark()));
