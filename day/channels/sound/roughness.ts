import { cyclePhase } from './cycle-phase.ts';
import { cycleWindow } from './cycle-window.ts';
import { orderPowers } from './order-lines.ts';
import type { Orders } from './refine.ts';
import type { Sound } from './sound.ts';

/**
 * Shares of sound energy, of all from half an order of the cycle to the middle above the last firing order [1]; as long as the frames, NaN where unknown.
 * cycle: on orders of the working cycle that are no firing orders (half orders of a four-stroke): every cycle alike, as with one weak cylinder.
 * between: between them: no two cycles alike, or background noise. whole: both.
 */
export interface AcousticRoughness {
  readonly whole: Float64Array;
  readonly cycle: Float64Array;
  readonly between: Float64Array;
}

export interface RoughnessInput {
  readonly sound: Sound;
  /** Frames [s], equally spaced. */
  readonly times: Float64Array;
  /** Cycles per second [Hz], as long as `times`; NaN where unknown. */
  readonly rates: Float64Array;
  readonly orders: Orders;
}

/**
 * Acoustic roughness: how much of the sound does not repeat with every firing, by the crank's angle and whatever the loudness.
 *
 *     whole = (E_cycle + E_between) / (E_cycle + E_between + E_firing)
 *
 * Lines take what lies within one bin (a firing order within two) of 1/length of an order. Steady background noise counts as `between`.
 *
 * @source  split by orders: common practice, no source; widths: main lobe of the Hann window
 */
export function acousticRoughness({ sound, times, rates, orders }: RoughnessInput): AcousticRoughness {
  const phase = cyclePhase(times, rates);
  const kinds = binKinds(orders);
  const result = { whole: missing(times), cycle: missing(times), between: missing(times) };
  for (let i = 0; i < times.length; i++) {
    const window = Number.isNaN(rates[i])
      ? undefined
      : cycleWindow({ sound, phase, time: times[i], length: orders.length });
    if (!window) continue;
    const powers = orderPowers(window, { step: 1 / orders.length, count: kinds.length - 1 });
    const energy = { none: 0, firing: 0, cycle: 0, between: 0 };
    for (let b = 1; b < kinds.length; b++) energy[kinds[b]] += powers[b];
    const all = energy.firing + energy.cycle + energy.between;
    // below this the window holds digital silence
    if (!(all > 1e-18)) continue;
    result.whole[i] = (energy.cycle + energy.between) / all;
    result.cycle[i] = energy.cycle / all;
    result.between[i] = energy.between / all;
  }
  return result;
}

type BinKind = 'none' | 'firing' | 'cycle' | 'between';

/** What each bin of 1/length of an order counts as. */
export function binKinds({ firing, harmonics, length }: Orders): readonly BinKind[] {
  const last = Math.round((harmonics + 0.5) * firing * length);
  return Array.from({ length: last + 1 }, (_, b) => {
    if (b < length / 2) return 'none';
    const perFiring = firing * length;
    if (b > length / 2 && Math.abs(b - perFiring * Math.max(1, Math.round(b / perFiring))) <= 2) return 'firing';
    return Math.abs(b - length * Math.round(b / length)) <= 1 ? 'cycle' : 'between';
  });
}

function missing(times: Float64Array): Float64Array {
  return new Float64Array(times.length).fill(Number.NaN);
}
