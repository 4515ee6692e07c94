const PER_HALF = 1 / 0.7;

/**
 * r^0.2 without a call of the library's power. With r = z^¼, by two roots, the powers of the heat transfer law are near:
 * z^0.8 = r³·r^0.2, z^−0.55 = 1/(r²·r^0.2), and z^−1.3 = 1/(r⁵·r^0.2).
 *
 * Within 7e-7 of the library for 0.8 ≤ r ≤ 2.2, and the library's own value beyond. Measured: a sixth of a closed cycle's time.
 *
 * @param r  > 0
 * @source  interpolation at eight Chebyshev points
 */
export function fifthRoot(r: number): number {
  const t = (r - 1.5) * PER_HALF;
  if (t < -1 || t > 1) return r ** 0.2;
  const square = t * t;
  const low = 1.08447216 + 0.101217205 * t + square * (-0.0189064175 + 0.00529540388 * t);
  const high = -0.00166739979 + 0.000588120518 * t + square * (-0.000319166663 + 0.000125282885 * t);
  return low + square * square * high;
}
