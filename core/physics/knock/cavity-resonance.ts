import { type Frequency, frequency, type Length, type Speed, speed, type Temperature } from '../../quantities/index.ts';

/**
 * Standing pressure waves across a round combustion chamber, lowest first: m nodal diameters, n nodal circles, and the wave number
 * α with J′m(α) = 0 [1].
 *
 * @source zeros of the derivatives of Bessel functions: Abramowitz & Stegun, table 9.5
 */
export const CAVITY_MODES = [
  { diameters: 1, circles: 0, waveNumber: 1.84118 },
  { diameters: 2, circles: 0, waveNumber: 3.05424 },
  { diameters: 0, circles: 1, waveNumber: 3.83171 },
  { diameters: 3, circles: 0, waveNumber: 4.20119 },
  { diameters: 1, circles: 1, waveNumber: 5.33144 },
] as const;

/** Speed of sound in burnt gas [m/s]: √(k·R·T). @source perfect gas; k 1.28 and R 290 J/(kg·K) for burnt petrol charge (from memory) */
export function burntGasSoundSpeed(T: Temperature): Speed {
  return speed(Math.sqrt(1.28 * 290 * T));
}

/**
 * Frequencies at which knock rings in a cylinder [Hz], in the order of {@link CAVITY_MODES}.
 *
 *     f = α·c/(π·B)
 *
 * @param bore B [m] @param sound c [m/s], about 900 … 1 000 while knock rings
 * @valid   flat chamber near top dead centre; bowls and roofs shift them by some percent, and they fall as the gas cools
 * @source  Draper, NACA Report 493 (1934), from memory
 */
export function knockFrequencies(bore: Length, sound: Speed): readonly Frequency[] {
  return CAVITY_MODES.map(({ waveNumber }) => frequency((waveNumber * sound) / (Math.PI * bore)));
}
