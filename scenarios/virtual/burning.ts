import { clamp } from '../interpolate.ts';
import type { Asked } from './asked.ts';
import type { Fed } from './feeding.ts';
import type { EngineState } from './state.ts';

/** Spark side of one step. timing: of the mean cylinder [°]; clean: without any reaction; need, supply: kV; current: A; fire: whether firings happen. */
export interface Burn {
  readonly timing: number;
  readonly clean: number;
  readonly best: number;
  readonly need: number;
  readonly supply: number;
  readonly current: number;
  readonly dwell: number;
}

const DEGREE = Math.PI / 180;

/** Timing, spark and every firing of one step; leaves the mean work of the firings in the state. */
export function burn(state: EngineState, asked: Asked, fed: Fed): Burn {
  const { engine } = state;
  const { knobs, dt } = asked;
  const best = bestTiming(state, asked);
  const limit = knockLimit(state, asked, state.charge) + knobs.knockLimit;
  const base = knobs.timing + (asked.stage === 'full' ? mappedTiming(state, asked, best) : Math.min(best, 30));
  const spark = sparkOf(state, asked, { timing: base - meanOf(state.retard), lambda: fed.lambda });
  for (let k = 0; k < engine.cylinders; k += 1) state.retard[k] = Math.max(0, (state.retard[k] ?? 0) - 1.2 * dt);
  const fires = asked.stage !== 'overrun' && !knobs.lost;
  fireAll(state, asked, { ...spark, base, limit, fires, lambda: fed.lambda });
  return { timing: knobs.lost ? 0 : base - meanOf(state.retard), clean: base, best, ...spark };
}

/** Timing of best torque [°]. @source shape common practice, no source */
function bestTiming({ engine, map }: EngineState, { speed }: Asked): number {
  if (engine.ignition === 'compression') return 8 + (10 * speed) / engine.redline;
  return clamp(20 + (14 * speed) / engine.redline - 0.05 * (map / 1e3 - 100), 10, 45);
}

/** Timing from which a mean cylinder knocks [°]. @source slopes with pressure and temperature common practice, no source */
function knockLimit({ engine, map }: EngineState, { speed }: Asked, temperature: number): number {
  if (engine.ignition === 'compression') return 90;
  const octane = engine.fuel === 'petrol' ? 0 : 8;
  const compression = 2 * (engine.compression - 9.5);
  return (
    30 + octane + (7 * speed) / engine.redline - 0.11 * (map / 1e3 - 100) - 0.2 * (temperature - 322) - compression
  );
}

/** The map a person made: best torque or a margin before knock at a usual charge temperature, later when the charge is hot. */
function mappedTiming(state: EngineState, asked: Asked, best: number): number {
  const hot = 0.2 * Math.max(0, state.charge - 335);
  return Math.min(best, knockLimit(state, asked, 328) - state.engine.knockMargin - hot);
}

/**
 * Spark voltage needed and there [kV], coil current at the end of the dwell [A].
 *
 * @source need: 4.3 + 136·p/T + 324·(p/T)·d (p bar, T K at the spark, d mm; SAE 2000-01-0245, constants from memory);
 *   charging of a coil I = V/R·(1 − e^(−t·R/L)); voltage there ∝ √(½·L·I²)
 */
function sparkOf(
  state: EngineState,
  { knobs }: Asked,
  { timing, lambda }: { timing: number; lambda: number },
): { need: number; supply: number; current: number; dwell: number } {
  const { engine } = state;
  const { resistance, inductance, dwell } = engine.coil;
  const ohms = resistance * knobs.coilResistance;
  const volts = state.volts - 0.5;
  const current = (volts / ohms) * (1 - Math.exp((-dwell * ohms) / inductance));
  const supply = state.supplyGain * Math.sqrt(0.5 * inductance) * current * knobs.supply;
  const squeezed = engine.compression / volumeOver(engine.compression, timing);
  const density = ((state.map / 1e5) * squeezed ** 1.32) / (state.charge * 1.08 * squeezed ** 0.32);
  const mixture = 1 + 0.6 * Math.max(0, lambda - 0.95);
  const need = (4.3 + 136 * density + 324 * density * engine.gap) * knobs.need * mixture;
  return { need, supply, current, dwell };
}

