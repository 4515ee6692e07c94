import type { Shape } from './shape.ts';

/**
 * Standardised data has mean zero and variance one over the whole set; a run cut from it keeps about that scale.
 * @source definition of a standard score; the bands are our default
 */
const MEAN = 1.6;
const DEVIATION = [0.15, 2.2] as const;
const EXTREME = 12;
const SHARE = 0.6;
const COLUMNS = 4;

/**
 * True when the numbers have lost their units: most columns scatter around zero with a deviation near one and take both signs,
 * which speeds, temperatures and ratios never do together.
 */
export function isStandardised(shapes: readonly Shape[]): boolean {
  const varying = shapes.filter((shape) => shape.count > 10 && !shape.constant && !(shape.increasing && shape.whole));
  if (varying.length < COLUMNS) return false;
  return varying.filter(looksStandardised).length >= SHARE * varying.length;
}

function looksStandardised(shape: Shape): boolean {
  return (
    !shape.whole &&
    shape.lowest < -0.1 &&
    shape.highest > 0 &&
    Math.abs(shape.mean) < MEAN &&
    shape.deviation > DEVIATION[0] &&
    shape.deviation < DEVIATION[1] &&
    Math.max(-shape.low, shape.high) < EXTREME
  );
}
