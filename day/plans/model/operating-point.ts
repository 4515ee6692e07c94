import {
  AIR,
  type CompressorMap,
  type CycleEngine,
  type CycleResult,
  type CycleSolver,
  cycleSolver,
  DRY_AIR_GAS_CONSTANT,
  EXHAUST,
  type GasModel,
  isentropicRise,
  mapPoint,
  turbineBalance,
} from '../../../core/physics/index.ts';
import {
  absolutePressure,
  angle,
  angularSpeed,
  area,
  massFlow,
  power,
  ratio,
  temperature,
} from '../../../core/quantities/index.ts';
import { carried, coolantRise } from './coolant.ts';
import { KNOTS, knotName } from './parameters.ts';

/** Every number by name: parameters of the fit and values of the parts, SI. */
export type Numbers = Readonly<Record<string, number>>;

/** What is asked of the engine at one speed; SI. */
export interface Query {
  readonly speed: number;
  readonly manifoldPressure: number;
  readonly timing: number;
  /** How much of the timing is on top of the day's habit [rad]. */
  readonly timingShift: number;
  readonly lambda: number;
  readonly camPhase: number;
  readonly ambientTemperature: number;
  readonly ambientPressure: number;
  readonly humidityRatio: number;
  /** Warming of what cools the charge, as somebody stated it [K]; absent: as in the pulls of the day. */
  readonly soak: number | undefined;
  /** Time under load at which a usual pull comes to this speed [s]. */
  readonly loadTime: number;
  /** Water of the cooler's tank [K] and ice in it [kg] when the load begins; absent: as stated. */
  readonly water?: number | undefined;
  readonly ice?: number | undefined;
  /** Additional loss before the compressor at the rated flow [Pa]. */
  readonly inletLoss: number;
  /** Measured: then not computed. */
  readonly chargeTemperature?: number | undefined;
  readonly exhaustPressure?: number | undefined;
  /** Where the search for both starts; saves rounds. */
  readonly start?: { readonly chargeTemperature: number; readonly exhaustPressure: number } | undefined;
}

/** Steady state of engine and air path. NaN where the map does not reach; `border` then says on which side. */
export interface OperatingPoint {
  readonly cycle: CycleResult;
  readonly airFlow: number;
  readonly fuelFlow: number;
  readonly chargeTemperature: number;
  /** What cools the charge above the air outside [K], and what the charge gives to it [W]. */
  readonly coolantRise: number;
  readonly coolerHeat: number;
  readonly exhaustPressure: number;
  readonly turboSpeed: number;
  readonly pressureRatio: number;
  readonly correctedFlow: number;
  readonly compressorEfficiency: number;
  readonly compressorPower: number;
  /** Of the exhaust that passes the gate [1]; NaN without a turbocharger or where the turbine is short of power. */
  readonly gateShare: number;
  readonly border: string | undefined;
  readonly settled: boolean;
}

/** An engine that can be asked at many states, with arrays made once. */
export interface Engine {
  readonly at: (numbers: Numbers, query: Query, fine: boolean) => OperatingPoint | undefined;
  /** The air path again with other numbers, the cycle of a point kept. */
  readonly airAgain: (numbers: Numbers, query: Query, point: OperatingPoint) => OperatingPoint;
}

export interface EngineParts {
  readonly engine: CycleEngine;
  readonly gas: GasModel;
  readonly map: CompressorMap | undefined;
  readonly boosted: boolean;
}

/** Charge temperature and relative exhaust pressure at which the loop has settled [K], [1], and most rounds. @source our default: 0.02 % of torque */
const SETTLED = { temperature: 0.1, pressure: 1e-3, rounds: 8 } as const;
/** Hottest charge [K] and highest exhaust over manifold pressure [1] in the search. @source our default: beyond any sound engine */
const SEARCHED = { hottest: 415, pressure: 3 } as const;
/** Steps that keep torque within 0.02 % of the finest; half as many passes while the loop settles. @source measured, docs/physics/calibration.md */
const COARSE = { compression: 12, burning: 20, expansion: 12 } as const;
/** State at which losses are taken as stated: cooler [Pa], [K]; density of the inlet air [kg/m³]. @source our default */
const COOLER_STATE = { pressure: 200e3, temperature: 330 } as const;
const INLET_DENSITY = 1.1;

