import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';

/** What one engine made, and what it is: SI. `pressureHeld`: its control holds absolute manifold pressure. */
export interface EngineResult {
  readonly torque: number;
  readonly speed: number;
  readonly displacement: number;
  readonly cylinders: number;
  readonly ambientPressure: number;
  readonly ambientTemperature: number;
  readonly pressureHeld: boolean;
}

/** What it is carried to; what is absent stays. */
export interface ScaledTo {
  readonly displacement?: number;
  readonly cylinders?: number;
  readonly ambientPressure?: number;
  readonly ambientTemperature?: number;
}

/**
 * torque [N·m] and power [W] at `speed` [rad/s], the speed of equal mean piston speed. share: relative standard uncertainty of the carrying
 * alone [1]. factors: what was multiplied. doesNotScale: what stands between this number and another engine.
 */
export interface ScaledResult {
  readonly torque: number;
  readonly power: number;
  readonly speed: number;
  readonly share: number;
  readonly factors: readonly { readonly name: string; readonly factor: number }[];
  readonly doesNotScale: readonly string[];
}

/** Relative change of torque per kelvin outside at held manifold pressure [1/K], and its spread. @source common practice, no source: −0.31 … −0.35 % */
const PER_KELVIN = -0.0033;
const PER_KELVIN_SPREAD = 0.0006;
/** Spread of carrying over a size or a count, per unit of its logarithm [1]. @source our default */
const SIZE_SPREAD = 0.08;
const COUNT_SPREAD = 0.03;

/**
 * A result carried to another size, number of cylinders or air, with what that leaves out.
 *
 *     torque ∝ displacement (equal mean effective pressure),   speed ∝ 1/stroke of similar cylinders (equal mean piston speed)
 *     held pressure: torque falls by 0.33 % per kelvin;   otherwise torque ∝ p/T outside
 *
 * @valid   similar engines with all parts scaled alike; a first look, no prediction
 * @source  similarity: Heywood, Internal Combustion Engine Fundamentals, 15 (from memory)
 */
export function scaled(result: EngineResult, to: ScaledTo): Outcome<ScaledResult> {
  const bad = badNumber({ ...result, ...to });
  if (bad) return refused(bad);
  const size = (to.displacement ?? result.displacement) / result.displacement;
  const count = (to.cylinders ?? result.cylinders) / result.cylinders;
  const warmer = (to.ambientTemperature ?? result.ambientTemperature) - result.ambientTemperature;
  const thicker = (to.ambientPressure ?? result.ambientPressure) / result.ambientPressure;
  const warm = result.pressureHeld
    ? 1 + PER_KELVIN * warmer
    : result.ambientTemperature / (result.ambientTemperature + warmer);
  const pressed = result.pressureHeld ? 1 : thicker;
  const slower = Math.cbrt(count / size);
  const factors = [
    { name: 'displacement at equal mean effective pressure', factor: size },
    { name: 'speed at equal mean piston speed', factor: slower },
    { name: 'temperature outside', factor: warm },
    { name: 'pressure outside', factor: pressed },
  ].filter(({ factor }) => factor !== 1);
  const torque = result.torque * size * warm * pressed;
  const speed = result.speed * slower;
  const share = Math.hypot(
    SIZE_SPREAD * Math.log(size),
    COUNT_SPREAD * Math.log(count),
    PER_KELVIN_SPREAD * warmer,
    result.pressureHeld ? 0.1 * Math.log(thicker) : 0.02 * Math.log(thicker),
  );
  const doesNotScale = wordsOf({ size, count, warmer, thicker, pressureHeld: result.pressureHeld });
  return answered({ torque, power: torque * speed, speed, share, factors, doesNotScale });
}

interface Changes {
  readonly size: number;
  readonly count: number;
  readonly warmer: number;
  readonly thicker: number;
  readonly pressureHeld: boolean;
}

function wordsOf({ size, count, warmer, thicker, pressureHeld }: Changes): readonly string[] {
  const words: string[] = [];
  if (size !== 1 || count !== 1) {
    words.push(
      'turbocharger: the same one meets another flow; its map decides, not a factor',
      'fuel, spark and head clamp: margins belong to the parts and must be asked anew',
      'knock: a wider bore burns longer and knocks earlier',
    );
  }
  if (size !== 1) words.push('friction and heat loss: smaller cylinders lose a larger share');
  if (count !== 1) words.push('gas exchange: pulses of other numbers of cylinders fill and scavenge differently');
  if (warmer > 0) words.push('knock: warm air may force later timing, which costs more than the air alone');
  if (thicker !== 1 && pressureHeld) {
    words.push(
      'turbocharger speed and exhaust pressure at the same manifold pressure: both rise in thin air and set the limit',
    );
  }
  return words;
}

function badNumber(numbers: Readonly<Record<string, number | boolean | undefined>>) {
  for (const [name, value] of Object.entries(numbers)) {
    if (typeof value !== 'number' || (Number.isFinite(value) && value > 0)) continue;
    return { kind: 'invalid-number', message: `invalid ${name}: ${value}, expected above 0`, numbers: { value } };
  }
  return undefined;
}
