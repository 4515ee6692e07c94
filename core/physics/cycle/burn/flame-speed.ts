import { STANDARD_ATMOSPHERE } from '../../../quantities/index.ts';
import type { FlameName, Part } from '../gas/fuel.ts';

/** Unburned gas in front of the flame: K, Pa, equivalence ratio, residual share by mole. */
export interface FlameGas {
  readonly temperature: number;
  readonly pressure: number;
  readonly equivalenceRatio: number;
  readonly residualShare: number;
}

/**
 * Laminar flame speed [m/s]: S₀(φ)·(T/298)^α·(p/1 atm)^β·dilution.
 *
 * Blends take the mean by mass shares of the parts.
 *
 * @valid   φ 0.6 … 1.6, 298 … 700 K, 0.4 … 50 atm in the sources; beyond that the forms are extrapolated
 * @source  petrol, isooctane, methanol, propane: Metghalchi and Keck 1982, Rhodes and Keck SAE 850047; ethanol, methane: Gülder,
 *          SAE 841000; all constants from memory
 */
export function laminarFlameSpeed(flame: readonly Part<FlameName>[], gas: FlameGas): number {
  let sum = 0;
  for (const { name, share } of flame) if (share > 0) sum += share * speedOf(name, gas);
  return sum * dilution(gas.residualShare);
}

/**
 * How much residual gas slows the flame [1]: 1 − 2.06·xr^0.77, from 0.3 of residual on kept from reaching nought.
 *
 * @source  Rhodes and Keck, SAE 850047 (from memory); the floor is our default
 */
function dilution(residualShare: number): number {
  const plain = 1 - 2.06 * Math.max(residualShare, 0) ** 0.77;
  return 0.5 * (plain + Math.hypot(plain, 0.08));
}

function speedOf(name: FlameName, gas: FlameGas): number {
  const phi = gas.equivalenceRatio;
  const T = gas.temperature / 298;
  const p = gas.pressure / STANDARD_ATMOSPHERE;
  switch (name) {
    case 'petrol':
      return parabola(phi, PARABOLAS.petrol) * T ** (2.4 - 0.271 * phi ** 3.51) * p ** (-0.357 + 0.14 * phi ** 2.77);
    case 'isooctane':
      return parabola(phi, PARABOLAS.isooctane) * linear(phi, T, p);
    case 'methanol':
      return parabola(phi, PARABOLAS.methanol) * linear(phi, T, p);
    case 'propane':
      return parabola(phi, PARABOLAS.propane) * linear(phi, T, p);
    case 'ethanol':
      return 0.465 * phi ** 0.25 * Math.exp(-6.34 * (phi - 1.075) ** 2) * T ** 1.75 * p ** (-0.17 / Math.sqrt(phi));
    case 'methane':
      return 0.422 * phi ** 0.15 * Math.exp(-5.18 * (phi - 1.075) ** 2) * T ** 2 * p ** -0.5;
  }
}

interface Parabola {
  readonly best: number;
  readonly atBest: number;
  readonly bend: number;
}

/** [m/s] at 298 K, 1 atm: highest speed at φ = best, and how it falls. @source as {@link laminarFlameSpeed} */
const PARABOLAS: Readonly<Record<'petrol' | 'isooctane' | 'methanol' | 'propane', Parabola>> = {
  petrol: { best: 1.21, atBest: 0.305, bend: -0.549 },
  isooctane: { best: 1.13, atBest: 0.263, bend: -0.847 },
  methanol: { best: 1.11, atBest: 0.369, bend: -1.405 },
  propane: { best: 1.08, atBest: 0.342, bend: -1.387 },
};

/** Never below 0.02 m/s, where the parabola leaves the range it was measured in; smooth. @source our default */
function parabola(phi: number, { best, atBest, bend }: Parabola): number {
  const plain = atBest + bend * (phi - best) ** 2 - 0.02;
  return 0.02 + 0.5 * (plain + Math.hypot(plain, 0.02));
}

function linear(phi: number, T: number, p: number): number {
  return T ** (2.18 - 0.8 * (phi - 1)) * p ** (-0.16 + 0.22 * (phi - 1));
}
