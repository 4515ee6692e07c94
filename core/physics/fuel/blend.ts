import { type Density, type Ratio, ratio, type SpecificEnergy, specificEnergy } from '../../quantities/index.ts';

/** One liquid of a blend. */
export interface BlendPart {
  /** Share of the volume before mixing [1]; the shares need not add to 1. */
  readonly volumeShare: Ratio;
  readonly density: Density;
  /** Lower heating value [J/kg]. */
  readonly heatingValue: SpecificEnergy;
  /** Stoichiometric air over fuel by mass [1]. */
  readonly stoichiometric: Ratio;
}

/** massShares: in the order of the parts. */
export interface Blend {
  readonly massShares: readonly Ratio[];
  readonly heatingValue: SpecificEnergy;
  readonly stoichiometric: Ratio;
}

/**
 * Fuel mixed from parts measured by volume.
 *
 * Heating value and air demand mix by mass, not by volume.
 *
 * @valid   ideal mixing; NaN without any part
 * @source  mass balance
 */
export function blendOf(parts: readonly BlendPart[]): Blend {
  const masses = parts.map((part) => part.volumeShare * part.density);
  const whole = masses.reduce((sum, mass) => sum + mass, 0);
  const mean = (value: (part: BlendPart) => number): number =>
    parts.reduce((sum, part, i) => sum + masses[i] * value(part), 0) / whole;
  return {
    massShares: masses.map((mass) => ratio(mass / whole)),
    heatingValue: specificEnergy(mean((part) => part.heatingValue)),
    stoichiometric: ratio(mean((part) => part.stoichiometric)),
  };
}
