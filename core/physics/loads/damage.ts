import { type Measured, measured } from '../../quantities/index.ts';
import { type BasquinLine, cyclesToFailure } from './basquin.ts';
import { type MeanStressRule, reversedAmplitude } from './fatigue-criteria.ts';

/** A number of equal swings [Pa]. */
export interface StressBlock {
  readonly amplitude: number;
  readonly mean: number;
  readonly cycles: number;
}

export interface DamageInput {
  readonly blocks: readonly StressBlock[];
  readonly line: BasquinLine;
  /** How a mean is counted; `none` leaves it out. */
  readonly meanStress: MeanStressRule | 'none';
  /** Su or σf' for the mean [Pa]; needed by `goodman` and `morrow`. */
  readonly strength?: number;
  /** Relative standard uncertainty of all stresses together [1]; default 0. */
  readonly stressSpread?: number;
  /** Standard uncertainty of the slope b [1]; default 0. */
  readonly slopeSpread?: number;
  /** Standard deviation of ln N of equal specimens [1]; default {@link LIFE_SCATTER}. */
  readonly lifeScatter?: number;
}

/** Scatter of fatigue life of equal parts, standard deviation of ln N [1]: a factor of about 1.6. @source our default; 0.3 … 0.8 in textbooks (from memory) */
export const LIFE_SCATTER = 0.5;

/** Sum at which failure is to be expected is about 1; tests scatter from 0.3 to 3 about it. @source Dowling, 9.9 (from memory) */
export const DAMAGE_AT_FAILURE: Measured = measured(1, 0.5);

/**
 * damage: Palmgren–Miner sum, best estimate [1]. logSpread: standard uncertainty of its natural logarithm. low, high: one standard
 * uncertainty down and up, D·e^(∓logSpread). shares: of each block.
 */
export interface Damage {
  readonly damage: number;
  readonly logSpread: number;
  readonly low: number;
  readonly high: number;
  readonly shares: readonly number[];
}

/**
 * Linear damage sum of blocks of swings.
 *
 *     D = Σ nᵢ/Nᵢ,    ∂ln D/∂ln σ = −1/b,    ∂ln D/∂b = Σ wᵢ·ln(σᵢ/σref)/b²,  wᵢ = share of block i
 *
 * The slope is turned about 10⁶ cycles (σref), where lines of one material are best known. The logarithm is propagated, since a few
 * percent of stress are tens of percent of damage.
 *
 * @valid   order of loads has no effect; parts overloaded early fail sooner than this. An index to compare days, no promise of life
 * @source  Palmgren (1924), Miner (1945); JCGM 100:2008, equation 10
 */
export function damageSum(input: DamageInput): Damage {
  const { blocks, line, meanStress, strength = Number.NaN } = input;
  if (Number.isNaN(strength) && (meanStress === 'goodman' || meanStress === 'morrow')) {
    throw new RangeError(`${meanStress} needs a strength`);
  }
  const amplitudes = blocks.map((block) =>
    meanStress === 'none' ? block.amplitude : reversedAmplitude(block, meanStress, strength),
  );
  const parts = blocks.map(({ cycles }, i) =>
    amplitudes[i] > 0 ? cycles / Math.max(cyclesToFailure(line, amplitudes[i]), Number.MIN_VALUE) : 0,
  );
  const damage = parts.reduce((sum, part) => sum + part, 0);
  const shares = parts.map((part) => (damage > 0 ? part / damage : 0));
  const pivot = line.coefficient * 1e6 ** line.slope;
  const turned = shares.reduce((sum, share, i) => {
    return share > 0 ? sum + share * Math.log(amplitudes[i] / pivot) : sum;
  }, 0);
  const logSpread = Math.hypot(
    (input.stressSpread ?? 0) / line.slope,
    ((input.slopeSpread ?? 0) * turned) / line.slope ** 2,
    input.lifeScatter ?? LIFE_SCATTER,
  );
  return { damage, logSpread, low: damage * Math.exp(-logSpread), high: damage * Math.exp(logSpread), shares };
}

/** How often the same blocks can be repeated until the sum reaches a limit [1]; infinite without damage. */
export function repeatsTo(limit: number, found: Damage): number {
  return found.damage > 0 ? limit / found.damage : Number.POSITIVE_INFINITY;
}

/**
 * Damage of one state over that of a reference state [1], where all stresses grow together: (σ/σ0)^(−1/b)·(n/n0).
 *
 * It needs no strength, only the slope, and so is far better known than the sum itself: an index of pulls.
 *
 * @param stressRatio σ/σ0 with its uncertainty @param cycleRatio n/n0
 * @source  ratio of two sums on one line
 */
export function damageIndex(stressRatio: Measured, cycleRatio: number, slope: Measured): Measured {
  const exponent = -1 / slope.value;
  const value = cycleRatio * stressRatio.value ** exponent;
  const byStress = (exponent * stressRatio.standardUncertainty) / stressRatio.value;
  const bySlope = (Math.log(stressRatio.value) * slope.standardUncertainty) / slope.value ** 2;
  return measured(value, value * Math.hypot(byStress, bySlope));
}
