/** Air-standard cycle with constant heat capacities: what the closed cycle turns into without heat loss and with heat at once. */
export interface IdealCycle {
  /** Compression ratio r. */
  readonly compressionRatio: number;
  /** Ratio of heat capacities k. */
  readonly heatCapacityRatio: number;
  /** Pressure ratio α at constant volume; 1 for the Diesel cycle. */
  readonly pressureRatio: number;
  /** Volume ratio β at constant pressure; 1 for the Otto cycle. */
  readonly cutOffRatio: number;
}

/**
 * Efficiency of the limited-pressure cycle [1]; Otto with β = 1, Diesel with α = 1.
 *
 *     η = 1 − r^(1−k)·(α·β^k − 1)/((α − 1) + k·α·(β − 1))
 *
 * @valid   α ≥ 1, β ≥ 1, not both 1
 * @source  any textbook of engineering thermodynamics
 */
export function idealEfficiency({
  compressionRatio: r,
  heatCapacityRatio: k,
  pressureRatio: a,
  cutOffRatio: b,
}: IdealCycle): number {
  if (b === 1) return 1 - r ** (1 - k);
  return 1 - (r ** (1 - k) * (a * b ** k - 1)) / (a - 1 + k * a * (b - 1));
}
