/** A standard deviation with the degrees of freedom it rests on. */
export interface KnownDeviation {
  readonly value: number;
  readonly degreesOfFreedom: number;
}

/** groups: repeats of one thing each; their means may differ. prior: what is believed before, worth `degreesOfFreedom`. */
export interface RepeatInput {
  readonly groups: readonly (readonly number[])[];
  readonly prior: KnownDeviation;
}

/**
 * Standard deviation of a single repeat, from groups of repeats and an earlier belief [unit of the samples].
 *
 *     s² = (ν₀·s₀² + Σ (x − x̄_group)²)/(ν₀ + Σ (n − 1))
 *
 * Groups of one repeat tell nothing and change nothing; without groups the belief comes back. Non-finite samples are left out.
 *
 * @source  pooling: NIST/SEMATECH e-Handbook 7.3.1.1; belief as a scaled inverse χ²: Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6
 */
export function repeatDeviation({ groups, prior }: RepeatInput): KnownDeviation {
  let squares = prior.degreesOfFreedom > 0 ? prior.degreesOfFreedom * prior.value ** 2 : 0;
  let freedom = Math.max(0, prior.degreesOfFreedom);
  for (const group of groups) {
    const known = group.filter(Number.isFinite);
    if (known.length < 2) continue;
    const mean = known.reduce((sum, x) => sum + x, 0) / known.length;
    squares += known.reduce((sum, x) => sum + (x - mean) ** 2, 0);
    freedom += known.length - 1;
  }
  return { value: freedom > 0 ? Math.sqrt(squares / freedom) : Number.NaN, degreesOfFreedom: freedom };
}
