import { dayClockSteps, type OpenEntry } from '../day/pulls/index.ts';
import { judgingSteps, openedEntry, resultsOf } from '../day/reports/index.ts';
import { verdictSteps } from '../day/verdicts/index.ts';
import { makePlateauDay } from '../scenarios/index.ts';
import { readDay } from '../scenarios/testing/read-day.ts';
import { KeptSteps } from '../shell/desk/kept-steps.ts';

/**
 * What the kept steps of a day hold in memory: heap and array buffers after a full collection, with them and without.
 *
 *     node --expose-gc benchmarks/kept-memory.ts
 *
 * The day grows log by log, as on a real one; then every fact changes often enough to fill the memory to its bound.
 */
const SEED = 1420;
const day = readDay(makePlateauDay({ seed: SEED }));

type Day = typeof day;
type Opened = ReadonlyMap<string, OpenEntry | undefined>;

function drained<Value>(steps: Generator<unknown, Value>): Value {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** Nothing of the answer stays, only what the memory keeps. */
function judge({ facts, logs }: Day, opened: Opened, memory: KeptSteps): void {
  const rated = drained(dayClockSteps(opened, memory));
  const report = drained(judgingSteps(facts, logs, { rated, memory }));
  drained(verdictSteps({ facts, rated, results: resultsOf(report), memory }));
}

/** Heap and array buffers in use after a full collection [MB]. */
function inUse(): number {
  globalThis.gc?.();
  globalThis.gc?.();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return (heapUsed + arrayBuffers) / 1e6;
}

function upTo(count: number): Day {
  return { ...day, facts: { ...day.facts, entries: day.facts.entries.slice(0, count) } };
}

if (!globalThis.gc) throw new Error('start with --expose-gc');
const opened = new Map(day.facts.entries.map((entry) => [entry.id, openedEntry(entry, day.facts, day.logs)]));
const before = inUse();
let memory = new KeptSteps();
const rows: string[] = [];
const total = day.facts.entries.length;
for (let count = 1; count <= total; count++) {
  judge(upTo(count), new Map([...opened].slice(0, count)), memory);
  if (count % 12 === 0 || count === total)
    rows.push(`${count} entries: ${memory.size} kept, ${(inUse() - before).toFixed(0)} MB`);
}
console.log(`opened day without kept steps: ${before.toFixed(0)} MB in use`);
for (const row of rows) console.log(`  grown to ${row}`);
for (let change = 1; change <= Number(process.argv[2] ?? 4); change++) {
  const tyre = day.facts.vehicle?.tyreRadius;
  const vehicle = {
    ...day.facts.vehicle,
    ...(tyre ? { tyreRadius: { ...tyre, value: tyre.value + 1e-4 * change } } : {}),
  };
  const facts = { ...day.facts, vehicle };
  const again = new Map(facts.entries.map((entry) => [entry.id, openedEntry(entry, facts, day.logs)]));
  judge({ ...day, facts }, again, memory);
  console.log(`  tyre changed ${change} times: ${memory.size} kept, ${(inUse() - before).toFixed(0)} MB`);
}
memory = new KeptSteps();
console.log(`thrown away: ${(inUse() - before).toFixed(0)} MB`);
