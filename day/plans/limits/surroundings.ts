import { type GasState, standardAtmosphere } from '../../../core/physics/index.ts';
import { absolutePressure, length, temperature } from '../../../core/quantities/index.ts';
import type { Step } from '../model/engine-model.ts';
import type { Ledger } from './ledger.ts';

/** Air outside for a step: what it states, else the standard atmosphere at its height, else that of the day. @source US Standard Atmosphere 1976 */
export function outsideAir(step: Step, ledger: Ledger): GasState {
  const air = step.altitude === undefined ? undefined : standardAtmosphere(length(step.altitude));
  const pressure = step.ambientPressure ?? air?.pressure ?? ledger.take('ambientPressure', USUAL_PRESSURE).value;
  const T = step.ambientTemperature ?? air?.temperature ?? ledger.take('ambientTemperature', USUAL_TEMPERATURE).value;
  return { pressure: absolutePressure(pressure), temperature: temperature(T) };
}

const USUAL_PRESSURE = { value: 99.5e3, standardUncertainty: 2e3, source: 'our default' };
const USUAL_TEMPERATURE = { value: 295, standardUncertainty: 8, source: 'our default' };
