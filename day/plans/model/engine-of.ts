import { type CycleEngine, type GasModel, gasModel, USUAL_FIT, USUAL_FRICTION } from '../../../core/physics/index.ts';
import { angle, length, ratio, temperature } from '../../../core/quantities/index.ts';
import type { KnownValue } from './engine-model.ts';
import { type FuelChoice, type FuelNumbers, fuelOf } from './fuel-of.ts';

const DEGREE = Math.PI / 180;

/**
 * Engine and gas of the cycle model from what is known of the parts.
 *
 * @param fuel without a name: petrol of the known octane number
 * @source  valve events besides the inlet's closing, wall temperature, valve area: common practice, no source
 */
export function engineOf(
  values: ReadonlyMap<string, KnownValue>,
  fuel: FuelChoice = {},
): { readonly engine: CycleEngine; readonly gas: GasModel } {
  const of = (name: string): number => values.get(name)?.value ?? Number.NaN;
  const engine: CycleEngine = {
    bore: length(of('bore')),
    stroke: length(of('stroke')),
    rodLength: length(of('rodLength')),
    compressionRatio: ratio(of('compressionRatio')),
    cylinders: of('cylinders'),
    timing: {
      intakeOpens: angle(5 * DEGREE),
      intakeCloses: angle(of('inletCloses')),
      exhaustOpens: angle(45 * DEGREE),
      exhaustCloses: angle(8 * DEGREE),
    },
    intakeArea: ratio(0.15),
    wallTemperature: temperature(450),
    // a fuel that is injected at the end of compression cools no charge
    evaporationShare: ratio(values.has('halfBurned') ? 0 : 0.3),
    burnedShare: ratio(0.97),
    leakArea: 0,
    friction: USUAL_FRICTION,
    fit: USUAL_FIT,
  };
  return { engine, gas: gasModel(fuelOf(fuel, fuelNumbers(of))) };
}

/** What is known of the fuel. */
export function fuelNumbers(of: (name: string) => number): FuelNumbers {
  const octane = of('octane');
  return {
    octane: Number.isFinite(octane) ? octane : 95,
    ethanolShare: of('ethanolShare'),
    stoichiometricRatio: of('stoichiometricRatio'),
    heatingValue: of('heatingValue'),
  };
}
