import type { QuantityKind } from '../../../core/quantities/index.ts';
import type { Threshold } from '../thresholds.ts';

const PRACTICE = 'common practice, no source';
const OURS = 'our default';
const MODEL = 'simple engine model near 200 kPa, no source';
const CELSIUS = 273.15;
const DEGREE = Math.PI / 180;
const of = (value: number, kind: QuantityKind, source: string): Threshold => ({ value, kind, source });

/**
 * Every number by which the health of a day is judged; each can be set by a person (`healthLimitsWith`). Names ending in `spread` are
 * standard uncertainties of the rule named before; `repeat` is the standard deviation between two honest repeats that is believed before
 * the day has repeats of its own, and `repeat.weight` how many degrees of freedom that belief is worth.
 */
export const HEALTH_THRESHOLDS = {
  'coast.note': of(0.05, 'fraction', PRACTICE),
  'coast.flag': of(0.1, 'fraction', PRACTICE),
  'coast.flag-deviations': of(4, 'ratio', PRACTICE),
  'coast.hold': of(0.2, 'fraction', PRACTICE),
  'coast.repeat': of(0.01, 'fraction', OURS),
  'coast.axle-per-kelvin': of(0.0015, 'fraction', OURS),
  'coast.gearbox-per-kelvin': of(0.001, 'fraction', OURS),
  'coast.tyre-per-kelvin': of(0.003, 'fraction', OURS),
  'coast.per-kelvin-spread': of(0.7, 'ratio', OURS),
  'drag.flag': of(0.1, 'fraction', PRACTICE),
  'drag.stop': of(0.2, 'fraction', PRACTICE),
  'drag.per-kelvin': of(0.004, 'fraction', OURS),
  'drag.repeat': of(0.02, 'fraction', OURS),
  significance: of(2, 'ratio', 'two standard uncertainties, about 95 %'),
  'repeat.weight': of(5, 'count', OURS),
  'stall.running': of(40, 'engine-speed', `${OURS}: 380 rpm, below every idle`),
  'stall.stopped': of(10, 'engine-speed', `${OURS}: 95 rpm`),
  'stall.lasting': of(0.6, 'time', OURS),
  'stall.oil-left': of(0.35, 'fraction', OURS),
  'stall.charging-drop': of(0.5, 'voltage', PRACTICE),
  'stall.faster': of(1.3, 'ratio', OURS),
  'oil.note': of(0.1, 'fraction', PRACTICE),
  'oil.hold': of(0.15, 'fraction', PRACTICE),
  'oil.stop': of(0.25, 'fraction', PRACTICE),
  'oil.per-kelvin': of(0.0125, 'fraction', `${PRACTICE}: 1–1.5 % per kelvin from 90 to 120 °C`),
  'oil.per-kelvin-spread': of(0.0025, 'fraction', PRACTICE),
  'oil.repeat': of(0.01, 'fraction', OURS),
  'oil.per-1000-low': of(70e3, 'gauge-pressure', `${PRACTICE}: 70 kPa per 1000 rpm hot`),
  'oil.per-1000-stop': of(50e3, 'gauge-pressure', `${PRACTICE}: 50 kPa per 1000 rpm`),
  'oil.hot-idle': of(70e3, 'gauge-pressure', PRACTICE),
  'oil.hot': of(CELSIUS + 80, 'temperature', PRACTICE),
  'oil.too-hot': of(CELSIUS + 130, 'temperature', `${PRACTICE}: stop over 130–135 °C`),
  'oil.far-too-hot': of(CELSIUS + 135, 'temperature', `${PRACTICE}: stop over 130–135 °C`),
  'crankcase.rise': of(1e3, 'pressure-difference', PRACTICE),
  'crankcase.times': of(2, 'ratio', PRACTICE),
  'crankcase.meaningful': of(500, 'pressure-difference', OURS),
  'crankcase.per-pressure': of(0.005, 'fraction', `${OURS}: 5 Pa per kPa of manifold pressure`),
  'crankcase.per-pressure-spread': of(0.01, 'fraction', OURS),
  'crankcase.repeat': of(200, 'pressure-difference', OURS),
  'coolant.rise': of(20e3, 'pressure-difference', PRACTICE),
  'coolant.per-kelvin': of(4e3, 'pressure-difference', OURS),
  'coolant.per-kelvin-spread': of(2e3, 'pressure-difference', OURS),
  'coolant.lost-share': of(0.3, 'fraction', OURS),
  'coolant.repeat': of(3e3, 'pressure-difference', OURS),
  'exhaust.rise': of(30, 'temperature-difference', OURS),
  'exhaust.spread': of(50, 'temperature-difference', PRACTICE),
  'exhaust.repeat': of(6, 'temperature-difference', OURS),
  'exhaust.per-timing': of(11.5 / DEGREE, 'temperature-per-angle', `${PRACTICE}: 8–15 K per degree of retard`),
  'exhaust.per-timing-spread': of(3 / DEGREE, 'temperature-per-angle', PRACTICE),
  'exhaust.per-lambda': of(650, 'ratio', `${PRACTICE}: 5–8 K per 0.01 lambda on the rich side`),
  'exhaust.per-lambda-spread': of(250, 'ratio', PRACTICE),
  'exhaust.per-pressure': of(0.00025, 'temperature-per-pressure', `${OURS}: 0.25 K per kPa of manifold pressure`),
  'exhaust.per-pressure-spread': of(0.0003, 'temperature-per-pressure', OURS),
  'power.exponent': of(
    0.95,
    'ratio',
    `${MODEL}: 0.43–0.47 % per kPa at 200 kPa, charge and timing following the pressure`,
  ),
  'power.exponent-alone': of(
    1.22,
    'ratio',
    `${OURS}: at equal charge temperature; friction and rolling loss, 12–25 % of the work, hardly grow`,
  ),
  'power.exponent-spread': of(0.12, 'ratio', OURS),
  'power.per-kelvin': of(0.0031, 'fraction', `${MODEL}: 0.31–0.35 % per kelvin at fixed manifold pressure`),
  'power.per-kelvin-spread': of(0.0006, 'fraction', OURS),
  'power.per-timing': of(
    0.006 / DEGREE,
    'fraction-per-angle',
    `${PRACTICE}: 0.2–1 % per degree, by the distance to best torque`,
  ),
  'power.per-timing-spread': of(0.004 / DEGREE, 'fraction-per-angle', PRACTICE),
  'power.per-lambda': of(0.33, 'ratio', `${PRACTICE}: 1.5–2.5 % from 0.80 to 0.86, petrol`),
  'power.per-lambda-spread': of(0.2, 'ratio', OURS),
  'power.repeat': of(0.007, 'fraction', `${PRACTICE}: 0.5–1.0 % is normal`),
  'power.drift': of(
    0.005,
    'fraction',
    `${OURS}: what tyres, heat and fuel do between pulls without a channel showing it`,
  ),
  'power.wander': of(
    0.0012,
    'fraction',
    `${OURS}: per root of an entry of the day; what goes slowly is not learnt as the engine`,
  ),
  'turbo.exponent': of(0.5, 'ratio', OURS),
  'turbo.exponent-spread': of(0.15, 'ratio', OURS),
  'turbo.repeat': of(0.004, 'fraction', OURS),
  'turbo.rise': of(0.03, 'fraction', PRACTICE),
  'charge.repeat': of(0.015, 'fraction', OURS),
  'charge.temperature-repeat': of(1.5, 'temperature-difference', OURS),
  'charge.temperature-per-pressure': of(
    0.00035,
    'temperature-per-pressure',
    `${OURS}: 0.35 K per kPa of manifold pressure`,
  ),
  'charge.temperature-per-pressure-spread': of(0.0002, 'temperature-per-pressure', OURS),
  'line.share': of(0.3, 'fraction', 'NIST/SEMATECH e-Handbook 6.3.2.4: 0.2–0.3'),
  'line.confidence': of(0.9973, 'fraction', 'three standard deviations of a normal distribution; e-Handbook 6.3.1'),
  'line.sum-slack': of(0.5, 'ratio', 'half of a shift of one standard deviation; e-Handbook 6.3.2.3'),
  'line.sum-limit': of(5, 'ratio', 'Montgomery, Statistical Quality Control: 4 or 5 standard deviations, from memory'),
  'line.baseline': of(3, 'count', OURS),
  'line.least-baseline': of(2, 'count', OURS),
  'shortfall.deviations': of(2, 'ratio', PRACTICE),
  'shortfall.in-a-row': of(2, 'count', PRACTICE),
  'shortfall.same-load': of(0.01, 'fraction', OURS),
  'shortfall.least-pulls': of(2, 'count', OURS),
  'shortfall.model-pulls': of(3, 'count', `${OURS}: before them the engine model is too uncertain`),
  'gate.oil-low': of(CELSIUS + 85, 'temperature', PRACTICE),
  'gate.oil-high': of(CELSIUS + 105, 'temperature', PRACTICE),
  'gate.oil-reference': of(5, 'temperature-difference', PRACTICE),
  'gate.coolant-low': of(CELSIUS + 80, 'temperature', PRACTICE),
  'gate.coolant-high': of(CELSIUS + 92, 'temperature', PRACTICE),
  'gate.coolant-reference': of(3, 'temperature-difference', PRACTICE),
  'gate.driveline-low': of(CELSIUS + 50, 'temperature', PRACTICE),
  'gate.driveline-high': of(CELSIUS + 130, 'temperature', PRACTICE),
  'gate.charge-reference': of(3, 'temperature-difference', PRACTICE),
  'gate.tyre-high': of(CELSIUS + 75, 'temperature', `${PRACTICE}: 70–80 °C`),
} as const satisfies Record<string, Threshold>;

export type HealthThresholdName = keyof typeof HEALTH_THRESHOLDS;

/** All health thresholds with the values in force. */
export type HealthLimits = Readonly<Record<HealthThresholdName, Threshold>>;

/** The defaults with the values that a person set; those then say so. */
export function healthLimitsWith(set: Partial<Record<HealthThresholdName, number>> = {}): HealthLimits {
  const changed: Partial<Record<HealthThresholdName, Threshold>> = {};
  for (const name of healthThresholdNames()) {
    const value = set[name];
    if (value !== undefined) changed[name] = { ...HEALTH_THRESHOLDS[name], value, source: 'set by a person' };
  }
  return { ...HEALTH_THRESHOLDS, ...changed };
}

/** Names of all health thresholds. */
export function healthThresholdNames(): readonly HealthThresholdName[] {
  return Object.keys(HEALTH_THRESHOLDS).filter((name): name is HealthThresholdName => name in HEALTH_THRESHOLDS);
}
