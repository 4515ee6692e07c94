import type { PullResult } from '../../day/pulls/index.ts';
import { type EntryTruth, type MadeDay, type SimpleOptions, truthAt } from '../index.ts';
import { chanceOf } from '../random.ts';
import { claimAt, POWERS, SHARES } from './coverage.ts';
import type { SeenDay } from './read-day.ts';

const MISSING = [
  [],
  [],
  ['force'],
  ['rpm'],
  ['throttle'],
  ['map', 'lambda'],
  ['temperature', 'pressure', 'humidity'],
  ['vehicle.tyre radius'],
  ['vehicle.overall ratio', 'vehicle.wheel inertia', 'vehicle.torque loss'],
  ['vehicle.transmission'],
  ['roller.equivalent mass'],
  ['roller.kind'],
  ['roller.force calibration', 'roller.force zero', 'roller.speed calibration'],
  ['brake'],
] as const;

/** A simple day of some kind, drawn from its number: roller, units, dialect, rates, one file or two, and what is missing. */
export function otherDay(seed: number): SimpleOptions {
  const chance = chanceOf(seed, 'other day');
  const rate = (): number => chance.pick([10, 20, 50, 100, 200]);
  return {
    seed,
    roller: chance.pick(['brake', 'inertia', 'combined'] as const),
    units: chance.pick(['metric', 'imperial'] as const),
    dialect: chance.pick(['comma', 'semicolon', 'tab', 'utf-16'] as const),
    rates: { roller: rate(), engine: rate() },
    oneFile: chance.uniform() < 0.5,
    missing: chance.pick(MISSING),
    pulls: 1,
    instruments: 'drawn',
  };
}

/**
 * What the report made of one pull. right: every claim within 3 % or three of its uncertainties. asked: a question that matters waits.
 * refused: no answer, with a reason. wrong: a claim outside both. silent: neither claim nor reason.
 */
export interface Verdict {
  readonly entry: string;
  readonly verdict: 'right' | 'asked' | 'refused' | 'wrong' | 'silent';
  readonly detail: string;
}

/** Limits of a wrong claim: relative error [1]; error in standard uncertainties; and the band, in them too, that excuses a large error. */
const WRONG = { share: 0.03, spreads: 3, band: 2.5 } as const;

export function verdictsOf(day: MadeDay, seen: SeenDay): Verdict[] {
  return day.truth.entries.flatMap((truth) => (truth.kind === 'pull' ? [verdictOf(truth, seen)] : []));
}

function verdictOf(truth: EntryTruth, seen: SeenDay): Verdict {
  const entry = seen.report.entries.find(({ facts }) => facts.id === truth.id);
  const verdict = (name: Verdict['verdict'], detail: string): Verdict => ({
    entry: truth.id,
    verdict: name,
    detail,
  });
  const pulls = entry?.result?.pulls ?? [];
  const claims = pulls.flatMap((pull) => claimsWithErrors(pull, truth));
  const wrong = claims.filter(({ error, spread }) => isWrong(error, spread));
  const shown = wrong.map(({ what, error, spread }) => `${what} ${percent(error)} (u ${percent(spread)})`);
  if (wrong.length > 0) return verdict('wrong', shown.join(', '));
  if (claims.length > 0) return verdict('right', `${claims.length} claims`);
  if (entry && entry.questions.length > 0) return verdict('asked', questionText(seen));
  const refusal = entry?.result?.refusal ?? pulls[0]?.refusal;
  if (refusal) return verdict('refused', refusal.message);
  const said = entry?.result?.findings.filter(({ weight }) => weight !== 'note') ?? seen.logs.findings;
  return said.length > 0 && pulls.length === 0
    ? verdict('refused', said.map(({ message }) => message).join('; '))
    : verdict('silent', `${entry?.sentence} ${pulls[0]?.curve.missing.join('; ') ?? ''}`);
}

/** Outside three of its uncertainties; or by more than 3 % without a band that would say so. */
function isWrong(error: number, spread: number): boolean {
  return Math.abs(error) > WRONG.spreads * spread || Math.abs(error) > Math.max(WRONG.share, WRONG.band * spread);
}

function claimsWithErrors(
  { curve, refusal, peaks }: PullResult,
  truth: EntryTruth,
): { what: string; error: number; spread: number }[] {
  if (refusal) return [];
  const top = Math.max(...truth.curve.engineSpeed);
  const column = { roll: 'rollPower', wheel: 'tyrePower', engine: 'enginePower' } as const;
  const atSpeeds = SHARES.flatMap((share) =>
    POWERS.flatMap((power) => {
      const found = claimAt(curve, power, share * top);
      const real = truthAt(truth.curve, column[power], share * top);
      if (!found || !Number.isFinite(real)) return [];
      return [{ what: `${power} at ${share}`, error: found.value / real - 1, spread: found.spread / real }];
    }),
  );
  const best = peaks.find(({ what, basis }) => what === 'roll power' && basis === 'curve');
  const there = truthAt(truth.curve, 'rollPower', best?.engineSpeed ?? Number.NaN);
  const real = Number.isFinite(there) ? there : Math.max(...truth.curve.rollPower);
  return best
    ? [...atSpeeds, { what: 'peak roll', error: best.value / real - 1, spread: best.standardUncertainty / real }]
    : atSpeeds;
}

function questionText({ logs }: SeenDay): string {
  return [...logs.questions]
    .map(([file, open]) => `${file}: ${open.map(({ column }) => column).join(', ')}`)
    .join('; ');
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
