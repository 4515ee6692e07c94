/**
 * Working cycles passed since the first frame, from the cycle rate at equally spaced frames, which changes linearly in between.
 * at: cycles [1] at a time inside the frames [s]; rate: cycles per second [Hz]; when: the time at which so many cycles have passed;
 * NaN where the rate is not known or the time lies outside.
 */
export interface CyclePhase {
  readonly at: (time: number) => number;
  readonly rate: (time: number) => number;
}

/**
 * @param times frames [s], equally spaced, increasing
 * @param rates cycles per second at the frames [Hz], > 0, NaN where unknown: nothing is carried across
 */
export function cyclePhase(times: Float64Array, rates: Float64Array): CyclePhase {
  const step = times.length > 1 ? times[1] - times[0] : 1;
  const passed = new Float64Array(times.length);
  for (let i = 1; i < times.length; i++) {
    const gain = 0.5 * (rates[i - 1] + rates[i]) * step;
    passed[i] = passed[i - 1] + (Number.isNaN(gain) ? 0 : gain);
  }
  const place = (time: number): { readonly i: number; readonly share: number } => {
    const x = (time - times[0]) / step;
    const i = Math.min(Math.max(0, Math.floor(x)), times.length - 2);
    return { i, share: x < -1e-9 || x > times.length - 1 + 1e-9 ? Number.NaN : x - i };
  };
  return {
    at(time) {
      const { i, share } = place(time);
      return passed[i] + step * share * (rates[i] + 0.5 * share * (rates[i + 1] - rates[i]));
    },
    rate(time) {
      const { i, share } = place(time);
      return rates[i] + share * (rates[i + 1] - rates[i]);
    },
  };
}
