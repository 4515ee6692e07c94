import type { ChainInputs, ChainLines } from './chain.ts';
import type { PullReading } from './signals.ts';

/** One value per time of the pull for each power [W]. */
export interface Noise {
  readonly roll: Float64Array;
  readonly tyre: Float64Array;
  readonly engine: Float64Array;
}

/**
 * Standard deviation of the random part of each power at an engine speed [W]: force and acceleration noise, slip noise on top for the
 * tyre, and the power that changes within the uncertainty of the clocks, because engine speed comes from the other log, and of the
 * engine speed itself where it was computed.
 *
 * @param lag standard uncertainty of the engine log's time against the roller's [s] @param axis of the engine speed, as a share of it [1]
 */
export function randomNoise(
  { signals, noise }: PullReading,
  lines: ChainLines,
  { inputs, lag, axis }: { inputs: ChainInputs; lag: number; axis: number },
): Noise {
  const force = signals.speed.map((v, i) => v * Math.hypot(noise.force[i], inputs.rollMass * noise.acceleration[i]));
  const tyreForce = force.map((watts, i) => Math.hypot(watts * (1 + signals.slip[i]), lines.roll[i] * noise.slip[i]));
  const engineForce = tyreForce.map((watts, i) => {
    const wheel = inputs.wheelMass * noise.acceleration[i] * signals.speed[i];
    return Math.hypot(watts, wheel) / (1 - inputs.torqueLoss);
  });
  const along = signals.engineSpeed.map((speed, i) =>
    Math.hypot(lag, axisTime(speed, signals.engineAcceleration[i], axis)),
  );
  const withLag = (watts: Float64Array, line: Float64Array): Float64Array =>
    watts.map((value, i) => Math.hypot(value, along[i] * changePerSecond(line, signals.time, i)));
  return {
    roll: withLag(force, lines.roll),
    tyre: withLag(tyreForce, lines.tyre),
    engine: withLag(engineForce, lines.engine),
  };
}

/** Time in which engine speed changes by a share of itself [s]; 0 where it does not rise or is unknown. */
function axisTime(speed: number, acceleration: number, share: number): number {
  const time = (share * speed) / acceleration;
  return time > 0 && Number.isFinite(time) ? time : 0;
}

/** Slope of a line at an index from its neighbours [W/s]; 0 where it cannot be told. */
function changePerSecond(line: Float64Array, time: Float64Array, at: number): number {
  const slope = (line[at + 1] - line[at - 1]) / (time[at + 1] - time[at - 1]);
  return Number.isFinite(slope) ? slope : 0;
}

/** Root of the sum of squares of independent parts, point by point; NaN where the random part is unknown. */
export function total(parts: readonly Float64Array[], random: Float64Array): Float64Array {
  return random.map((noise, i) => {
    let squares = noise * noise;
    for (const part of parts) if (Number.isFinite(part[i])) squares += part[i] * part[i];
    return Math.sqrt(squares);
  });
}
