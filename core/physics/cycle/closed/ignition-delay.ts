import { STANDARD_ATMOSPHERE } from '../../../quantities/index.ts';

/**
 * Constants of the ignition delay law: τ[ms] = 17.68·(ON/100)^3.402·p^−1.7·exp(3800/T), p in atm, T in K.
 *
 * @valid   octane numbers about 80 … 100, petrol-like fuels
 * @source  Douaud and Eyzat, SAE 780080, as Heywood (1988), eq. 9.57; constants from memory
 */
export const DELAY = { scale: 17.68e-3, octane: 3.402, pressure: -1.7, temperature: 3800 } as const;

/** Ignition delay of the end gas [s]. @param octane ON @param gas pressure [Pa], temperature [K] @source {@link DELAY} */
export function ignitionDelay(
  octane: number,
  gas: { readonly pressure: number; readonly temperature: number },
): number {
  const p = gas.pressure / STANDARD_ATMOSPHERE;
  return (
    DELAY.scale * (octane / 100) ** DELAY.octane * p ** DELAY.pressure * Math.exp(DELAY.temperature / gas.temperature)
  );
}

/**
 * Knock integral ∫ dt/τ [1]; the end gas lights by itself where it reaches 1.
 *
 * @param times  [s], rising @param rates 1/τ at these times [1/s]
 * @source  Livengood and Wu 1955; trapezoidal rule
 */
export function knockIntegral(times: ArrayLike<number>, rates: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 1; i < times.length; i++) sum += ((rates[i] + rates[i - 1]) / 2) * (times[i] - times[i - 1]);
  return sum;
}
