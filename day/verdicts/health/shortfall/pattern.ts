/** How a shortfall lies over the pull. gap: power here over expected, less 1 [1]; torque: expected [N·m]; all as long as speed [rad/s]. */
export interface GapByStep {
  readonly speed: readonly number[];
  readonly torque: readonly number[];
  readonly gap: readonly number[];
}

export type PatternName = 'with speed' | 'with cylinder pressure' | 'constant';

/** One pattern: size of the gap at the pull's highest [1], share of the gap's squares it explains, and its weight against the others, which sum to 1. */
export interface PatternFit {
  readonly pattern: PatternName;
  readonly size: number;
  readonly explained: number;
  readonly weight: number;
  /** What such a pattern usually means; common practice, no source. */
  readonly points: readonly string[];
}

/** Steepness with which a loss at the highest cylinder pressures only follows torque. @source our default */
const STEEP = 4;
/** Neighbouring steps are not independent: about this many are worth one. @source our default */
const SHARED = 3;

const POINTS: Readonly<Record<PatternName, readonly string[]>> = {
  'with speed': ['driveline loss', 'engine drag', 'flow limit'],
  'with cylinder pressure': ['head lifting', 'weak spark', 'ring sealing'],
  constant: ['instrument or ambient', 'tyre or strap', 'one cylinder weak'],
};

/**
 * Which simple pattern the gap follows best, the best first; [] with fewer than five steps.
 *
 *     gap = c·f,   f = speed/highest,  (torque/highest)⁴,  1;      weight ∝ exp(−S/(2·s²·3)),  s² from the best one
 *
 * Every pattern has one parameter, so the weights compare their sums of squares S alone. Where torque hardly changes the patterns
 * cannot be told apart and the weights say so.
 *
 * @source  Akaike weights for models of equal size: Burnham & Anderson, Model Selection, 2.9; patterns: common practice, no source
 */
export function gapPatterns({ speed, torque, gap }: GapByStep): readonly PatternFit[] {
  const kept = [...gap.keys()].filter((i) => [speed[i], torque[i], gap[i]].every(Number.isFinite));
  if (kept.length < 5) return [];
  const top = { speed: Math.max(...kept.map((i) => speed[i])), torque: Math.max(...kept.map((i) => torque[i])) };
  const shapes: Readonly<Record<PatternName, (i: number) => number>> = {
    'with speed': (i) => speed[i] / top.speed,
    'with cylinder pressure': (i) => (torque[i] / top.torque) ** STEEP,
    constant: () => 1,
  };
  const total = kept.reduce((sum, i) => sum + gap[i] ** 2, 0);
  const fits = PATTERNS.map((pattern) => {
    const shape = shapes[pattern];
    const length = kept.reduce((sum, i) => sum + shape(i) ** 2, 0);
    const size = kept.reduce((sum, i) => sum + shape(i) * gap[i], 0) / length;
    const left = kept.reduce((sum, i) => sum + (gap[i] - size * shape(i)) ** 2, 0);
    return { pattern, size, left, explained: total > 0 ? 1 - left / total : 0, points: POINTS[pattern] };
  });
  const best = Math.min(...fits.map(({ left }) => left));
  const variance = Math.max(best / (kept.length - 1), SMALLEST ** 2);
  const likelihoods = fits.map(({ left }) => Math.exp((best - left) / (2 * variance * SHARED)));
  const sum = likelihoods.reduce((all, one) => all + one, 0);
  return fits
    .map(({ left: _, ...fit }, i) => ({ ...fit, weight: likelihoods[i] / sum }))
    .sort((a, b) => b.weight - a.weight);
}

const PATTERNS: readonly PatternName[] = ['with speed', 'with cylinder pressure', 'constant'];
/** Deviation of a gap below which nothing is believed of its pattern [1]. @source our default */
const SMALLEST = 0.002;
