import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import { absolutePressure, length, type Measured, measured, type Ratio, temperature } from '../../quantities/index.ts';
import { type DemandForm, type ElectrodeState, FORM_SPREAD, sparkDemand } from './demand.ts';

/** Gas and gap as far as they are known; SI. */
export interface MeasuredGap {
  readonly gap: Measured;
  /** At the moment of the spark [Pa], [K]. */
  readonly pressure: Measured;
  readonly temperature: Measured;
  readonly electrodes: ElectrodeState;
  readonly lambda?: Ratio;
  readonly form?: DemandForm;
}

/**
 * Voltage that a plug takes [V] with its standard uncertainty: gas, gap, electrodes and the equation itself, independent.
 *
 * @source  {@link sparkDemand}; JCGM 100:2008, equation 10
 */
export function measuredSparkDemand(input: MeasuredGap): {
  readonly demand: Measured;
  readonly contributions: readonly Contribution[];
} {
  const { gap, pressure, temperature: T, ...rest } = input;
  const at = ([d, p, kelvin]: readonly number[]) =>
    sparkDemand({ ...rest, gap: length(d), pressure: absolutePressure(p), temperature: temperature(kelvin) });
  const { electrodeFactor } = at([gap.value, pressure.value, T.value]);
  const found = combinedUncertainty({
    inputs: [
      { name: 'gap', ...gap },
      { name: 'pressure at spark', ...pressure },
      { name: 'temperature at spark', ...T },
      { name: 'electrodes', ...electrodeFactor },
      { name: 'equation', value: 1, standardUncertainty: FORM_SPREAD },
    ],
    model: (values) => (at(values).demand.value * values[3] * values[4]) / electrodeFactor.value,
  });
  return { demand: measured(found.value, found.standardUncertainty), contributions: found.contributions };
}