/** Engine with its air path. */
export function engineAt(parts: EngineParts): Engine {
  const fit: Record<string, number> = { ...parts.engine.fit };
  const changing = { ...parts.engine, fit: { ...parts.engine.fit } };
  const quick = cycleSolver(changing, parts.gas, { steps: COARSE, passes: 1 });
  const fine = cycleSolver(changing, parts.gas, { steps: COARSE });
  return {
    at: (numbers, query, exact) => {
      setFit(changing, fit, { numbers, query });
      return settledPoint(parts, { quick, fine: exact ? fine : quick }, { numbers, query });
    },
    airAgain: (numbers, query, point) => ({ ...point, ...airPath(parts, { numbers, query }, point) }),
  };
}

type Changing = { -readonly [Key in keyof CycleEngine]: CycleEngine[Key] };

/** Moves the engine's parameters to these numbers; filling takes the bends over speed and the effect of the cam phase. */
function setFit(engine: Changing, fit: Record<string, number>, { numbers, query }: Asked): void {
  for (const name in fit) fit[name] = numbers[name] ?? fit[name];
  const { filling, fillingSlope, fillingBend, intakeLag, burnDelay, burnDuration } = fit;
  const { burnDurationSlope, heatLoss, friction, pumping, ignitionDelay, exhaustHeat } = fit;
  const share = query.speed / numbers.redline;
  const phase = query.camPhase;
  const byPhase =
    phase * (numbers.phaseEffect + numbers.phaseSlope * (share - 0.7)) + numbers.phaseBend * phase * phase;
  engine.compressionRatio = ratio(numbers.compressionRatio);
  engine.fit = {
    ...{ fillingSlope, fillingBend, intakeLag, burnDelay, burnDuration, burnDurationSlope },
    ...{ heatLoss, friction, pumping, ignitionDelay, exhaustHeat },
    filling: filling * (1 + hats(numbers, share) + byPhase),
  };
}

/** Bends of filling, straight between their places and level outside. */
function hats(numbers: Numbers, share: number): number {
  const last = KNOTS.length - 1;
  if (share <= KNOTS[0]) return numbers[knotName(KNOTS[0])];
  if (share >= KNOTS[last]) return numbers[knotName(KNOTS[last])];
  let k = 0;
  while (KNOTS[k + 1] < share) k++;
  const part = (share - KNOTS[k]) / (KNOTS[k + 1] - KNOTS[k]);
  return (1 - part) * numbers[knotName(KNOTS[k])] + part * numbers[knotName(KNOTS[k + 1])];
}

interface Asked {
  readonly numbers: Numbers;
  readonly query: Query;
}

interface Solvers {
  readonly quick: CycleSolver;
  readonly fine: CycleSolver;
}

/** Charge temperature and exhaust pressure by fixed-point iteration; undefined where the cycle cannot be computed. */
function settledPoint(parts: EngineParts, solvers: Solvers, asked: Asked): OperatingPoint | undefined {
  const { query } = asked;
  let chargeTemperature =
    query.chargeTemperature ?? query.start?.chargeTemperature ?? query.ambientTemperature + (query.soak ?? 5) + 22;
  let exhaustPressure = query.exhaustPressure ?? query.start?.exhaustPressure ?? firstExhaustPressure(parts, query);
  for (let round = 1; ; round++) {
    const state = stateOf(asked, chargeTemperature, exhaustPressure);
    const solved = solvers.quick.solve(state);
    if (!solved.ok) return undefined;
    const air = airPath(parts, asked, { cycle: solved.value, chargeTemperature });
    const nextTemperature = query.chargeTemperature ?? air.chargeTemperature;
    const nextPressure = query.exhaustPressure ?? air.exhaustPressure;
    const settled =
      Math.abs(nextTemperature - chargeTemperature) < SETTLED.temperature &&
      Math.abs(nextPressure / exhaustPressure - 1) < SETTLED.pressure;
    // the search may swing beyond what an engine can be; a state that stays there does not settle
    chargeTemperature = Math.min(SEARCHED.hottest, nextTemperature);
    exhaustPressure = Math.min(SEARCHED.pressure * query.manifoldPressure, nextPressure);
    if (!Number.isFinite(chargeTemperature + exhaustPressure)) return undefined;
    if (!settled && round < SETTLED.rounds) continue;
    if (solvers.fine === solvers.quick) return { ...air, cycle: solved.value, settled };
    const last = solvers.fine.solve(stateOf(asked, chargeTemperature, exhaustPressure));
    if (!last.ok) return undefined;
    return { ...airPath(parts, asked, { cycle: last.value, chargeTemperature }), cycle: last.value, settled };
  }
}

