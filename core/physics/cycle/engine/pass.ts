import { type BurnAngles, burnAngles, sparkOf, wiebeFromHalf, wiebeFromSpark } from '../burn/burn-law.ts';
import type { Wiebe } from '../burn/wiebe.ts';
import { type ClosedResult, closedCycle } from '../closed/closed-cycle.ts';
import type { Workspace } from '../closed/workspace.ts';
import { residualTemperature } from '../exchange/exhaust.ts';
import { closingPressureRatio, closingVolume, freshTemperature, type IntakeState } from '../exchange/filling.ts';
import { residualMass } from '../exchange/residual.ts';
import type { GasModel, MixtureGas } from '../gas/gas-model.ts';
import { cylinderSize, cylinderVolume } from '../mechanism/cylinder.ts';
import type { CycleEngine, ValveAngles } from './engine.ts';
import type { CycleState } from './state.ts';

export interface PassInput {
  readonly engine: CycleEngine;
  readonly gas: GasModel;
  readonly state: CycleState;
  readonly valves: ValveAngles;
  /** Of the gas left from the cycle before [K]. */
  readonly residualTemperature: number;
}

/** One computation of the cycle, per cylinder; SI. */
export interface Pass {
  readonly mixture: MixtureGas;
  readonly intake: IntakeState;
  readonly charge: Charge;
  readonly wiebe: Wiebe;
  readonly angles: BurnAngles;
  readonly spark: number;
  readonly closed: ClosedResult;
  /** Polynomial and gas constant [J/(kg·K)] of the gas that leaves; the next pass overwrites the polynomial. */
  readonly leaving: Float64Array;
  readonly leavingConstant: number;
  readonly closingVolume: number;
  readonly openingVolume: number;
  /** Of the gas that this cycle leaves, and that it met [K]. */
  readonly residualTemperature: number;
  readonly residualBefore: number;
  /** Lower heating value of the fuel [J/kg]. */
  readonly heatingValue: number;
}

/** Charge at intake closing: kg, Pa, K; `residual` is a share by mass. */
export interface Charge {
  readonly mass: number;
  readonly pressure: number;
  readonly temperature: number;
  readonly residual: number;
}

export function passOver(w: Workspace, input: PassInput): Pass {
  const { engine, gas, state, valves } = input;
  const mixture = gas.of({ lambda: state.lambda, humidityRatio: state.humidityRatio });
  const meanPistonSpeed = (engine.stroke * state.speed) / Math.PI;
  const intake: IntakeState = {
    pressure: state.manifoldPressure,
    temperature: state.chargeTemperature,
    meanPistonSpeed,
    gasConstant: mixture.freshConstant,
  };
  const volume = closingVolume(engine, valves);
  const charge = trappedCharge(input, mixture, { intake, volume });
  const { angles, wiebe, spark } = burningOf(input, charge, volume);
  const closed = closedCycle(w, {
    shape: engine,
    gas: mixture,
    span: {
      intakeCloses: valves.intakeCloses,
      exhaustOpens: valves.exhaustOpens,
      wiebe,
      burnedShare: engine.burnedShare,
    },
    turning: state.speed,
    charge,
    wallTemperature: engine.wallTemperature,
    heatFactor: engine.fit.heatLoss,
    leakArea: engine.leakArea,
    crankcasePressure: CRANKCASE_PRESSURE,
    octane: gas.fuel.octane,
    delayFactor: engine.fit.ignitionDelay,
  });
  return {
    ...leavingGas(w, { mixture, residual: charge.residual, burnedShare: engine.burnedShare }),
    mixture,
    intake,
    charge,
    wiebe,
    angles,
    spark,
    closed,
    closingVolume: volume,
    openingVolume: cylinderVolume(engine, valves.exhaustOpens),
    residualTemperature: residualTemperature({
      ...closed,
      exhaustPressure: state.exhaustPressure,
      wallTemperature: engine.wallTemperature,
    }),
    residualBefore: input.residualTemperature,
    heatingValue: gas.fuel.heatingValue,
  };
}

/** The share that did not burn leaves as it is: it takes its chemical energy with it. */
function leavingGas(
  { leaving }: Workspace,
  {
    mixture,
    residual,
    burnedShare,
  }: Readonly<Record<'residual' | 'burnedShare', number>> & { readonly mixture: MixtureGas },
) {
  const burned = residual + (1 - residual) * burnedShare;
  for (let k = 0; k < 14; k++) leaving[k] = burned * mixture.residual[k] + (1 - burned) * mixture.fresh[k];
  return { leaving, leavingConstant: burned * mixture.residualConstant + (1 - burned) * mixture.freshConstant };
}

