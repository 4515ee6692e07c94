import { specificLoad } from '../../../../core/physics/index.ts';
import { force, length } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { rodForces } from './rods.ts';

const TITLE: LimitTitle = {
  name: 'bearing film',
  subject: 'loads',
  kind: 'pressure-difference',
  source: 'largest rod force over projected area of the big end; what shells carry: from memory',
};

/**
 * Specific load of the big-end bearing against what its shells carry.
 *
 * @valid   a load, not a film: hot, thinned or dirty oil fails below it
 */
export function bearingFilm(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const diameter = ledger.need('bigEndDiameter');
  const width = ledger.need('bigEndWidth');
  if (!diameter || !width) {
    const why = 'bearings unknown: state bigEndDiameter and bigEndWidth';
    return unknownLimit(TITLE, { prediction, ledger }, why);
  }
  const available = ledger.take('bearingLoadLimit', USUAL_SHELL);
  const bearing = {
    diameter: length(diameter.value),
    width: length(width.value),
    radialClearance: length(0),
    viscosity: 0,
  };
  return limitFrom(TITLE, { prediction, ledger }, (i) => {
    const { compression, tension } = rodForces({ model, prediction, step, ledger }, i);
    const worst = compression.value > tension.value ? compression : tension;
    const value = specificLoad(bearing, force(worst.value));
    const spread = value * Math.hypot(worst.standardUncertainty / worst.value, width.standardUncertainty / width.value);
    return { required: Number.isNaN(value) ? { value, standardUncertainty: value } : around(value, spread), available };
  });
}

/** Three-layer shells of boosted car engines [Pa]. */
const USUAL_SHELL = { value: 75e6, standardUncertainty: 15e6, source: 'from memory: 60 … 100 MPa by material' };
