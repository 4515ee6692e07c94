/** Standard acceleration of free fall [m/s²]. @source CGPM 1901, exact */
export const STANDARD_GRAVITY = 9.80665;

/** Zero of the Celsius scale [K]. @source SI brochure, exact */
export const CELSIUS_ZERO = 273.15;

/** Standard atmosphere [Pa]. @source CGPM 1954, exact */
export const STANDARD_ATMOSPHERE = 101325;

/** One revolution [rad]. */
export const REVOLUTION = 2 * Math.PI;
