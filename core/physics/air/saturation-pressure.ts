import {
  type AbsolutePressure,
  absolutePressure,
  temperature as kelvin,
  type Temperature,
} from '../../quantities/index.ts';

/** Critical point of water [K], [Pa]. @source IAPWS-95 */
const CRITICAL_TEMPERATURE = 647.096;
const CRITICAL_PRESSURE = 22.064e6;
/** Coefficients and powers of τ. @source Wagner & Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783 (from memory; checked against IAPWS-95 values) */
const TERMS = [
  [-7.85951783, 1],
  [1.84408259, 1.5],
  [-11.7866497, 3],
  [22.6807411, 3.5],
  [-15.9618719, 4],
  [1.80122502, 7.5],
] as const;

/**
 * Saturation vapour pressure over liquid water [Pa].
 *
 *     ln(ps/pc) = (Tc/T)·Σ aᵢ·τ^nᵢ,   τ = 1 − T/Tc
 *
 * @param temperature T [K]
 * @valid   0 … 374 °C; continued over supercooled water it is good to about 0.5 % at −20 °C (own comparison with the regulation's
 *          equation). NaN for T ≤ 0 and above the critical point
 * @source  Wagner & Pruss (1993), the saturation line of IAPWS-95
 */
export function saturationPressure(temperature: Temperature): AbsolutePressure {
  if (!(temperature > 0 && temperature <= CRITICAL_TEMPERATURE)) return absolutePressure(Number.NaN);
  const tau = 1 - temperature / CRITICAL_TEMPERATURE;
  const sum = TERMS.reduce((total, [a, n]) => total + a * tau ** n, 0);
  return absolutePressure(CRITICAL_PRESSURE * Math.exp((CRITICAL_TEMPERATURE / temperature) * sum));
}

/** Triple point of water [K]. @source 40 CFR 1065.645 as used in its equation */
const TRIPLE_POINT = 273.16;

/**
 * Saturation vapour pressure as US engine-test regulation prescribes it [Pa]; about 0.1 % below {@link saturationPressure}.
 *
 *     log10(ps/kPa) = 10.79574·(1 − 273.16/T) − 5.028·log10(T/273.16) + 1.50475e-4·(1 − 10^(−8.2969·(T/273.16 − 1)))
 *                     + 0.42873e-3·(10^(4.76955·(1 − 273.16/T)) − 1) − 0.2138602
 *
 * @param temperature T [K]
 * @valid   0 … 100 °C over water, down to −50 °C over supercooled water (range from memory); NaN for T ≤ 0
 * @source  40 CFR 1065.645, equation 1065.645-1 (Goff–Gratch form); its check value is reproduced
 */
export function regulationSaturationPressure(temperature: Temperature): AbsolutePressure {
  if (!(temperature > 0)) return absolutePressure(Number.NaN);
  const ratio = temperature / TRIPLE_POINT;
  const log =
    10.79574 * (1 - 1 / ratio) -
    5.028 * Math.log10(ratio) +
    1.50475e-4 * (1 - 10 ** (-8.2969 * (ratio - 1))) +
    0.42873e-3 * (10 ** (4.76955 * (1 - 1 / ratio)) - 1) -
    0.2138602;
  return absolutePressure(1000 * 10 ** log);
}

/**
 * Temperature at which a vapour pressure would saturate: the dew point over liquid water [K].
 *
 * The rational approximation of 40 CFR 1065.645 starts it, Newton steps make it the exact inverse of {@link saturationPressure}.
 *
 * @param vapourPressure pv [Pa], > 0; otherwise NaN
 * @valid   as {@link saturationPressure}; below 0 °C the frost point lies higher
 * @source  40 CFR 1065.645(d) (Hardy, Papers and Abstracts of the Third International Symposium on Humidity and Moisture, 1998)
 */
export function dewPoint(vapourPressure: AbsolutePressure): Temperature {
  let t = hardyDewPoint(vapourPressure);
  for (let step = 0; step < 4 && Number.isFinite(t); step++) {
    const miss = Math.log(saturationPressure(t) / vapourPressure);
    const slope = Math.log(saturationPressure(kelvin(t + 0.01)) / saturationPressure(kelvin(t - 0.01))) / 0.02;
    t = kelvin(t - miss / slope);
  }
  return t;
}

/**
 * Dew point by the rational approximation alone [K]; within 0.1 K of the inverse of the saturation equation between 0 and 50 °C.
 *
 * @source  40 CFR 1065.645(d)
 */
export function hardyDewPoint(vapourPressure: AbsolutePressure): Temperature {
  if (!(vapourPressure > 0)) return kelvin(Number.NaN);
  const l = Math.log(vapourPressure);
  const above = 207.98233 - 20.156028 * l + 0.46778925 * l ** 2 - 9.2288067e-6 * l ** 3;
  const below = 1 - 0.13319669 * l + 5.6577518e-3 * l ** 2 - 7.5172865e-5 * l ** 3;
  return kelvin(above / below);
}
