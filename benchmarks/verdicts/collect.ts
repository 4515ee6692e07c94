import { appendFileSync, existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { developmentJobs, type Job, nameOf } from './jobs.ts';
import type { DaySamples } from './samples.ts';

const WORKERS = 2;
/** How often every fault is asked for at every strength, each time on another engine. */
const ROUNDS = 2;
const ROOT = join(import.meta.dirname, '..', '..');

/** File of the samples of one set of days, kept between runs. */
export function samplesFile(set: string): string {
  return join(ROOT, 'node_modules', '.cache', 'verdicts', `${set}.jsonl`);
}

/**
 * Samples of all jobs, in any order. What an earlier run had finished is taken from the set's file, so that a run that was broken off goes
 * on; with `anew` everything is made again, as it has to be when a detector has changed.
 */
export async function collected(
  jobs: readonly Job[],
  { set, anew }: { readonly set: string; readonly anew: boolean },
): Promise<readonly DaySamples[]> {
  const file = samplesFile(set);
  mkdirSync(dirname(file), { recursive: true });
  if (anew) rmSync(file, { force: true });
  const before = existsSync(file) ? readSamples(file) : [];
  const done = new Set(before.map(({ day }) => day));
  const open = jobs.filter((job) => !done.has(nameOf(job)));
  const wanted = new Set(jobs.map(nameOf));
  if (open.length > 0) await run(open, file);
  return (open.length > 0 ? readSamples(file) : before).filter(({ day }) => wanted.has(day));
}

/** Lines of a set's file; a last line that was cut off is dropped. */
export function readSamples(file: string): readonly DaySamples[] {
  return readFileSync(file, 'utf8')
    .split('\n')
    .flatMap((line) => {
      try {
        const day: DaySamples = JSON.parse(line);
        return [day];
      } catch {
        return [];
      }
    });
}

/** Runs jobs on the workers; each finished day is written at once. */
async function run(open: readonly Job[], file: string): Promise<void> {
  const queue = [...open];
  const began = performance.now();
  let finished = 0;
  const one = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const worker = new Worker(join(import.meta.dirname, 'worker.ts'));
      const next = (): void => {
        const job = queue.shift();
        if (job) worker.postMessage(job);
        else worker.terminate().then(() => resolve(), reject);
      };
      worker.on('message', (day: DaySamples) => {
        appendFileSync(file, `${JSON.stringify(day)}\n`);
        finished += 1;
        const left = ((performance.now() - began) / finished) * (open.length - finished);
        if (finished % 10 === 0 || day.error !== undefined)
          process.stderr.write(
            `${finished}/${open.length} days, about ${(left / 60_000).toFixed(1)} min left${day.error === undefined ? '' : `; ${day.day}: ${day.error}`}\n`,
          );
        next();
      });
      worker.on('error', reject);
      next();
    });
  await Promise.all(Array.from({ length: WORKERS }, one));
}

/** node benchmarks/verdicts/collect.ts [--anew] [--rounds N]: the days to learn from; N: how often each fault is asked for at each strength, 2 unless told. */
if (import.meta.main) {
  const at = process.argv.indexOf('--rounds');
  const rounds = at < 0 ? ROUNDS : Number(process.argv[at + 1]);
  if (!Number.isInteger(rounds) || rounds < 0)
    throw new Error(`invalid --rounds: ${process.argv[at + 1]}, expected a whole number`);
  const days = await collected(developmentJobs(rounds), {
    set: 'development',
    anew: process.argv.includes('--anew'),
  });
  process.stderr.write(`${days.length} days in ${samplesFile('development')}\n`);
}
