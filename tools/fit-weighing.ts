import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { randomSource } from '../core/numerics/index.ts';
import { DETECTORS } from '../day/verdicts/detectors.ts';
import { brierScore, type Claim, calibrationError, reliability } from '../day/verdicts/weighing/calibration.ts';
import { claimsOf, learntModel } from '../day/verdicts/weighing/fitting/learn.ts';
import type { PullSample } from '../day/verdicts/weighing/fitting/samples.ts';
import type { WeighingModel } from '../day/verdicts/weighing/model.ts';
import { reliabilityDrawing } from './reliability-drawing.ts';

/**
 * Learns what the weighing of faults knows (day/verdicts/weighing/likelihoods.ts) from invented days, and draws how well its probabilities hold.
 *
 *     node tools/fit-weighing.ts [--anew] [--rounds N] [--kept]
 *
 * --anew: makes and reads every day again, as it has to be after a detector has changed; --rounds: how often each fault is asked for at each
 * strength, 2 unless told; --kept: takes the days as they are kept.
 */
const ROOT = join(import.meta.dirname, '..');
const SAMPLES = join(ROOT, 'node_modules', '.cache', 'verdicts', 'development.jsonl');
const TABLES = join(ROOT, 'day', 'verdicts', 'weighing', 'likelihoods.ts');
const DRAWING = join(ROOT, 'docs', 'physics', 'verdicts-reliability.svg');

if (import.meta.main) {
  if (!process.argv.includes('--kept')) collect(process.argv.slice(2));
  const pulls = readPulls(SAMPLES);
  const faults = DETECTORS.map(({ fault }) => fault);
  const held = heldOut(pulls, (some) => learntModel(some, faults));
  const model = learntModel(pulls, faults);
  writeFileSync(TABLES, tablesText(model, headerOf(pulls)));
  writeFileSync(DRAWING, reliabilityDrawing(reliability(held), reportOf(held)));
  process.stdout.write(`${headerOf(pulls).join('\n')}\nheld out: ${reportOf(held)}\n`);
}

function collect(options: readonly string[]): void {
  const script = join(ROOT, 'benchmarks', 'verdicts', 'collect.ts');
  const { status } = spawnSync(process.execPath, [script, ...options], { stdio: 'inherit' });
  if (status !== 0) process.exit(1);
}

/** Pulls of the kept days, in the order of the days, so that a fit does not depend on which worker was faster. */
function readPulls(file: string): readonly PullSample[] {
  const lines = readFileSync(file, 'utf8').split('\n').filter(Boolean);
  const days: { day: string; seed: number; pulls: PullSample[] }[] = lines.map((line) => JSON.parse(line));
  days.sort((one, other) => one.seed - other.seed || (one.day < other.day ? -1 : 1));
  return days.flatMap(({ pulls }) => pulls);
}

/** Claims about every pull by a model that was learnt from the other half of the seeds. */
function heldOut(
  pulls: readonly PullSample[],
  learn: (pulls: readonly PullSample[]) => WeighingModel,
): readonly Claim[] {
  return [0, 1].flatMap((half) => {
    const model = learn(pulls.filter(({ seed }) => seed % 2 !== half));
    return claimsOf(
      pulls.filter(({ seed }) => seed % 2 === half),
      model,
    );
  });
}

/** Scores with 95 % intervals over resampled claims. @source bootstrap percentile interval: Efron & Tibshirani 1993; 1 000 resamples: our default */
function reportOf(claims: readonly Claim[]): string {
  const random = randomSource(1);
  const scores = Array.from({ length: 1000 }, () => {
    const drawn = claims.map(() => claims[Math.floor(random.uniform() * claims.length)] ?? claims[0]);
    const known = drawn.filter((claim) => claim !== undefined);
    return { brier: brierScore(known), error: calibrationError(known) };
  });
  const interval = (values: readonly number[]): string => {
    const sorted = [...values].sort((a, b) => a - b);
    return `${(sorted[25] ?? Number.NaN).toFixed(3)}–${(sorted[974] ?? Number.NaN).toFixed(3)}`;
  };
  const brier = `${brierScore(claims).toFixed(3)} (${interval(scores.map((score) => score.brier))})`;
  const error = `${calibrationError(claims).toFixed(3)} (${interval(scores.map((score) => score.error))})`;
  return `${claims.length} claims, Brier ${brier}, calibration error ${error}`;
}

function headerOf(pulls: readonly PullSample[]): readonly string[] {
  const seeds = pulls.map(({ seed }) => seed);
  const days = new Set(pulls.map(({ day }) => day)).size;
  const faulty = pulls.filter(({ truths }) => truths.length > 0).length;
  const { version }: { version: string } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  return [
    `Written by tools/fit-weighing.ts of knurl ${version} on ${new Date().toISOString().slice(0, 10)}; not to be edited by hand.`,
    `Learnt from ${pulls.length} pulls (${faulty} with a fault) of ${days} invented days, seeds ${Math.min(...seeds)}–${Math.max(...seeds)}, ${DETECTORS.length} detectors.`,
  ];
}

/** The model as source text, an item to a line. */
function tablesText(model: WeighingModel, header: readonly string[]): string {
  const lines = (record: object): string =>
    Object.entries(record)
      .map(([key, value]) => `  ${quoted(key)}: ${literal(value)},`)
      .join('\n');
  const constant = (name: string, type: string, record: object): string =>
    `// biome-ignore format: a table, one row to a line\nconst ${name}: WeighingModel['${type}'] = {\n${lines(record)}\n};\n`;
  return [
    "import type { WeighingModel } from './model.ts';\n",
    ...header.map((line) => `// ${line}`),
    `\n${constant('PRIORS', 'priors', model.priors)}`,
    constant('TRUST', 'trust', model.trust),
    constant('EXPLAINS', 'explains', model.explains),
    constant('TWINS', 'twins', model.twins ?? {}),
    constant('GENERAL', 'general', model.general),
    constant('WEIGHTS', 'weights', model.weights),
    constant('CALIBRATION', 'calibration', model.calibration),
    '/** What was learnt from invented days. @source measured on invented days; see docs/physics/verdicts.md */',
    'export const LIKELIHOODS: WeighingModel = {',
    '  priors: PRIORS,\n  trust: TRUST,\n  explains: EXPLAINS,\n  twins: TWINS,\n  general: GENERAL,\n  weights: WEIGHTS,',
    `  shrinkage: ${literal(model.shrinkage)},\n  calibration: CALIBRATION,\n};\n`,
  ].join('\n');
}

function quoted(key: string): string {
  return /^[a-z]+$/.test(key) ? key : `'${key}'`;
}

function literal(value: unknown): string {
  if (typeof value === 'string') return `'${value}'`;
  if (Array.isArray(value)) return `[${value.map(literal).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return String(value);
  return `{ ${Object.entries(value)
    .map(([key, inner]) => `${quoted(key)}: ${literal(inner)}`)
    .join(', ')} }`;
}
