import type { CycleWindow } from './cycle-window.ts';

/**
 * Power at orders step, 2·step, … count·step [full scale²], entry b at b·step; entry 0 stays 0. A sine of amplitude a on an order gives a²; tracks are summed.
 *
 * @param step [per cycle] @param count ≥ 1
 */
export function orderPowers(
  window: CycleWindow,
  { step, count }: { readonly step: number; readonly count: number },
): Float64Array {
  const powers = new Float64Array(count + 1);
  for (const track of window.tracks) {
    const re = new Float64Array(count + 1);
    const im = new Float64Array(count + 1);
    for (let i = 0; i < track.length; i++) {
      const angle = -2 * Math.PI * step * window.cycles[i];
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      let x = track[i];
      let y = 0;
      for (let b = 1; b <= count; b++) {
        const turned = x * c - y * s;
        y = x * s + y * c;
        x = turned;
        re[b] += x;
        im[b] += y;
      }
    }
    for (let b = 1; b <= count; b++) powers[b] += re[b] ** 2 + im[b] ** 2;
  }
  return powers;
}

/**
 * Power at orders first + i·step, i = 0 … count − 1 [full scale²].
 *
 * @param first, step [per cycle]
 */
export function linePowers(
  window: CycleWindow,
  { first, step, count }: { readonly first: number; readonly step: number; readonly count: number },
): Float64Array {
  const powers = new Float64Array(count);
  for (const track of window.tracks) {
    const re = new Float64Array(count);
    const im = new Float64Array(count);
    for (let i = 0; i < track.length; i++) {
      const start = -2 * Math.PI * first * window.cycles[i];
      const turn = -2 * Math.PI * step * window.cycles[i];
      const c = Math.cos(turn);
      const s = Math.sin(turn);
      let x = track[i] * Math.cos(start);
      let y = track[i] * Math.sin(start);
      for (let b = 0; b < count; b++) {
        re[b] += x;
        im[b] += y;
        const turned = x * c - y * s;
        y = x * s + y * c;
        x = turned;
      }
    }
    for (let b = 0; b < count; b++) powers[b] += re[b] ** 2 + im[b] ** 2;
  }
  return powers;
}