/** [Pa] @source our default: near outside pressure; only a leak feels it */
const CRANKCASE_PRESSURE = 95e3;

/**
 * Guess at the temperature of residual gas, from which the passes start [K].
 *
 * @source  our own results over many states, rounded; the passes correct it
 */
export function startingResidualTemperature(state: CycleState): number {
  const rich = Math.max(0, 1 - state.lambda);
  return 1080 + 0.14 * state.speed - 350 * rich;
}

/**
 * Charge when the intake closes: pressure after the filling law, residual gas and fresh charge share the volume.
 *
 *     p·V/R = m_fresh·T_fresh + m_left·T_left        mixing at one pressure, equal heat capacities
 *
 * @source  ideal gas law; filling and residual laws in exchange/
 */
function trappedCharge(
  { engine, gas, state, valves, residualTemperature: hot }: PassInput,
  mixture: MixtureGas,
  at: { readonly intake: IntakeState; readonly volume: number },
): Charge {
  const { intake, volume } = at;
  const pressure = state.manifoldPressure * closingPressureRatio(engine, intake, valves);
  const cold = freshTemperature({
    temperature: state.chargeTemperature,
    evaporationShare: engine.evaporationShare,
    latentHeat: gas.fuel.latentHeat,
    fuelRatio: mixture.shares.fuel / (1 - mixture.shares.fuel),
  });
  const left = residualMass(engine, {
    valves,
    manifoldPressure: state.manifoldPressure,
    exhaustPressure: state.exhaustPressure,
    chargeTemperature: state.chargeTemperature,
    residualTemperature: hot,
    residualConstant: mixture.residualConstant,
    turning: state.speed,
  });
  const fresh = (pressure * volume - left * mixture.residualConstant * hot) / (mixture.freshConstant * cold);
  const mass = fresh + left;
  const residual = left / mass;
  const R = (1 - residual) * mixture.freshConstant + residual * mixture.residualConstant;
  return { mass, pressure, temperature: (pressure * volume) / (mass * R), residual };
}

/** Exponent of compression for the state at the spark. @source common practice 1.30 … 1.34, no source */
const COMPRESSION_EXPONENT = 1.32;
/** Where the burn law is first asked when the spark is not known: so far before half is burned [rad]. @source our default (28°) */
const USUAL_LEAD = 0.49;

function burningOf(input: PassInput, charge: Charge, volume: number) {
  const { phasing } = input.state;
  if (phasing.kind === 'spark') {
    const spark = -phasing.advance;
    const angles = anglesAt(input, { charge, volume, spark });
    return { spark, angles, wiebe: wiebeFromSpark(spark, angles) };
  }
  let spark = phasing.angle - USUAL_LEAD;
  let angles = anglesAt(input, { charge, volume, spark });
  spark = sparkOf(wiebeFromHalf(phasing.angle, angles), angles);
  angles = anglesAt(input, { charge, volume, spark });
  const wiebe = wiebeFromHalf(phasing.angle, angles);
  return { spark: sparkOf(wiebe, angles), angles, wiebe };
}

function anglesAt(
  { engine, gas, state }: PassInput,
  at: { readonly charge: Charge; readonly volume: number; readonly spark: number },
): BurnAngles {
  const { charge, spark } = at;
  const { pistonArea } = cylinderSize(engine);
  const volume = cylinderVolume(engine, spark);
  const squeeze = at.volume / volume;
  const meanPistonSpeed = (engine.stroke * state.speed) / Math.PI;
  const plain = burnAngles({
    fuel: gas.fuel,
    pressure: charge.pressure * squeeze ** COMPRESSION_EXPONENT,
    temperature: charge.temperature * squeeze ** (COMPRESSION_EXPONENT - 1),
    density: charge.mass / volume,
    chamberHeight: volume / pistonArea,
    bore: engine.bore,
    meanPistonSpeed,
    lambda: state.lambda,
    residualShare: charge.residual,
  });
  const { burnDelay, burnDuration, burnDurationSlope } = engine.fit;
  const withSpeed = burnDuration * (1 + burnDurationSlope * (meanPistonSpeed / 12 - 1));
  return { delay: plain.delay * burnDelay, main: plain.main * withSpeed };
}
