import { at } from '../interpolate.ts';

/**
 * Factor that refers power to 99 kPa dry and 25 °C [1].
 *
 *     1.18·(99/p_dry)·((T + 273)/298)^0.5 − 0.18
 *
 * temperature: °C, pressure: kPa, humidity: fraction.
 * @source SAE J1349 as commonly quoted; saturation pressure after Magnus
 */
export function ratingFactor(temperature: number, pressure: number, humidity: number): number {
  const vapour = humidity * 0.61094 * Math.exp((17.625 * temperature) / (temperature + 243.04));
  return 1.18 * (99 / (pressure - vapour)) * Math.sqrt((temperature + 273) / 298) - 0.18;
}

/** Running mean over `width` samples, shorter at the ends; as long as the values. */
export function runningMean(values: ArrayLike<number>, width: number): Float64Array {
  const half = Math.floor(width / 2);
  const sums = new Float64Array(values.length + 1);
  for (let index = 0; index < values.length; index += 1) sums[index + 1] = at(sums, index) + at(values, index);
  return Float64Array.from({ length: values.length }, (_, index) => {
    const from = Math.max(0, index - half);
    const to = Math.min(values.length, index + half + 1);
    return (at(sums, to) - at(sums, from)) / (to - from);
  });
}
