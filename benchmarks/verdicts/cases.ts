import { existsSync } from 'node:fs';
import { type Detection, dayVerdicts, type Feature } from '../../day/verdicts/index.ts';
import type { PullSample } from '../../day/verdicts/weighing/fitting/samples.ts';
import { LIKELIHOODS } from '../../day/verdicts/weighing/likelihoods.ts';
import { readSamples, samplesFile } from './collect.ts';
import { developmentJobs, type Job, nameOf } from './jobs.ts';
import { readDayOf } from './read-days.ts';
import { daySamples, type MeasuredPull } from './samples.ts';
import { claimedIn, isRight } from './score.ts';

/**
 * How the cases of a fault on the development days are answered, one line each, with the numbers that decided: for whoever works on its detector.
 *
 *     node benchmarks/verdicts/cases.ts FAULT [--wrong] [--kept] [--days N]
 *
 * Which days hold the fault is known from the kept samples (collect.ts); those days are made and read again with the code as it stands. --wrong: the
 * days on which the kept samples claim it and it was not there. --kept: only what is kept, without features. --days: no more than so many.
 */
if (import.meta.main) {
  const words = process.argv.slice(2);
  const fault = words[0];
  const file = samplesFile('development');
  if (fault === undefined || !existsSync(file)) throw new Error('say a fault; first run collect.ts');
  const wrong = words.includes('--wrong');
  const most = words.includes('--days') ? Number(words[words.indexOf('--days') + 1]) : Number.POSITIVE_INFINITY;
  const days = readSamples(file);
  const wanted = days
    .filter(({ pulls }) => pulls.some((pull) => (wrong ? isWrong(pull, fault) : holds(pull, fault))))
    .slice(0, most);
  const jobs = new Map(developmentJobs(2).map((job) => [nameOf(job), job]));
  for (const day of wanted) {
    const job = jobs.get(day.day);
    const pulls = day.pulls.filter((pull) => (wrong ? isWrong(pull, fault) : holds(pull, fault)));
    if (words.includes('--kept')) for (const pull of pulls) process.stdout.write(`${keptLine(pull, fault)}\n`);
    else if (job)
      for (const line of madeLines(job, fault, new Set(pulls.map(({ pull }) => pull))))
        process.stdout.write(`${line}\n`);
  }
}

function holds(pull: PullSample, fault: string): boolean {
  return pull.truths.some((truth) => truth.fault === fault);
}

function isWrong(pull: MeasuredPull, fault: string): boolean {
  return claimedIn(pull, LIKELIHOODS).some((claim) => claim.fault === fault && !isRight(claim, pull));
}

function keptLine(pull: MeasuredPull, fault: string): string {
  const said = pull.said.find((one) => one.fault === fault);
  const truths = pull.truths.map((one) => `${one.fault}×${one.strength.toFixed(2)} ${span(one)}`).join(' ');
  const blind = pull.blind.some((one) => one === fault) ? ' blind' : '';
  const claims = claimedIn(pull, LIKELIHOODS).map((one) => `${one.fault} ${one.probability.toFixed(2)}`);
  return `${pull.pull} | ${truths} ${pull.decoys.join(' ')} | ${said?.answer}${blind} ${said?.strength.toFixed(2)} ${(said?.windows ?? []).map(span).join(' ')} | claims ${claims.join(', ')}`;
}

function madeLines(job: Job, fault: string, pulls: ReadonlySet<string>): readonly string[] {
  const day = readDayOf(job);
  const verdicts = dayVerdicts(day.input);
  const samples = daySamples(nameOf(job), day);
  return samples.pulls
    .filter(({ pull }) => pulls.has(pull))
    .flatMap((pull) => {
      const entry = pull.pull.split(' ').at(-1);
      const one = verdicts.pulls.find((each) => each.entry === entry)?.detections.find((each) => each.fault === fault);
      const truth = day.truth.entries.find(({ id }) => id === entry);
      const sizes = truth?.faults.map(({ kind, size }) => `${kind} ${JSON.stringify(size, rounded)}`).join(' ');
      return [
        keptLine(pull, fault),
        `    truth ${sizes}`,
        `    ${one === undefined ? 'no detection' : detectionText(one)}`,
      ];
    });
}

function detectionText({ answer, why, missing, features }: Detection): string {
  return `${answer}${why === undefined ? '' : `: ${why}`} ${missing.join(',')} ${features.map(featureText).join(' ')}`;
}

function featureText({ name, value, threshold }: Feature): string {
  return `${name}=${value.toPrecision(4)}${threshold === undefined ? '' : `/${threshold.toPrecision(3)}`}`;
}

function span({ from, to }: { readonly from: number; readonly to: number }): string {
  return `[${from.toFixed(2)}–${to.toFixed(2)}]`;
}

function rounded(_: string, value: unknown): unknown {
  return typeof value === 'number' ? Number(value.toPrecision(3)) : value;
}
