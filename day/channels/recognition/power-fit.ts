/** A stated power and what it may have been computed from, row by row, SI. */
export interface PowerTerms {
  readonly power: Float64Array;
  /** force × speed [W] */
  readonly direct: Float64Array;
  /** acceleration × speed [W/kg] */
  readonly inertial: Float64Array | undefined;
  /** Rows that count. */
  readonly rows: readonly number[];
  /** Median step [s]. */
  readonly step: number;
}

/** power = factor × (direct + mass × inertial). mismatch: sum of squares left over [W²]. */
export interface PowerFit {
  readonly factor: number;
  readonly mass: number;
  readonly mismatch: number;
}

/** What a fit makes of one row of terms [W]. */
export function fitted({ factor, mass }: PowerFit, { direct, inertial }: PowerTerms, row: number): number {
  return factor * (direct[row] + (mass === 0 ? 0 : mass * (inertial?.[row] ?? 0)));
}

/** @source ordinary least squares in one or two unknowns, normal equations */
export function powerFit(terms: PowerTerms, withMass: boolean): PowerFit {
  const { power, direct, inertial, rows } = terms;
  let [xx, xy, yy, xp, yp] = [0, 0, 0, 0, 0];
  for (const i of rows) {
    const [x, y] = [direct[i], inertial?.[i] ?? 0];
    if (!Number.isFinite(x + y + power[i])) continue;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xp += x * power[i];
    yp += y * power[i];
  }
  const spread = xx * yy - xy * xy;
  const both = withMass && spread > 1e-9 * xx * yy;
  const factor = both ? (xp * yy - yp * xy) / spread : xp / xx;
  const share = both ? (yp * xx - xp * xy) / spread : 0;
  const fit = { factor, mass: share / factor };
  const mismatch = rows.reduce((sum, i) => {
    const off = power[i] - fitted({ ...fit, mismatch: 0 }, terms, i);
    return Number.isFinite(off) ? sum + off * off : sum;
  }, 0);
  return { ...fit, mismatch };
}

/** Moving average over 2 half + 1 rows, around each row or ending with it. */
export interface Averaging {
  readonly half: number;
  readonly trailing: boolean;
}

/** All terms and the power averaged alike: the law between them stays, noise goes. */
export function calmed(terms: PowerTerms, half: number): PowerTerms {
  const around = { half, trailing: false };
  return { ...smoothedTerms(terms, around), power: averaged(terms.power, around) };
}

/** The same power beside averaged terms. */
export function smoothedTerms(terms: PowerTerms, averaging: Averaging): PowerTerms {
  return {
    ...terms,
    direct: averaged(terms.direct, averaging),
    inertial: terms.inertial && averaged(terms.inertial, averaging),
  };
}

/** Mean of the known samples in each window. */
export function averaged(samples: Float64Array, { half, trailing }: Averaging): Float64Array {
  const sums = new Float64Array(samples.length + 1);
  const counts = new Float64Array(samples.length + 1);
  for (let i = 0; i < samples.length; i++) {
    const known = Number.isFinite(samples[i]);
    sums[i + 1] = sums[i] + (known ? samples[i] : 0);
    counts[i + 1] = counts[i] + (known ? 1 : 0);
  }
  return samples.map((_, i) => {
    const from = Math.max(0, i - (trailing ? 2 * half : half));
    const to = Math.min(samples.length, i + (trailing ? 0 : half) + 1);
    return (sums[to] - sums[from]) / (counts[to] - counts[from]);
  });
}
