import {
  type Coil,
  coilEnergy,
  correlationVoltage,
  cylinderVolume,
  DRY_AIR_GAS_CONSTANT,
  ELECTRODE_FACTORS,
  FORM_SPREAD,
  mixtureFactor,
  primaryCurrent,
  type Secondary,
  secondaryVoltage,
} from '../../../../core/physics/index.ts';
import {
  absolutePressure,
  angle,
  duration,
  length,
  type Measured,
  ratio,
  temperature,
  voltage,
} from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { type Ledger, ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';

const TITLE: LimitTitle = {
  name: 'spark voltage',
  subject: 'spark',
  kind: 'high-voltage',
  source: 'gas density and gap: SAE 2000-01-0245 (not seen, ± 25 %); coil: RL circuit and ½·C·V²',
};

/**
 * Voltage that the plug takes against what the coil has for it.
 *
 * The predicted demand where there is one; else from the trapped air: p/T = m·R/V at the spark, so only the density counts.
 *
 * @source  forms as in {@link correlationVoltage}, {@link secondaryVoltage}
 */
export function sparkVoltage(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const supply = sparkSupply(step, ledger);
  if (!supply) {
    return unknownLimit(
      TITLE,
      { prediction, ledger },
      'coil unknown: state sparkVoltage, or coilResistance and coilInductance',
    );
  }
  return limitFrom(TITLE, { prediction, ledger }, (i) => {
    const told = predicted(prediction, 'spark voltage', i);
    const own = Number.isFinite(told.value) ? told : sparkNeed({ model, prediction, step, ledger }, i);
    return { required: taught(own, ledger.look('sparkDemandFactor')), available: supply };
  });
}

/** Of a demand that the day's own breakup has scaled, beside the factor's own spread [1]: carrying to other gaps and pressures. @source our default */
const LEFT = 0.03;

/** Demand as the day's breakup teaches it: then the equation's own spread has fallen out. */
function taught(demand: Measured, factor: Measured | undefined): Measured {
  if (!factor) return demand;
  const value = demand.value * factor.value;
  return around(value, value * Math.hypot(factor.standardUncertainty / factor.value, LEFT));
}

interface NeedInput {
  readonly model: EngineModel;
  readonly prediction: Prediction;
  readonly step: Step;
  readonly ledger: Ledger;
}

/** Share of burned gas left in the cylinder and what the trapped mass is known to [1]. @source our default; the cycle model replaces it */
const RESIDUAL = around(0.04, 0.02);
const TRAPPED_SPREAD = 0.03;

/** Breakdown voltage of the plug [V] at one speed, from the air that the engine takes. */
function sparkNeed({ model, prediction, step, ledger }: NeedInput, index: number): Measured {
  const { engine } = model;
  const omega = prediction.speed[index];
  const air = predicted(prediction, 'air flow', index);
  const timing = predicted(prediction, 'timing', index);
  const gap = step.plugGap === undefined ? ledger.take('plugGap', USUAL_GAP) : around(step.plugGap, 0.02e-3);
  const lambda = step.lambda ?? model.habits.lambda(omega, step.manifoldPressure).value;
  const worn = ledger.take('electrodeFactor', { ...ELECTRODE_FACTORS.worn, source: 'common practice, no source' });
  const perCycle = (air.value * 4 * Math.PI) / (omega * engine.cylinders * (1 - RESIDUAL.value));
  const newPlug = (advance: number, d: number): number => {
    const density = (perCycle * DRY_AIR_GAS_CONSTANT) / cylinderVolume(engine, angle(-advance));
    // at 1 K the pressure is p/T itself
    return correlationVoltage({ gap: length(d), pressure: absolutePressure(density), temperature: temperature(1) });
  };
  const best = newPlug(timing.value, gap.value);
  const factor = worn.value * mixtureFactor(ratio(lambda));
  const airShare = ((best - 4.3e3) / best) * Math.hypot(air.standardUncertainty / air.value, TRAPPED_SPREAD);
  const gapShare = (newPlug(timing.value, gap.value + gap.standardUncertainty) - best) / best;
  const timingShare = (newPlug(timing.value + timing.standardUncertainty, gap.value) - best) / best;
  const wornShare = worn.standardUncertainty / worn.value;
  const relative = Math.hypot(FORM_SPREAD, airShare, gapShare, timingShare, wornShare);
  return around(best * factor, best * factor * relative);
}

const USUAL_GAP = { value: 0.7e-3, standardUncertainty: 0.08e-3, source: 'common practice, no source' };

/**
 * Voltage that the coil has for the step [V]; undefined when too little is known of the coil.
 *
 * A stated voltage is carried to the step's dwell and supply in proportion to the primary current.
 *
 * @source  V ∝ √E, E = ½·L·i²
 */
export function sparkSupply(step: Step, ledger: Ledger): Measured | undefined {
  const told = ledger.look('sparkVoltage');
  const dwell = ledger.take('dwell', USUAL_DWELL);
  const volts = ledger.take('coilVoltage', USUAL_VOLTS);
  const now = { dwell: step.dwell ?? dwell.value, volts: step.coilVoltage ?? volts.value };
  const same = now.dwell === dwell.value && now.volts === volts.value;
  if (told && same) return told;
  const R = ledger.need('coilResistance');
  const L = ledger.need('coilInductance');
  // without the coil's numbers the current still goes with the voltage, and with the dwell at most in proportion
  const currentOf = (dwellTime: number, supply: number): number =>
    R && L
      ? primaryCurrent(coilOf(R.value, L.value), voltage(supply), duration(dwellTime))
      : supply * (told ? dwellTime : Number.NaN);
  if (told) {
    const factor = currentOf(now.dwell, now.volts) / currentOf(dwell.value, volts.value);
    const stretch = Math.abs(factor - 1) * (R && L ? 0.1 : 0.4);
    return around(told.value * factor, Math.hypot(told.standardUncertainty * factor, told.value * stretch));
  }
  if (!R || !L) return undefined;
  const capacitance = ledger.take('coilCapacitance', USUAL_CAPACITANCE);
  const transfer = ledger.take('coilTransfer', USUAL_TRANSFER);
  const secondary: Secondary = { capacitance: capacitance.value, transfer: ratio(transfer.value) };
  const energy = coilEnergy(
    coilOf(R.value, L.value),
    primaryCurrent(coilOf(R.value, L.value), voltage(now.volts), duration(now.dwell)),
  );
  const value = secondaryVoltage(secondary, energy);
  const relative = Math.hypot(
    capacitance.standardUncertainty / capacitance.value / 2,
    transfer.standardUncertainty / transfer.value / 2,
    R.standardUncertainty / R.value / 4,
    L.standardUncertainty / L.value / 2,
    volts.standardUncertainty / volts.value,
    dwell.standardUncertainty / dwell.value / 2,
  );
  return around(value, value * relative);
}

function coilOf(resistance: number, inductance: number): Coil {
  return { resistance, inductance };
}

/** [s] */
export const USUAL_DWELL = { value: 3e-3, standardUncertainty: 0.4e-3, source: 'common practice, no source' };
const USUAL_VOLTS = { value: 13.5, standardUncertainty: 0.4, source: 'common practice, no source' };
/** 40 … 100 pF, 0.5 … 0.8 as limits of even distributions. */
const USUAL_CAPACITANCE = { value: 70e-12, standardUncertainty: 17e-12, source: 'common practice, no source' };
const USUAL_TRANSFER = { value: 0.65, standardUncertainty: 0.09, source: 'common practice, no source' };
