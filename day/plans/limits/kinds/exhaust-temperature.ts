import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { isCompressionLit } from '../applies.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'exhaust temperature',
  subject: 'heat',
  kind: 'temperature',
  source:
    '950 °C for the seconds of a pull with common turbine housings, 800 °C behind compression ignition: common practice, no source',
};

/** Common turbine housings, seconds of a pull [K]: 950 °C; behind compression ignition, whose housings are of lesser iron, 800 °C. */
const USUAL = { value: 1223.15, standardUncertainty: 25, source: 'common practice, no source' };
const USUAL_COMPRESSION = { value: 1073.15, standardUncertainty: 30, source: 'common practice, no source' };

/**
 * Temperature before the turbine, as a probe there shows it, against what the housing stands for a pull. Limits of the trade are readings of
 * probes; where the day logged none, what a probe falls short of the gas is taken as unknown.
 */
export function exhaustTemperature(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const usual = isCompressionLit(model) ? USUAL_COMPRESSION : USUAL;
  const why = 'exhaust temperature not predicted';
  return lineLimit(
    TITLE,
    { model, prediction },
    { line: 'exhaust temperature', fact: 'exhaustTemperatureLimit', usual, why },
  );
}
