import { answered, type Measured, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { Alignment } from '../alignment.ts';
import { type Stamps, stampedRate } from './stamped-rate.ts';

/**
 * Rate of one clock against another from several alignments of the same two clocks [1], robust weighted mean.
 *
 * Where the files' clocks ran on through the day (at least three records whose offsets lie on one line within their uncertainty, with
 * believable slope), that line is the rate: hours between the records tell it far better than any one of them. Otherwise: weights 1/u², lowered for rates that lie far from the rest (Huber, 2 standard uncertainties around the weighted median); the
 * uncertainty grows by the Birge ratio where the rates scatter more than they claim, and never falls below what the tyre model leaves
 * open in all of them alike. A rate of exactly 0 was not measured and does not count. Where both files of the records are stamped with
 * a time of day, {@link stampedRate} counts instead. Refuses (`missing-rate`) when none was measured.
 *
 * @valid   alignments made without `options.rate`: a prior that went in must not be counted again
 * @source  weighted mean and Birge ratio: Birge, Phys. Rev. 40 (1932) 207; weights: Huber & Ronchetti, Robust Statistics
 */
export function combineRates(
  alignments: readonly Alignment[],
  stamps: readonly (Stamps | undefined)[] = [],
): Outcome<Measured> {
  const through = rateThroughTheDay(alignments) ?? stampedRate(alignments, stamps);
  if (through !== undefined) return answered(through);
  const rates = alignments.flatMap((alignment) => measuredRate(alignment) ?? []);
  if (rates.length === 0) {
    return refused({
      kind: 'missing-rate',
      message: 'missing clock rate: no record measured one',
      numbers: { count: 0 },
    });
  }
  let centre = weightedMedian(rates);
  let sum = 0;
  for (let step = 0; step < 20; step++) {
    sum = 0;
    let moment = 0;
    for (const { value, standardUncertainty: u } of rates) {
      const far = Math.abs(value - centre) / u;
      const w = Math.min(1, 2 / Math.max(far, 1e-9)) / u ** 2;
      sum += w;
      moment += w * value;
    }
    centre = moment / sum;
  }
  let chi = 0;
  for (const { value, standardUncertainty: u } of rates) chi += Math.min(4, ((value - centre) / u) ** 2);
  const birge = rates.length > 1 ? Math.max(1, Math.sqrt(chi / (rates.length - 1))) : 1;
  return answered({ value: centre, standardUncertainty: Math.hypot(birge / Math.sqrt(sum), TYRE_MODEL) });
}

/** What slip's second order leaves open in the rate of every short record alike [1]. @source our default, measured on invented logs */
const TYRE_MODEL = 120e-6;
/** Clocks further apart than this were not one clock each [1]. @source our default: 1 % */
const FASTEST = 0.01;
/** A second lag that fits as well as this share of the best: the record does not tell time. @source common practice, no source: 97 % */
const ALIKE = 0.97;
/** Records must span this much time before their offsets are compared [s]. @source our default */
const LEAST_SPAN = 120;

/** Slope of offset over time between records; undefined when they do not lie on one line. */
function rateThroughTheDay(alignments: readonly Alignment[]): Measured | undefined {
  const points = alignments
    .filter(({ by }) => by === 'speed')
    .flatMap(({ pieces }) => pieces)
    .map(({ from, to, offset, rate, offsetUncertainty }) => {
      const t = (from + to) / 2;
      return { t, d: offset + rate * t, u: Math.max(offsetUncertainty, 1e-4) };
    });
  const times = points.map(({ t }) => t);
  if (points.length < 3 || Math.max(...times) - Math.min(...times) < LEAST_SPAN) return undefined;
  const weight = points.reduce((sum, { u }) => sum + u ** -2, 0);
  const meanT = points.reduce((sum, { t, u }) => sum + t / u ** 2, 0) / weight;
  const meanD = points.reduce((sum, { d, u }) => sum + d / u ** 2, 0) / weight;
  const square = points.reduce((sum, { t, u }) => sum + ((t - meanT) / u) ** 2, 0);
  const slope = points.reduce((sum, { t, d, u }) => sum + ((t - meanT) * (d - meanD)) / u ** 2, 0) / square;
  const chi = points.reduce((sum, { t, d, u }) => sum + ((d - meanD - slope * (t - meanT)) / u) ** 2, 0);
  const free = points.length - 2;
  // four standard deviations of a chi-square with that many degrees of freedom
  if (Math.abs(slope) > FASTEST || chi > free + 4 * Math.sqrt(2 * free)) return undefined;
  return { value: slope, standardUncertainty: Math.max(1, Math.sqrt(chi / free)) / Math.sqrt(square) };
}

/** All pieces of one alignment share their rate. None where another lag fits as well, or where the rate is none of clocks: shape was fitted, not time. */
function measuredRate({ pieces, by, correlation, second }: Alignment): Measured | undefined {
  const piece = pieces.find(({ rate, rateUncertainty }) => rate !== 0 && rateUncertainty > 0 && Number.isFinite(rate));
  if (!piece || by !== 'speed' || Math.abs(piece.rate) > FASTEST) return undefined;
  // A roll that runs out alone slows down evenly: moved and stretched, such a curve lies on itself again.
  if (second !== undefined && second.correlation > ALIKE * correlation) return undefined;
  return { value: piece.rate, standardUncertainty: piece.rateUncertainty };
}

function weightedMedian(rates: readonly Measured[]): number {
  const sorted = [...rates].sort((a, b) => a.value - b.value);
  const half = sorted.reduce((sum, rate) => sum + 1 / rate.standardUncertainty ** 2, 0) / 2;
  let sum = 0;
  for (const rate of sorted) {
    sum += 1 / rate.standardUncertainty ** 2;
    if (sum >= half) return rate.value;
  }
  return sorted[sorted.length - 1].value;
}
