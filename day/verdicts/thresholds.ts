import type { QuantityKind } from '../../core/quantities/index.ts';

/** One number that decides, with where it comes from. value: SI. */
export interface Threshold {
  readonly value: number;
  readonly kind: QuantityKind;
  readonly source: string;
}

const PRACTICE = 'common practice, no source';
const OURS = 'our default';
/** A fault of exactly the customary size must be seen in spite of noise: so the limit stands a little below it. */
const near = (figure: string): string =>
  `${PRACTICE}: ${figure}; set a little below it so that a fault of that size is seen: our default`;
const DEGREE = Math.PI / 180;
const of = (value: number, kind: QuantityKind, source: string): Threshold => ({ value, kind, source });

/** Every number that a detector decides by. Each can be set by a person (`limitsWith`); noise of the channel is added where it is larger. */
export const THRESHOLDS = {
  'roughness.share': of(0.02, 'fraction', OURS),
  'roughness.times': of(3, 'ratio', PRACTICE),
  'roughness.blind': of(0.06, 'fraction', OURS),
  'roughness.shortest': of(0.05, 'time', PRACTICE),
  'wheel-slip.departure': of(0.0125, 'fraction', near('1.5 %')),
  'wheel-slip.beyond': of(0.01, 'fraction', near('1.5 %, against earlier pulls at equal speed')),
  'wheel-slip.gross': of(0.05, 'fraction', PRACTICE),
  'wheel-slip.shortest': of(0.15, 'time', PRACTICE),
  'wheel-slip.largest-creep': of(0.03, 'fraction', PRACTICE),
  'clutch-slip.departure': of(0.0125, 'fraction', near('1.5 %')),
  'clutch-slip.shortest': of(0.15, 'time', OURS),
  'converter.step': of(0.014, 'fraction', near('2 %')),
  'ignition-breakup.lean': of(0.02, 'lambda', PRACTICE),
  'ignition-breakup.unlit': of(0.01, 'fraction', near('a mean loss of 2 % over a second')),
  'spark-energy.fall': of(0.55, 'voltage', near('0.7 V')),
  'spark-energy.fall-beyond': of(0.3, 'voltage', OURS),
  'spark-energy.voltage': of(13, 'voltage', PRACTICE),
  'spark-energy.less': of(0.12, 'fraction', OURS),
  'spark-energy.coil-time': of(
    2.5e-3 / 0.45,
    'time',
    'example coil of 0.45 Ω and 2.5 mH: inductance over resistance; common practice, no source',
  ),
  'over-rev.share': of(1.025, 'ratio', near('3 %')),
  'over-rev.shortest': of(0.05, 'time', OURS),
  'pre-ignition.retard': of(3 * DEGREE, 'angle', OURS),
  'pre-ignition.events': of(3, 'count', OURS),
  'pre-ignition.keeps': of(0.85, 'ratio', OURS),
  'pre-ignition.single': of(6, 'ratio', OURS),
  'pre-ignition.cooling': of(15, 'temperature-difference', OURS),
  'stuck.shortest': of(0.9, 'time', near('1 s')),
  'stuck.chance': of(1e-6, 'fraction', OURS),
  'saturated.shortest': of(0.25, 'time', OURS),
  'dropout.longest': of(1.5, 'time', OURS),
  'dropout.left': of(0.1, 'fraction', OURS),
  'spikes.deviations': of(8, 'ratio', PRACTICE),
  'wrong-scale.rest': of(4e3, 'pressure-difference', OURS),
  'wrong-scale.free-air': of(1.2, 'lambda', OURS),
  'wrong-scale.wheel': of(0.05, 'fraction', 'common practice, no source: a tyre of another size, 5 % and more'),
  'wrong-scale.apart': of(0.024, 'fraction', near('3 %')),
  'clock.rate': of(500e-6, 'fraction', PRACTICE),
  'clock.residual': of(0.03, 'time', PRACTICE),
  'ambient.rise': of(1.5, 'temperature-difference', OURS),
  'lagging.later': of(0.15, 'time', OURS),
  'lost-sync.counts': of(1, 'count', PRACTICE),
  'lost-sync.force-left': of(0.65, 'fraction', OURS),
  'cut.timing-step': of(8 * DEGREE, 'angle', OURS),
  'cut.fuel-left': of(0.1, 'fraction', OURS),
  'boost-overshoot.pressure': of(7.7e3, 'pressure-difference', near('8 kPa')),
  'boost-overshoot.shortest': of(0.1, 'time', PRACTICE),
  'boost-oscillation.amplitude': of(2.45e3, 'pressure-difference', near('3 kPa')),
  'boost-oscillation.half-swings': of(5, 'count', OURS),
  'boost-droop.share': of(0.033, 'fraction', OURS),
  'boost-droop.shortest': of(0.5, 'time', OURS),
  'boost-creep.share': of(0.028, 'fraction', near('8 kPa, 4 % of 200 kPa')),
  'boost-creep.shortest': of(0.5, 'time', OURS),
  'knock.retard': of(1 * DEGREE, 'angle', PRACTICE),
  'knock.heavy-retard': of(6 * DEGREE, 'angle', PRACTICE),
  'knock.level': of(2.5, 'ratio', PRACTICE),
  'knock.events': of(2, 'count', PRACTICE),
  'knock.heavy-rate': of(3, 'frequency', PRACTICE),
  'fuel-pressure.drop': of(0.042, 'fraction', near('5 %')),
  'fuel-pressure.abort': of(0.15, 'fraction', PRACTICE),
  'fuel-pressure.shortest': of(0.3, 'time', OURS),
  'injector.duty': of(0.885, 'fraction', near('90 %')),
  'injector.duty-leaning': of(0.85, 'fraction', PRACTICE),
  'injector.leaning': of(0.02, 'lambda', OURS),
  'injector.shortest': of(0.2, 'time', OURS),
  'lean.departure': of(0.034, 'lambda', near('0.04')),
  'lean.absolute': of(0.9, 'lambda', PRACTICE),
  'lean.above-pressure': of(150e3, 'absolute-pressure', PRACTICE),
  'lean.shortest': of(0.3, 'time', PRACTICE),
  'rich.departure': of(0.06, 'lambda', OURS),
  'rich.absolute': of(0.7, 'lambda', PRACTICE),
  'rich.shortest': of(0.3, 'time', OURS),
  'boost-leak.duty': of(0.055, 'fraction', near('8 points')),
  'boost-leak.turbo': of(0.025, 'fraction', near('3 %')),
  'boost-leak.temperature': of(2.5, 'temperature-difference', near('3 K')),
  'heat-soak.start': of(2.3, 'temperature-difference', near('3 K')),
  'head-lift.pressure': of(17e3, 'pressure-difference', near('20 kPa')),
  'head-lift.per-kelvin': of(4e3, 'pressure-difference', OURS),
  'head-lift.lost-share': of(0.3, 'fraction', OURS),
  'cam.departure': of(3 * DEGREE, 'angle', near('4°')),
  'cam.shortest': of(0.4, 'time', near('0.5 s')),
  'oil-pressure.note': of(0.1, 'fraction', PRACTICE),
  'oil-pressure.hold': of(0.14, 'fraction', near('15 %')),
  'oil-pressure.stop': of(0.24, 'fraction', near('25 %')),
  'oil-pressure.per-kelvin': of(0.0125, 'fraction', PRACTICE),
  'oil-pressure.shortest': of(0.5, 'time', OURS),
  'crankcase.rise': of(800, 'pressure-difference', near('1 kPa')),
  'crankcase.times': of(2, 'ratio', PRACTICE),
  'loss-rising.share': of(0.015, 'fraction', OURS),
  'loss-rising.share-alone': of(0.03, 'fraction', OURS),
  'loss-rising.repeatability': of(0.007, 'fraction', 'common practice, no source: 0.5–1 % for pulls of one block'),
  'loss-rising.cumulative': of(
    6,
    'ratio',
    'NIST/SEMATECH e-Handbook 6.3.2.3: decision interval of 4 to 5 standard deviations',
  ),
  'loss-rising.overrun': of(0.006, 'fraction', near('1.5 % of the largest wheel torque, at the highest speed')),
  'loss-rising.overrun-drag': of(0.03, 'fraction', OURS),
  'loss-rising.temperature': of(10, 'temperature-difference', PRACTICE),
  'turbo.limit': of(Number.NaN, 'turbo-speed', 'stated by nobody: the day’s fact counts, else it has to be given'),
  'turbo.hold-share': of(0.962, 'fraction', near('97 %')),
  'turbo.stop-share': of(1.02, 'fraction', PRACTICE),
  'choke.pressure-falls': of(0.024, 'fraction', near('3 %')),
  'choke.speed-rises': of(0.02, 'fraction', OURS),
  'surge.amplitude': of(0.042, 'fraction', near('5 %')),
  'surge.half-swings': of(5, 'count', OURS),
  'exhaust.ratio-rise': of(0.115, 'ratio', near('0.15')),
  'valve-float.same-speed': of(0.02, 'fraction', OURS),
  'valve-float.other-pressure': of(0.05, 'fraction', OURS),
  'shortfall.per-pascal': of(
    4.5e-6,
    'fraction-per-pressure',
    'simple engine model near 200 kPa: 0.43–0.47 % per kPa; at other pressures as 1/pressure',
  ),
  'shortfall.per-kelvin': of(
    0.0033,
    'fraction',
    'simple engine model at fixed manifold pressure: 0.31–0.35 % per kelvin',
  ),
  'shortfall.share': of(0.017, 'fraction', near('2 %')),
  'shortfall.deviations': of(2.5, 'ratio', OURS),
  'shortfall.hold': of(1.2, 'ratio', OURS),
  'near.pressure': of(0.1, 'fraction', OURS),
  'float.lost': of(0.022, 'fraction', OURS),
  'lean.absolute-below-ratio': of(
    15.2,
    'ratio',
    'petrol and its ethanol blends need less air than this; methane 17.2: stoichiometry',
  ),
  'same.pressure': of(0.02, 'fraction', OURS),
} as const satisfies Record<string, Threshold>;

export type ThresholdName = keyof typeof THRESHOLDS;

/** All thresholds with the values in force. */
export type Limits = Readonly<Record<ThresholdName, Threshold>>;

/** The defaults with the values that a person set; those then say so. */
export function limitsWith(set: Partial<Record<ThresholdName, number>> = {}): Limits {
  const changed: Partial<Record<ThresholdName, Threshold>> = {};
  for (const name of thresholdNames()) {
    const value = set[name];
    if (value !== undefined) changed[name] = { ...THRESHOLDS[name], value, source: 'set by a person' };
  }
  return { ...THRESHOLDS, ...changed };
}

/** Names of all thresholds. */
export function thresholdNames(): readonly ThresholdName[] {
  return Object.keys(THRESHOLDS).filter((name): name is ThresholdName => name in THRESHOLDS);
}
