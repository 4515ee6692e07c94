import { loadavg } from 'node:os';
import { dayClockSteps, type OpenEntry, type StepMemory } from '../day/pulls/index.ts';
import { judgingSteps, openedEntry, resultsOf, withVerdicts } from '../day/reports/index.ts';
import { verdictSteps } from '../day/verdicts/index.ts';
import { makePlateauDay, makeVirtualDay } from '../scenarios/index.ts';
import { readDay } from '../scenarios/testing/read-day.ts';
import { KeptSteps } from '../shell/desk/kept-steps.ts';

/** The last log of a day arrives: what it takes to judge the day again when nothing of the earlier entries was kept, and when it was. */

const RUNS = 5;
const SEED = 1420;

type Day = ReturnType<typeof readDay>;

interface Judged {
  /** Processor time [ms]. */
  readonly took: number;
  /** Longest piece between two chances for others [ms of processor time]. */
  readonly longest: number;
  readonly text: string;
}

function now(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** From opened entries to verdicts; `memory` keeps what it was worked out from. */
function judged({ facts, logs }: Day, opened: ReadonlyMap<string, OpenEntry | undefined>, memory?: StepMemory): Judged {
  const from = now();
  let longest = 0;
  const drained = <Value>(steps: Generator<unknown, Value>): Value => {
    for (;;) {
      const before = now();
      const step = steps.next();
      longest = Math.max(longest, now() - before);
      if (step.done) return step.value;
    }
  };
  const rated = drained(dayClockSteps(opened, memory));
  const report = drained(judgingSteps(facts, logs, { rated, memory }));
  const verdicts = drained(verdictSteps({ facts, rated, results: resultsOf(report), memory }));
  const told = withVerdicts(report, verdicts);
  return { took: now() - from, longest, text: JSON.stringify(told) };
}

function measure(name: string, day: Day): void {
  const { facts, logs } = day;
  const last = facts.entries.findLastIndex(({ kind, files }) => kind === 'pull' && files.length > 0);
  const whole = { ...day, facts: { ...facts, entries: facts.entries.slice(0, last + 1) } };
  const before = { ...day, facts: { ...facts, entries: facts.entries.slice(0, last) } };
  const opened = new Map(whole.facts.entries.map((entry) => [entry.id, openedEntry(entry, facts, logs)]));
  const earlier = new Map([...opened].slice(0, last));
  const [anew, kept]: [Judged[], Judged[]] = [[], []];
  for (let run = 0; run < RUNS; run++) {
    const memory = new KeptSteps();
    judged(before, earlier, memory);
    kept.push(judged(whole, opened, memory));
    anew.push(judged(whole, opened));
    if (kept[run]?.text !== anew[run]?.text) throw new Error('what was kept is not what is worked out anew');
  }
  const least = (all: readonly Judged[], of: 'took' | 'longest'): number => Math.min(...all.map((one) => one[of]));
  const pulls = whole.facts.entries.filter(({ kind }) => kind === 'pull').length;
  console.log(`${name}, pull ${pulls} arrives; processor time, least of ${RUNS}:`);
  console.log(
    `  all judged anew ${least(anew, 'took').toFixed(0)} ms, longest piece ${least(anew, 'longest').toFixed(0)} ms`,
  );
  console.log(
    `  earlier kept    ${least(kept, 'took').toFixed(0)} ms, longest piece ${least(kept, 'longest').toFixed(0)} ms`,
  );
  console.log(
    `  anew against kept: ${(least(anew, 'took') / least(kept, 'took')).toFixed(1)}; the same to the bit in every run`,
  );
}

measure('demonstration day', readDay(makePlateauDay({ seed: SEED })));
measure('virtual day of 8 pulls', readDay(makeVirtualDay({ seed: 41, pulls: 8, level: 'rich' })));
console.log(`others on the machine: load ${loadavg()[0]?.toFixed(1)}`);
