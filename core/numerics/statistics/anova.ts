import { fUpperTail } from './distributions.ts';
import { type MissingPolicy, usableSamples } from './missing.ts';

/** Sums of squares [unit²]; probability: of an F at least this large if all groups had one mean. */
export interface OneWayAnova {
  readonly betweenSquares: number;
  readonly withinSquares: number;
  readonly betweenFreedom: number;
  readonly withinFreedom: number;
  readonly f: number;
  readonly probability: number;
  readonly rSquared: number;
  readonly residualDeviation: number;
}

/**
 * One-way analysis of variance.
 *
 *     F = (between/(k − 1)) / (within/(n − k))
 *
 * Sums run over differences from one sample, so equal leading digits cost nothing. Groups without a usable sample are left out
 * under `skip`; fewer than two groups, or no degree of freedom inside them, give NaN.
 *
 * @source  NIST/SEMATECH e-Handbook 7.4.3; two-pass sums with correction, Chan, Golub & LeVeque (1983)
 */
export function oneWayAnova(groups: readonly ArrayLike<number>[], missing: MissingPolicy): OneWayAnova {
  const reduced = groups.map((group) => usableSamples(group, missing));
  if (reduced.some((group) => group === undefined)) return unanswered();
  const kept = reduced.filter((group) => group !== undefined).filter((group) => group.length > 0);
  const base = kept[0]?.[0] ?? 0;
  const centred = kept.map((group) => group.map((x) => x - base));
  const means = centred.map(meanOf);
  const count = centred.reduce((sum, group) => sum + group.length, 0);
  const grand = centred.reduce((sum, group, g) => sum + group.length * means[g], 0) / count;
  const betweenFreedom = kept.length - 1;
  const withinFreedom = count - kept.length;
  if (betweenFreedom < 1 || withinFreedom < 1) return unanswered();
  let betweenSquares = 0;
  let withinSquares = 0;
  centred.forEach((group, g) => {
    betweenSquares += group.length * (means[g] - grand) ** 2;
    let rest = 0;
    for (const x of group) {
      withinSquares += (x - means[g]) ** 2;
      rest += x - means[g];
    }
    withinSquares -= (rest * rest) / group.length;
  });
  const withinMean = withinSquares / withinFreedom;
  const f = betweenSquares / betweenFreedom / withinMean;
  return {
    betweenSquares,
    withinSquares,
    betweenFreedom,
    withinFreedom,
    f,
    probability: fUpperTail(f, { numerator: betweenFreedom, denominator: withinFreedom }),
    rSquared: betweenSquares / (betweenSquares + withinSquares),
    residualDeviation: Math.sqrt(withinMean),
  };
}

function meanOf(samples: Float64Array): number {
  const first = samples.reduce((sum, x) => sum + x, 0) / samples.length;
  return first + samples.reduce((sum, x) => sum + (x - first), 0) / samples.length;
}

function unanswered(): OneWayAnova {
  const nan = Number.NaN;
  return {
    betweenSquares: nan,
    withinSquares: nan,
    betweenFreedom: nan,
    withinFreedom: nan,
    f: nan,
    probability: nan,
    rSquared: nan,
    residualDeviation: nan,
  };
}