/** Volume at an angle before top dead centre over the clearance volume, rod 3.5 times the crank [1]. */
function volumeOver(compression: number, degrees: number): number {
  const angle = degrees * DEGREE;
  const path = 4.5 - Math.cos(angle) - Math.sqrt(3.5 ** 2 - Math.sin(angle) ** 2);
  return 1 + ((compression - 1) / 2) * path;
}

interface Firing {
  readonly need: number;
  readonly supply: number;
  readonly base: number;
  readonly limit: number;
  readonly fires: boolean;
  readonly lambda: number;
}

function fireAll(state: EngineState, asked: Asked, spark: Firing): void {
  const { engine, firing } = state;
  state.burst += -(state.burst * asked.dt) / 0.12 + 0.045 * Math.sqrt((2 * asked.dt) / 0.12) * state.slow.normal();
  const before = Math.floor(state.phase);
  state.phase += (asked.speed * engine.cylinders * asked.dt) / (4 * Math.PI);
  const count = Math.floor(state.phase) - before;
  if (count === 0) return;
  let [work, clean, missed, level] = [0, 0, 0, 0];
  for (let k = 0; k < count; k += 1) {
    state.cylinder = (state.cylinder + 1) % engine.cylinders;
    const scatter = 1 + engine.firingScatter * firing.normal();
    clean += scatter;
    const lit = spark.fires && isLit(state, asked, spark);
    const knock = knockOf(state, asked, { ...spark, lit });
    level = Math.max(level, knock.level);
    if (lit) work += scatter * knock.work * (1 - 2 * asked.knobs.valves * firing.uniform());
    else missed += 1;
  }
  state.work = work / count;
  state.cleanWork = spark.fires || asked.knobs.lost ? clean / count : 0;
  state.missed = missed / count;
  state.knockLevel = level;
}

/** Spark through: what it needs scatters from firing to firing and in slow bursts. Very lean and very rich charges do not light. */
function isLit(state: EngineState, { knobs }: Asked, { need, supply, lambda }: Firing): boolean {
  const { engine, firing } = state;
  const roll = firing.uniform();
  const scatter = 0.06 * firing.normal() + state.burst;
  if (knobs.cut > 0 && roll < knobs.cut) return false;
  if (engine.ignition === 'compression') return true;
  const lean = clamp(2 * (lambda - (engine.fuel === 'methane' ? 1.3 : 1.12)), 0, 0.4);
  const rich = clamp(2 * (0.62 - lambda), 0, 0.4);
  if (roll > 1 - lean - rich) return false;
  return need * (1 + scatter) <= supply;
}

/** Noise of a firing [V], with knock when its timing is beyond the limit of its cylinder; the control unit then retards that cylinder. */
function knockOf(
  state: EngineState,
  { knobs, speed }: Asked,
  { base, limit, lit }: Firing & { lit: boolean },
): { level: number; work: number } {
  const { firing, cylinder, retard } = state;
  const rpm = (speed * 30) / Math.PI;
  const load = clamp(state.map / 1.5e5, 0.2, 1.6);
  const quiet = (0.2 + 0.00018 * rpm) * (0.7 + 0.3 * load) * (state.knockBase[cylinder] ?? 1);
  const level = quiet * Math.max(0.3, 1 + 0.09 * firing.normal());
  const roll = firing.uniform();
  const early = base - (retard[cylinder] ?? 0) - limit + (state.knockSpread[cylinder] ?? 0) + 0.5 * firing.normal();
  if (!lit || state.engine.ignition === 'compression') return { level, work: 1 };
  const own = cylinder === 0 && roll < knobs.preIgnition;
  if (!own && early <= 0) return { level, work: 1 };
  state.knockCount += 1;
  retard[cylinder] = Math.min(10, (retard[cylinder] ?? 0) + 1.5);
  return own
    ? { level: quiet * (6 + 3 * roll), work: 1.03 }
    : { level: level * (2.6 + 0.7 * Math.min(4, early)), work: 1 };
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
