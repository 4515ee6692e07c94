import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'fuel supply',
  subject: 'fuel',
  kind: 'mass-flow',
  source: 'definition; what the pumps bring at the rail pressure and the voltage under load',
};

/** Fuel that the engine takes against what the pumps bring. */
export function fuelSupply(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const why = 'pumps unknown: state fuelPumpFlow, measured at rail pressure and at the voltage under load';
  return lineLimit(TITLE, { model, prediction }, { line: 'fuel flow', fact: 'fuelPumpFlow', why });
}
