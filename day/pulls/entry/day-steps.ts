/**
 * What a day tells about all its entries is told in steps: below them it says nothing, and a new entry seldom moves it, so that what was
 * worked out about the others stays what it was.
 */

/** Step of the rate of two clocks [1]: half of it shifts a sample ten seconds from the middle by 0.2 ms. @source our default */
const RATE_STEP = 40e-6;
/** Least uncertainty of that rate [1]; larger ones are twice it, four times … @source our default */
const RATE_SPREAD = 25e-6;
/** Step of a number of tyres or gearing, as a share of it [1]. @source our default: well inside what changes with the tread over a day */
const TYRE_STEP = 0.02;
/** Step of an uncertainty, as the ratio of one to the next. @source our default */
const SPREAD_STEP = 1.25;
/** Step of a ratio without slip, as a share of it [1]. @source our default: a tenth of how far entries of one gear differ */
const RATIO_STEP = 0.0003;

/** Rate of two clocks and its standard uncertainty, the step's own included [1]. */
export function steppedRate({ value, standardUncertainty }: { value: number; standardUncertainty: number }): {
  readonly value: number;
  readonly standardUncertainty: number;
} {
  const own = Math.hypot(standardUncertainty, RATE_STEP / Math.sqrt(12));
  const doublings = Math.max(0, Math.ceil(Math.log2(own / RATE_SPREAD)));
  return { value: RATE_STEP * Math.round(value / RATE_STEP), standardUncertainty: RATE_SPREAD * 2 ** doublings };
}

/** Growth or creep, to steps of two hundredths of itself. */
export function steppedTyre(value: number): number {
  return steppedShare(value, TYRE_STEP);
}

/** A standard uncertainty, up to the next step of a quarter of itself. */
export function steppedSpread(value: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return value;
  const step = Math.log(SPREAD_STEP);
  return Math.exp(step * Math.ceil(Math.log(value) / step));
}

/** Engine turns per metre without slip, to steps of three ten-thousandths of itself. */
export function steppedRatio(value: number): number {
  return steppedShare(value, RATIO_STEP);
}

function steppedShare(value: number, step: number): number {
  const size = Math.abs(value);
  if (!(size > 0) || !Number.isFinite(size)) return value;
  return Math.sign(value) * Math.exp(step * Math.round(Math.log(size) / step));
}
