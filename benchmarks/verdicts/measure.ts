import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { randomSource } from '../../core/numerics/index.ts';
import { brierScore, calibrationError } from '../../day/verdicts/weighing/calibration.ts';
import { LIKELIHOODS } from '../../day/verdicts/weighing/likelihoods.ts';
import { collected } from './collect.ts';
import { eachJobs } from './each.ts';
import { drawnJobs } from './jobs.ts';
import { type Score, scored } from './score.ts';
import { DEVELOPMENT, FINAL } from './sets.ts';
import { type StopScore, stopLines, stopScore } from './stops.ts';

/**
 * How well faults are found and told apart on invented days that were drawn from their seeds.
 *
 *     node benchmarks/verdicts/measure.ts [FIRST LAST] [--anew] [--final] [--each] [--write]
 *
 * FIRST LAST: range of seeds, the development seeds unless told. --anew: judges every day again, as it has to be after a detector has changed; without it a
 * run that was broken off goes on. --final: the final set, kept apart from the set that anything was learnt from. --each: on each
 * engine FIRST … LAST one fault at ×1 or ×2, every fault as often as any other, in place of what a day draws. --write: puts the tables
 * into docs/physics/verdicts.md, between the marks of the set.
 */
const PAGE = join(import.meta.dirname, '..', '..', 'docs', 'physics', 'verdicts.md');
if (import.meta.main) {
  const flags = process.argv.slice(2).filter((word) => word.startsWith('--'));
  const numbers = process.argv.slice(2).map(Number).filter(Number.isFinite);
  const final = flags.includes('--final');
  const usual = final ? FINAL : DEVELOPMENT;
  const [first = usual.first, last = usual.last] = numbers;
  if (last >= FINAL.first && !final) throw new Error(`seeds from ${FINAL.first} on are kept apart: ask with --final`);
  const each = flags.includes('--each');
  const set = final ? 'final' : each ? 'each' : 'development';
  const days = await collected((each ? eachJobs : drawnJobs)(first, last), { set, anew: flags.includes('--anew') });
  const pulls = days.flatMap((day) => day.pulls);
  const text = [
    `Seeds ${first}–${last}: ${days.length} days, ${days.filter(({ error }) => error !== undefined).length} of them failed, ${pulls.length} pulls read, ${days.flatMap(({ unread }) => unread).length} entries gave no pull.`,
    '',
    ...tables(scored(pulls, LIKELIHOODS), stopScore(pulls, LIKELIHOODS)),
    ...unreadLine(days.flatMap(({ unread }) => unread.flatMap(({ faults }) => faults))),
  ].join('\n');
  process.stdout.write(`${text}\n`);
  if (flags.includes('--write')) write(set, text);
}

/** A score as Markdown tables. */
export function tables(score: Score, stops: StopScore): readonly string[] {
  const strengths = [...new Set(score.faults.flatMap((one) => one.strengths.map(({ strength }) => strength)))].sort(
    (a, b) => a - b,
  );
  const percent = (share: number): string => (Number.isFinite(share) ? `${(100 * share).toFixed(1)} %` : '–');
  const rows = score.faults.map((one) => {
    const cells = strengths.map((strength) => {
      const at = one.strengths.find((each) => each.strength === strength);
      return at ? `${at.hits}/${at.of}` : '–';
    });
    return `| ${one.fault} | ${cells.join(' | ')} | ${one.blind} | ${one.untold} | ${one.wrong} | ${percent(one.precision)} | ${percent(one.recall)} | ${percent(one.led)} | ${percent(one.f1)} |`;
  });
  const { micro, falseAlarms, windows, weighing } = score;
  return [
    `| fault | ${strengths.map((strength) => `×${strength}`).join(' | ')} | blind | cannot tell | wrong | precision | recall ≥ ×1 | led ≥ ×1 | F1 |`,
    `|---|${strengths.map(() => '---|').join('')}---|---|---|---|---|---|---|`,
    ...rows,
    '',
    `All faults together: precision ${percent(micro.precision)}, recall at ×1 and above ${percent(micro.recall)}, F1 ${percent(micro.f1)}; first cause of an occurrence, believed or not: ${percent(micro.led)}.`,
    `Wrong claims: ${(['clean', 'decoy', 'faulty'] as const)
      .map((kind) => {
        const { pulls, alarms, low, high } = falseAlarms[kind];
        return `${alarms} in ${pulls} ${kind} pulls (share of pulls with one: ${percent(low)} to ${percent(high)}, 95 %)`;
      })
      .join('; ')}.`,
    ...stopLines(stops),
    `Window ends of hits: middle error ${windows.middle.toFixed(2)} s, nine of ten within ${windows.most.toFixed(2)} s.`,
    `Probabilities: ${score.claims.length} claims, Brier score ${brierText(score)}.`,
    `Weighing one pull: ${weighing.middle.toFixed(2)} ms in the middle, ${weighing.most.toFixed(1)} ms in one of a hundred.`,
    '',
    'Injected (×1 and above, channels present) against what led:',
    '',
    ...[...score.confusion]
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(
        ([fault, row]) =>
          `- ${fault}: ${[...row]
            .sort((one, other) => other[1] - one[1])
            .map(([told, count]) => `${told} ${count}`)
            .join(', ')}`,
      ),
  ];
}

/** Scores with 95 % intervals over resampled pulls' claims. @source bootstrap percentile interval: Efron & Tibshirani 1993 */
function brierText({ claims, brier, calibrationError: error }: Score): string {
  const random = randomSource(1);
  const draws = Array.from({ length: 400 }, () => {
    const drawn = claims.map(() => claims[Math.floor(random.uniform() * claims.length)]);
    return { brier: brierScore(drawn), error: calibrationError(drawn) };
  });
  const range = (values: readonly number[]): string => {
    const sorted = [...values].sort((a, b) => a - b);
    return `${sorted[10].toFixed(3)}–${sorted[389].toFixed(3)}`;
  };
  return `${brier.toFixed(3)} (${range(draws.map((draw) => draw.brier))}), expected calibration error ${error.toFixed(3)} (${range(draws.map((draw) => draw.error))})`;
}

function unreadLine(faults: readonly string[]): readonly string[] {
  return faults.length > 0 ? ['', `Faults in entries that gave no pull: ${faults.join(', ')}.`] : [];
}

/** Puts a text between the marks of a set; everything else on the page stays. */
function write(set: string, text: string): void {
  const [from, to] = [`<!-- measured: ${set} -->`, `<!-- end: ${set} -->`];
  const page = existsSync(PAGE) ? readFileSync(PAGE, 'utf8') : '';
  if (!page.includes(from) || !page.includes(to)) throw new Error(`${PAGE} has no marks for ${set}`);
  const before = page.slice(0, page.indexOf(from) + from.length);
  writeFileSync(PAGE, `${before}\n\n${text}\n\n${page.slice(page.indexOf(to))}`);
}
