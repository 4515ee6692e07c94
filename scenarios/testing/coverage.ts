import type { PowerCurve, PullResult } from '../../day/pulls/index.ts';
import { type EntryTruth, type MadeDay, truthAt } from '../index.ts';
import type { SeenDay } from './read-day.ts';

export const POWERS = ['roll', 'wheel', 'engine'] as const;
export type PowerName = (typeof POWERS)[number];

/** One claimed value against the truth: error and stated standard uncertainty, both relative to the truth [1]. */
export interface Claim {
  readonly kind: string;
  readonly seed: number;
  readonly entry: string;
  readonly power: PowerName;
  /** Engine speed as a share of the highest in the pull [1]. */
  readonly share: number;
  readonly error: number;
  readonly spread: number;
}

/** Share of the claims whose value ± 1.96 u contains the truth, and the root mean square of error/u: 1 where u is right. */
export interface Coverage {
  readonly claims: number;
  readonly days: number;
  readonly covered: number;
  readonly rootMeanSquare: number;
  readonly meanError: number;
  readonly meanSpread: number;
}

/** Engine speeds at which a pull is asked, as shares of its highest. */
export const SHARES = [0.5, 0.6, 0.7, 0.8, 0.9];

/** Every power that the report claims at some speeds of every pull, against the truth. Speeds inside a fault's window are left out. */
export function claimsOf(day: MadeDay, seen: SeenDay, kind: string): Claim[] {
  return day.truth.entries.flatMap((truth) => {
    if (truth.kind !== 'pull') return [];
    const pulls = seen.report.entries.find(({ facts }) => facts.id === truth.id)?.result?.pulls ?? [];
    return pulls
      .filter(({ refusal }) => !refusal)
      .flatMap((pull) => pullClaims({ kind, seed: day.truth.seed }, truth, pull));
  });
}

function pullClaims(of: Pick<Claim, 'kind' | 'seed'>, truth: EntryTruth, { curve }: PullResult): Claim[] {
  const top = Math.max(...truth.curve.engineSpeed);
  return SHARES.flatMap((share) => {
    const speed = share * top;
    if (truth.faults.some(({ fromSpeed, toSpeed }) => fromSpeed <= speed && speed <= toSpeed)) return [];
    return POWERS.flatMap((power) => {
      const found = claimAt(curve, power, speed);
      const real = truthAt(truth.curve, TRUE_COLUMN[power], speed);
      if (!found || !Number.isFinite(real)) return [];
      return [{ ...of, entry: truth.id, power, share, error: found.value / real - 1, spread: found.spread / real }];
    });
  });
}

const TRUE_COLUMN = { roll: 'rollPower', wheel: 'tyrePower', engine: 'enginePower' } as const;

/** Relative standard uncertainty beyond which a point is no claim: the program itself says that power changes too fast there [1]. */
const TOO_WIDE = 0.08;

/** Value and standard uncertainty of a curve at an engine speed, linear between its points; undefined where it claims nothing. */
export function claimAt(
  curve: PowerCurve,
  power: PowerName,
  engineSpeed: number,
): { value: number; spread: number } | undefined {
  const column = { roll: curve.rollPower, wheel: curve.tyrePower, engine: curve.enginePower }[power];
  const spreads = {
    roll: curve.rollPowerUncertainty,
    wheel: curve.tyrePowerUncertainty,
    engine: curve.enginePowerUncertainty,
  }[power];
  for (let i = 1; i < column.length; i++) {
    const [low, high] = [curve.engineSpeed[i - 1], curve.engineSpeed[i]];
    if (!(low <= engineSpeed && engineSpeed < high) || curve.valid[i - 1] !== 1 || curve.valid[i] !== 1) continue;
    const part = (engineSpeed - low) / (high - low);
    const value = column[i - 1] + part * (column[i] - column[i - 1]);
    const spread = spreads[i - 1] + part * (spreads[i] - spreads[i - 1]);
    if (Number.isFinite(value) && spread <= TOO_WIDE * Math.abs(value)) return { value, spread };
  }
  return undefined;
}

/** Coverage of a group of claims. Claims of one day share its instruments: about as many of them are independent as there are days. */
export function coverageOf(claims: readonly Claim[]): Coverage {
  const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;
  return {
    claims: claims.length,
    days: new Set(claims.map(({ kind, seed }) => `${kind} ${seed}`)).size,
    covered: mean(claims.map(({ error, spread }) => (Math.abs(error) <= 1.96 * spread ? 1 : 0))),
    rootMeanSquare: Math.sqrt(mean(claims.map(({ error, spread }) => (error / spread) ** 2))),
    meanError: mean(claims.map(({ error }) => error)),
    meanSpread: mean(claims.map(({ spread }) => spread)),
  };
}
