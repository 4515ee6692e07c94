import { specificLoad } from '../../../../core/physics/index.ts';
import { force, length } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { rodForces } from './rods.ts';

const TITLE: LimitTitle = {
  name: 'bearing film',
  subject: 'loads',
  kind: 'bearing-load',
  source: 'largest rod force over projected area of the big end; what shells carry: from memory',
};

/**
 * Specific load of the big-end bearing against what its shells carry.
 *
 * @valid   a load, not a film: hot, thinned or dirty oil fails below it
 */
export function bearingFilm(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const diameter = ledger.take('bigEndDiameter', usualShare(model, DIAMETER));
  const width = ledger.take('bigEndWidth', usualShare(model, WIDTH));
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
    const spread =
      value *
      Math.hypot(
        worst.standardUncertainty / worst.value,
        width.standardUncertainty / width.value,
        diameter.standardUncertainty / diameter.value,
      );
    return { required: Number.isNaN(value) ? { value, standardUncertainty: value } : around(value, spread), available };
  });
}

/** Big end of car engines as shares of the bore [1], with what such engines differ by. @source from memory: diameter 0.55 … 0.68, bearing width 0.22 … 0.35 */
const DIAMETER = { share: 0.6, spread: 0.04 } as const;
const WIDTH = { share: 0.27, spread: 0.035 } as const;

function usualShare({ engine }: EngineModel, { share, spread }: { readonly share: number; readonly spread: number }) {
  return { value: share * engine.bore, standardUncertainty: spread * engine.bore, source: 'from memory' };
}

/** Three-layer shells of boosted car engines [Pa]. */
const USUAL_SHELL = { value: 75e6, standardUncertainty: 15e6, source: 'from memory: 60 … 100 MPa by material' };