function firstExhaustPressure({ boosted }: EngineParts, { manifoldPressure, ambientPressure }: Query): number {
  return boosted ? Math.max(1.1 * ambientPressure, 1.15 * manifoldPressure) : 1.08 * ambientPressure;
}

function stateOf({ numbers, query }: Asked, chargeTemperature: number, exhaustPressure: number) {
  return {
    speed: angularSpeed(query.speed),
    manifoldPressure: absolutePressure(query.manifoldPressure),
    chargeTemperature: temperature(chargeTemperature),
    exhaustPressure: absolutePressure(exhaustPressure),
    lambda: ratio(query.lambda),
    humidityRatio: ratio(query.humidityRatio),
    phasing: phasingOf(numbers, query),
    intakePhase: angle(query.camPhase),
    exhaustPhase: angle(0),
  };
}

/** By the spark; where compression lights the charge by where half is burned, which moves with the injection. */
function phasingOf({ halfBurned }: Numbers, { timing, timingShift }: Query) {
  return Number.isFinite(halfBurned)
    ? ({ kind: 'half burned', angle: angle(halfBurned - timingShift) } as const)
    : ({ kind: 'spark', advance: angle(timing) } as const);
}

type AirPath = Omit<OperatingPoint, 'cycle' | 'settled'>;

/**
 * Air path for a cycle: compressor from losses and map, charge temperature behind the cooler, exhaust pressure from the power balance.
 *
 *     p1 = p0 − Δp_inlet,  p2 = MAP + Δp_cooler,  T2 = T1·(1 + rise(p2/p1)/η),  T3 = T2 − ε·(T2 − Tc)
 *
 * @source  definitions; losses ∝ ṁ²/ρ; effectiveness straight over flow about the rated one (our default)
 */
function airPath(
  parts: EngineParts,
  { numbers, query }: Asked,
  at: { readonly cycle: CycleResult; readonly chargeTemperature: number },
): AirPath {
  const { cycle } = at;
  const cycles = query.speed / (4 * Math.PI);
  const airFlow = cycle.airPerCycle * cycles;
  const fuelFlow = cycle.fuelPerCycle * cycles;
  const square = (airFlow / numbers.ratedAirFlow) ** 2;
  const outside = query.ambientPressure / (DRY_AIR_GAS_CONSTANT * query.ambientTemperature);
  const p1 = query.ambientPressure - ((numbers.inletLoss + query.inletLoss) * square * INLET_DENSITY) / outside;
  const cooled = (query.manifoldPressure / COOLER_STATE.pressure) * (COOLER_STATE.temperature / at.chargeTemperature);
  const p2 = query.manifoldPressure + (parts.boosted ? (numbers.coolerLoss * square) / cooled : 0);
  const exhaust = {
    flow: airFlow + fuelFlow,
    outlet: query.ambientPressure + numbers.exhaustLoss * ((airFlow + fuelFlow) / (1.08 * numbers.ratedAirFlow)) ** 2,
    temperature: cycle.exhaustTemperature,
  };
  const compressor = compressorAt(parts, { numbers, query }, { airFlow, p1, pressureRatio: p2 / p1 });
  const T2 = query.ambientTemperature + compressor.rise;
  return {
    airFlow,
    fuelFlow,
    ...(parts.boosted ? behindCooler({ numbers, query }, T2, airFlow) : withoutCooler(query)),
    ...compressor,
    ...turbineAt(parts, numbers, { ...compressor, ...exhaust }),
  };
}

