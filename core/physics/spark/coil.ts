import {
  type AngularSpeed,
  angularSpeed,
  type Current,
  current,
  type Duration,
  duration,
  type Energy,
  energy,
  type Power,
  power,
  type Ratio,
  type Voltage,
  voltage,
} from '../../quantities/index.ts';

/** Primary side of an ignition coil. */
export interface Coil {
  /** Whole primary circuit with driver and wiring [Ω], > 0. */
  readonly resistance: number;
  /** Primary, core unsaturated [H], > 0. */
  readonly inductance: number;
  /** Current at which the core saturates; absent: never. */
  readonly saturationCurrent?: Current;
  /** Primary beyond saturation [H]; needed with a saturation current. */
  readonly saturatedInductance?: number;
}

/**
 * Primary current at the end of a dwell [A].
 *
 *     i = V/R·(1 − e^(−R·t/L))        from the saturation current on with the smaller inductance
 *
 * @param volts at the coil circuit [V]
 * @valid   abrupt saturation; R constant (copper gains 0.39 %/K)
 * @source  RL circuit; saturation in two straight pieces (our default)
 */
export function primaryCurrent(coil: Coil, volts: Voltage, dwell: Duration): Current {
  return current(pieces(coil, volts, dwell).reduce((_, piece) => piece.end, 0));
}

/** Energy in the core at a primary current [J]: ½·L·i², beyond saturation ½·L·is² + ½·Ls·(i² − is²). @source integral of L(i)·i·di */
export function coilEnergy(coil: Coil, i: Current): Energy {
  const { inductance: L, saturationCurrent: knee = i, saturatedInductance: Ls = L } = coil;
  if (i <= knee) return energy((L * i * i) / 2);
  return energy((L * knee * knee + Ls * (i * i - knee * knee)) / 2);
}

/** Dwell to reach a current [s]; infinite when the circuit never carries it. @source inverse of {@link primaryCurrent} */
export function dwellForCurrent(coil: Coil, volts: Voltage, wanted: Current): Duration {
  const { resistance: R, inductance: L, saturationCurrent: knee = wanted, saturatedInductance: Ls = L } = coil;
  const settled = volts / R;
  if (!(wanted < settled)) return duration(Number.POSITIVE_INFINITY);
  const first = Math.min(wanted, knee);
  const rise = (inductance: number, from: number, to: number): number =>
    (inductance / R) * Math.log((settled - from) / (settled - to));
  return duration(rise(L, 0, first) + (wanted > knee ? rise(Ls, knee, wanted) : 0));
}

/** Heat in the primary circuit over one dwell [J]: R·∫i² dt. @source Joule's law, closed integral */
export function primaryHeat(coil: Coil, volts: Voltage, dwell: Duration): Energy {
  const settled = volts / coil.resistance;
  const heat = pieces(coil, volts, dwell).reduce((sum, { start, inductance, time }) => {
    const tau = inductance / coil.resistance;
    const left = start - settled;
    const decay = Math.exp(-time / tau);
    const square =
      settled * settled * time +
      2 * settled * left * tau * (1 - decay) +
      ((left * left * tau) / 2) * (1 - decay * decay);
    return sum + square;
  }, 0);
  return energy(coil.resistance * heat);
}

/** Secondary side. */
export interface Secondary {
  /** Of winding, lead and plug together [F]; 40 … 100 pF (common practice, no source). */
  readonly capacitance: number;
  /** Share of core energy that reaches that capacitance [1]; 0.5 … 0.8 (common practice, no source). */
  readonly transfer: Ratio;
  /** Secondary over primary turns [1], with `clamp`. */
  readonly turns?: number;
  /** Voltage at which the driver is clamped [V]. */
  readonly clamp?: Voltage;
}

/**
 * Highest voltage that the secondary reaches with no spark [V].
 *
 *     V = √(2·η·E/C),   at most turns × clamp
 *
 * @valid   no leak over the plug; a fouled plug of 1 MΩ takes a good part of it
 * @source  ½·C·V² = η·E
 */
export function secondaryVoltage({ capacitance, transfer, turns, clamp }: Secondary, stored: Energy): Voltage {
  const free = Math.sqrt((2 * transfer * stored) / capacitance);
  return voltage(turns !== undefined && clamp !== undefined ? Math.min(free, turns * clamp) : free);
}

/**
 * Share left for the firing plug where one coil feeds two plugs in series [V].
 *
 * @param waste demand of the plug in the exhaust stroke: low, since the gas is thin (a few kV, common practice, no source)
 * @source  voltages in series add
 */
export function wastedSparkVoltage(available: Voltage, waste: Voltage): Voltage {
  return voltage(Math.max(0, available - waste));
}

/** When a coil fires. */
export interface FiringPattern {
  readonly engineSpeed: AngularSpeed;
  /** Sparks of one coil per four-stroke cycle: 1, or 2 for a wasted spark. */
  readonly sparksPerCycle: number;
  /** How long the spark burns [s]. */
  readonly sparkDuration: Duration;
}

/** Time between two sparks of one coil [s]. @source one cycle is two revolutions */
export function timeBetweenSparks({ engineSpeed, sparksPerCycle }: FiringPattern): Duration {
  return duration((4 * Math.PI) / (engineSpeed * sparksPerCycle));
}

/**
 * Longest dwell at a speed [s]: the rest of the cycle after the spark, and no more than a share of the cycle.
 *
 * @param dutyLimit largest share of the time with current [1]; 0.6 … 0.7 (common practice, no source)
 */
export function longestDwell(pattern: FiringPattern, dutyLimit: Ratio): Duration {
  const between = timeBetweenSparks(pattern);
  return duration(Math.max(0, Math.min(between - pattern.sparkDuration, dutyLimit * between)));
}

/** Highest engine speed at which a dwell still fits between two sparks [rad/s]. @source one cycle is two revolutions */
export function highestSpeedOfDwell(pattern: Omit<FiringPattern, 'engineSpeed'>, dwell: Duration): AngularSpeed {
  return angularSpeed((4 * Math.PI) / (pattern.sparksPerCycle * (dwell + pattern.sparkDuration)));
}

/** Mean heat of the primary circuit at a speed [W]. @source {@link primaryHeat} per time between sparks */
export function coilHeat(
  coil: Coil,
  dwell: { readonly volts: Voltage; readonly time: Duration },
  pattern: FiringPattern,
): Power {
  return power(primaryHeat(coil, dwell.volts, dwell.time) / timeBetweenSparks(pattern));
}

interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly inductance: number;
  readonly time: number;
}

function pieces(coil: Coil, volts: Voltage, dwell: Duration): readonly Stretch[] {
  const { resistance: R, inductance: L, saturationCurrent, saturatedInductance } = coil;
  const reached = (from: number, inductance: number, time: number): number =>
    volts / R + (from - volts / R) * Math.exp((-R * time) / inductance);
  const knee =
    saturationCurrent === undefined
      ? Number.POSITIVE_INFINITY
      : dwellForCurrent({ resistance: R, inductance: L }, volts, saturationCurrent);
  const first = Math.min(dwell, knee);
  const linear = { start: 0, end: reached(0, L, first), inductance: L, time: first };
  if (dwell <= knee || saturationCurrent === undefined) return [linear];
  const Ls = saturatedInductance ?? L;
  const time = dwell - knee;
  return [linear, { start: saturationCurrent, end: reached(saturationCurrent, Ls, time), inductance: Ls, time }];
}
