import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { DayVerdictsInput } from '../../day/verdicts/day-verdicts.ts';
import type { DayTruth } from '../../scenarios/index.ts';
import { type Job, madeDay, nameOf } from './jobs.ts';
import { readOf } from './seen-day.ts';

/** A day before its verdicts, and what was true of it. */
export interface ReadDay {
  readonly input: DayVerdictsInput;
  readonly truth: DayTruth;
}

const ROOT = join(import.meta.dirname, '..', '..');
/**
 * Everything that a day depends on before its verdicts: when a byte of it changes, kept days are made and read again. Of physics, only air and rolls stand
 * between a log and its power.
 */
const SOURCES = [
  'core/quantities',
  'core/numerics',
  'core/physics/air',
  'core/physics/rolls',
  'day/channels',
  'day/pulls',
  'day/reports/analyse-day.ts',
  'scenarios',
  'shell/desk/reading.ts',
  'shell/store/day-folder',
  'benchmarks/verdicts/jobs.ts',
  'benchmarks/verdicts/seen-day.ts',
] as const;

const folder = join(ROOT, 'node_modules', '.cache', 'verdicts', `days-${fingerprint()}`);

/** The day of a job as it is kept, or made, read and kept: making and reading takes about nine tenths of the time, and a changed detector changes neither. */
export function readDayOf(job: Job): ReadDay {
  const file = join(folder, `${nameOf(job).replaceAll(/[^\w.@+-]/g, '_')}.bin`);
  if (existsSync(file)) return deserialize(readFileSync(file));
  const made = madeDay(job);
  const day: ReadDay = { input: readOf(made), truth: made.truth };
  mkdirSync(folder, { recursive: true });
  writeFileSync(`${file}.${process.pid}`, serialize(day));
  renameSync(`${file}.${process.pid}`, file);
  return day;
}

function fingerprint(): string {
  const hash = createHash('sha256').update(process.version);
  for (const file of SOURCES.flatMap((source) => filesOf(source)))
    hash.update(file).update(readFileSync(join(ROOT, file)));
  return hash.digest('hex').slice(0, 16);
}

/** Source files below a path, tests left out, in the order of their names. */
function filesOf(path: string): readonly string[] {
  if (!statSync(join(ROOT, path)).isDirectory()) return [path];
  return readdirSync(join(ROOT, path), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts'))
    .sort()
    .map((name) => join(path, name));
}
