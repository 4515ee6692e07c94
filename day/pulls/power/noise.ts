import type { ChainInputs, ChainLines } from './chain.ts';
import type { PullReading } from './signals.ts';

/** One value per time of the pull for each power [W]. */
export interface Noise {
  readonly roll: Float64Array;
  readonly tyre: Float64Array;
  readonly engine: Float64Array;
}

/** Standard deviation of the random part of each power [W]: force and acceleration noise, and slip noise on top for the tyre. */
export function randomNoise({ signals, noise }: PullReading, lines: ChainLines, inputs: ChainInputs): Noise {
  const roll = signals.speed.map((v, i) => v * Math.hypot(noise.force[i], inputs.rollMass * noise.acceleration[i]));
  const tyre = roll.map((watts, i) => Math.hypot(watts * (1 + signals.slip[i]), lines.roll[i] * noise.slip[i]));
  const engine = tyre.map((watts, i) => {
    const wheel = inputs.wheelMass * noise.acceleration[i] * signals.speed[i];
    return Math.hypot(watts, wheel) / (1 - inputs.torqueLoss);
  });
  return { roll, tyre, engine };
}

/** Root of the sum of squares of independent parts, point by point; NaN where the random part is unknown. */
export function total(parts: readonly Float64Array[], random: Float64Array): Float64Array {
  return random.map((noise, i) => {
    let squares = noise * noise;
    for (const part of parts) if (Number.isFinite(part[i])) squares += part[i] * part[i];
    return Math.sqrt(squares);
  });
}