/** Charge behind the cooler. @source T3 = T2 − ε·(T2 − Tc) */
function behindCooler({ numbers, query }: Asked, T2: number, airFlow: number): Cooled {
  const heatFlow = airFlow * AIR.heatCapacity;
  const byFlow = numbers.coolerEffectiveness * (1 + numbers.coolerFlow * (airFlow / numbers.ratedAirFlow - 1));
  const effectiveness = carried(byFlow, numbers, heatFlow);
  const rise = coolantRise(numbers, query, { temperature: T2, effectiveness, heatFlow });
  const drop = effectiveness * (T2 - query.ambientTemperature - rise);
  return { chargeTemperature: T2 - drop, coolantRise: rise, coolerHeat: heatFlow * drop };
}

/** Warming of the charge on its way through a warm engine [K]. @source our default */
const WARMED_ON_THE_WAY = 8;

function withoutCooler({ ambientTemperature, soak = 0 }: Query): Cooled {
  return { chargeTemperature: ambientTemperature + WARMED_ON_THE_WAY + soak, coolantRise: soak, coolerHeat: 0 };
}

type Cooled = Pick<OperatingPoint, 'chargeTemperature' | 'coolantRise' | 'coolerHeat'>;

function compressorAt(
  { map, boosted }: EngineParts,
  { numbers, query }: Asked,
  { airFlow, p1, pressureRatio }: { readonly airFlow: number; readonly p1: number; readonly pressureRatio: number },
) {
  const none = { turboSpeed: Number.NaN, correctedFlow: Number.NaN, border: undefined };
  if (!boosted) return { ...none, pressureRatio, rise: 0, compressorEfficiency: Number.NaN, compressorPower: 0 };
  const T1 = query.ambientTemperature;
  const reference = map?.reference ?? { temperature: 298.15, pressure: 100e3 };
  // equal compressors side by side share the flow, and the map is that of one
  const each = airFlow / (numbers.compressors > 0 ? numbers.compressors : 1);
  const correctedFlow = (each * Math.sqrt(T1 / reference.temperature) * reference.pressure) / p1;
  const point = map && pressureRatio > 0 ? mapPoint(map, massFlow(correctedFlow), ratio(pressureRatio)) : undefined;
  const inside = point?.kind === 'inside' ? point : undefined;
  const onMap = inside && inside.efficiency > 0 ? inside.efficiency * numbers.mapEfficiency : undefined;
  const efficiency = onMap ?? numbers.compressorEfficiency;
  const rise = (T1 * Math.max(0, isentropicRise(ratio(pressureRatio), AIR))) / efficiency;
  return {
    pressureRatio,
    correctedFlow,
    rise,
    compressorEfficiency: efficiency,
    compressorPower: airFlow * AIR.heatCapacity * rise,
    turboSpeed: inside ? numbers.mapSpeed * inside.speed * Math.sqrt(T1 / reference.temperature) : Number.NaN,
    border: point?.kind === 'outside' ? point.border : undefined,
  };
}

function turbineAt(
  { boosted }: EngineParts,
  numbers: Numbers,
  at: {
    readonly compressorPower: number;
    readonly flow: number;
    readonly outlet: number;
    readonly temperature: number;
  },
) {
  if (!boosted) return { exhaustPressure: at.outlet, gateShare: Number.NaN };
  const balance = turbineBalance(
    {
      effectiveArea: area(numbers.turbineArea),
      efficiency: ratio(numbers.turbineEfficiency),
      mechanicalEfficiency: ratio(1),
    },
    {
      flow: massFlow(at.flow),
      temperature: temperature(at.temperature),
      outletPressure: absolutePressure(at.outlet),
      gas: EXHAUST,
    },
    power(Math.max(0, at.compressorPower)),
  );
  return {
    exhaustPressure: balance.inletPressure,
    gateShare: balance.kind === 'balanced' ? balance.gateShare : Number.NaN,
  };
}
