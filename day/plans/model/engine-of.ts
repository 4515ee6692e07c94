import {
  type CycleEngine,
  ethanolBlend,
  type GasModel,
  gasModel,
  LPG,
  METHANE,
  METHANOL,
  petrol,
  USUAL_FIT,
  USUAL_FRICTION,
} from '../../../core/physics/index.ts';
import { angle, length, ratio, temperature } from '../../../core/quantities/index.ts';
import type { FuelName } from '../../pulls/index.ts';
import type { KnownValue } from './engine-model.ts';

const DEGREE = Math.PI / 180;

/**
 * Engine and gas of the cycle model from what is known of the parts.
 *
 * @param fuel undefined: petrol of the known octane number; diesel has no model and is taken as undefined by the caller
 * @source  valve events besides the inlet's closing, wall temperature, valve area: common practice, no source
 */
export function engineOf(
  values: ReadonlyMap<string, KnownValue>,
  fuel?: FuelName,
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
    evaporationShare: ratio(0.3),
    burnedShare: ratio(0.97),
    leakArea: 0,
    friction: USUAL_FRICTION,
    fit: USUAL_FIT,
  };
  return { engine, gas: gasModel(fuelOf(fuel, of)) };
}

function fuelOf(fuel: FuelName | undefined, of: (name: string) => number) {
  const base = petrol(Math.min(105, Math.max(80, of('octane'))));
  const share = of('ethanolShare');
  switch (fuel) {
    case 'methanol':
      return METHANOL;
    case 'methane':
      return METHANE;
    case 'LPG':
      return LPG;
    case 'ethanol blend':
      return ethanolBlend(Number.isFinite(share) ? share : shareOfRatio(of('stoichiometricRatio')), petrol(95));
    default:
      return share > 0 ? ethanolBlend(share, base) : base;
  }
}

/** Ethanol by volume from the air need that was stated [1]: 14.6 of petrol, 9.0 of ethanol, near enough linear; 0.7 without one. @source atom balance of the two fuels; 0.7: our default */
function shareOfRatio(stoichiometric: number): number {
  if (!Number.isFinite(stoichiometric)) return 0.7;
  return Math.min(1, Math.max(0, (14.6 - stoichiometric) / (14.6 - 9.0)));
}
