import type { MixtureGas } from '../gas/gas-model.ts';
import { polynomialEnthalpy } from '../gas/polynomial.ts';
import { MOLAR_GAS_CONSTANT } from '../gas/species.ts';
import type { CylinderShape } from '../mechanism/cylinder.ts';
import { cylinderSize } from '../mechanism/cylinder.ts';
import { burnedInto } from './burned-lookup.ts';
import { type CycleSpan, fillGridInto } from './grid.ts';
import { knockOf } from './knock.ts';
import { marchPart } from './march.ts';
import { type Peak, pressurePeak } from './peak.ts';
import { CALORIC, F, G, S, type Workspace } from './workspace.ts';
import { WOSCHNI } from './woschni.ts';

/** Charge at intake closing, in SI, and what the closed part of the cycle meets. */
export interface ClosedInput {
  readonly shape: CylinderShape;
  readonly gas: MixtureGas;
  readonly span: CycleSpan;
  /** ω [rad/s] */
  readonly turning: number;
  /** Mass [kg], pressure [Pa], temperature [K] and residual share of the charge by mass. */
  readonly charge: {
    readonly mass: number;
    readonly pressure: number;
    readonly temperature: number;
    readonly residual: number;
  };
  readonly wallTemperature: number;
  /** Factor on the heat transfer coefficient. */
  readonly heatFactor: number;
  /** Effective area of the ring gaps [m²], 0 for none, and the pressure behind them [Pa]. */
  readonly leakArea: number;
  readonly crankcasePressure: number;
  readonly octane: number;
  /** Factor on the ignition delay of the end gas. */
  readonly delayFactor: number;
}

/** Outcome of one closed part, per cylinder. Energies in J, counted from intake closing to exhaust opening. */
export interface ClosedResult {
  readonly work: number;
  readonly heat: number;
  readonly leakedEnthalpy: number;
  /** Internal energy with formation at both ends. */
  readonly energyAtStart: number;
  readonly energyAtEnd: number;
  readonly massAtEnd: number;
  readonly pressureAtEnd: number;
  readonly burnedTemperatureAtEnd: number;
  /** Slope of R·T with h of burned gas at the end: R/cp where it holds its composition. */
  readonly exponentAtEnd: number;
  readonly peak: Peak;
  readonly hottestUnburned: number;
  readonly knockIntegral: number;
}

/**
 * Closed part of the cycle, from intake closing to exhaust opening, with two zones while and after burning.
 *
 * @param w  arrays, overwritten; its trace is that of this cycle afterwards
 * @source  first law; see closed/slopes.ts
 */
export function closedCycle(w: Workspace, input: ClosedInput): ClosedResult {
  const parts = fillGridInto(w, input.shape, input.span);
  prepareCycle(w, input);
  const energyAtStart = internalEnergy(w, 0);
  marchPart(w, parts[0]);
  w.trace.burned.fill(Number.NaN, 0, parts[1].node);
  w.frame[F.startPressure] = w.state[S.pressure] / w.points.motored[parts[1].point];
  marchPart(w, parts[1]);
  marchPart(w, parts[2]);
  const last = parts[2].point + 2 * parts[2].steps;
  const energyAtEnd = internalEnergy(w, w.points.share[last]);
  return {
    work: w.state[S.work],
    heat: w.state[S.heat],
    leakedEnthalpy: w.state[S.leaked],
    energyAtStart,
    energyAtEnd,
    massAtEnd: w.state[S.mass],
    pressureAtEnd: w.state[S.pressure],
    burnedTemperatureAtEnd: w.gas[G.temperature],
    exponentAtEnd: w.gas[G.byEnthalpy],
    peak: pressurePeak(w.trace),
    hottestUnburned: highest(w.trace.unburned),
    knockIntegral: knockOf(w, parts, input),
  };
}

/** Puts charge, gas and constants of the laws into a workspace whose grid is filled. */
export function prepareCycle(w: Workspace, input: ClosedInput): void {
  const { frame, state, unburned } = w;
  const { gas, charge, shape, turning } = input;
  for (let k = 0; k < 14; k++) unburned[k] = (1 - charge.residual) * gas.fresh[k] + charge.residual * gas.residual[k];
  caloricInto(w.caloric, unburned);
  w.burned = gas.burned;
  const R = (1 - charge.residual) * gas.freshConstant + charge.residual * gas.residualConstant;
  const meanSpeed = (shape.stroke * turning) / Math.PI;
  const { displacement } = cylinderSize(shape);
  const motion = WOSCHNI.motion * meanSpeed;
  frame[F.freshConstant] = R;
  frame[F.wall] = input.wallTemperature;
  const heat =
    ((input.heatFactor * WOSCHNI.scale) / turning) *
    shape.bore ** WOSCHNI.bore *
    1000 ** -WOSCHNI.pressure *
    (charge.mass * R) ** -WOSCHNI.temperature;
  frame[F.motionHeat] = heat * motion ** WOSCHNI.motionPower;
  const { volume } = w.points;
  frame[F.burning] = (WOSCHNI.burning * displacement * charge.temperature) / (charge.pressure * volume[0] * motion);
  frame[F.leak] = input.leakArea / (Math.sqrt(R * input.wallTemperature) * turning);
  frame[F.crankcase] = input.crankcasePressure;
  frame[F.reference] = gas.burnedReference;
  state.fill(0);
  state[S.pressure] = charge.pressure;
  state[S.unburned] = charge.temperature;
  state[S.mass] = charge.mass;
}

/** @source NASA polynomials: cp/R = Σ a·T^k, h/R = ∫ of it + a₅ */
function caloricInto(caloric: Float64Array, unburned: Float64Array): void {
  for (let range = 0; range < 2; range++) {
    const from = 7 * range;
    const to = CALORIC.size * range;
    caloric[to + CALORIC.enthalpy] = MOLAR_GAS_CONSTANT * unburned[from + 5];
    for (let k = 0; k < 5; k++) {
      const coefficient = MOLAR_GAS_CONSTANT * unburned[from + k];
      caloric[to + CALORIC.heatCapacity + k] = coefficient;
      caloric[to + CALORIC.enthalpy + 1 + k] = coefficient / (k + 1);
    }
  }
}

/** U = m·[(1 − x)·(hu − R·Tu) + x·(hb − g)] [J], h with formation. */
export function internalEnergy(w: Workspace, x: number): number {
  const { state, frame, unburned, gas, lookup } = w;
  const T = state[S.unburned];
  const h = polynomialEnthalpy(unburned, T);
  const cool = h - frame[F.freshConstant] * T;
  if (x === 0) return state[S.mass] * cool;
  const hot = h + state[S.lag] / x;
  lookup[0] = hot - frame[F.reference];
  lookup[1] = state[S.pressure] ** -0.25;
  burnedInto(gas, w.burned, lookup);
  return state[S.mass] * ((1 - x) * cool + x * (hot - gas[G.energy]));
}

function highest(values: Float64Array): number {
  let found = 0;
  for (let i = 0; i < values.length; i++) if (values[i] > found) found = values[i];
  return found;
}
