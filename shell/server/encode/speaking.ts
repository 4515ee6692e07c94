import type { Meaning } from '../../../day/channels/index.ts';
import type { Detection, Fault, Limits, ThresholdName } from '../../../day/verdicts/index.ts';
import type { GuideView } from '../../contract/index.ts';

/** What can be shown as evidence: a channel by what it is, or the ratio of engine speed to roll speed. */
export type Speaking = Meaning | 'speed-ratio';

/** Channels in which a person sees the signature of a fault, the loudest first. @source our default, from what the detectors look at */
const SPEAKING: Readonly<Partial<Record<Fault, readonly Speaking[]>>> = {
  'wheel-slip': ['speed-ratio', 'engine-speed', 'roll-speed', 'wheel-speed', 'brake-force'],
  'clutch-slip': ['speed-ratio', 'engine-speed', 'wheel-speed', 'roll-speed', 'brake-force'],
  'converter-slip': ['speed-ratio', 'engine-speed', 'roll-speed', 'wheel-speed', 'brake-force'],
  'ignition-breakup': ['brake-force', 'lambda', 'manifold-pressure', 'battery-voltage', 'dwell'],
  'spark-energy': ['brake-force', 'battery-voltage', 'dwell', 'lambda', 'manifold-pressure'],
  'lost-sync': ['engine-speed', 'sync-errors', 'brake-force', 'lambda'],
  'rev-or-torque-cut': ['brake-force', 'cut-status', 'ignition-timing', 'engine-speed', 'lambda'],
  'over-rev': ['engine-speed', 'speed-ratio', 'roll-speed'],
  'boost-overshoot': ['manifold-pressure', 'wastegate-duty', 'turbo-speed', 'brake-force'],
  'boost-oscillation': ['manifold-pressure', 'wastegate-duty', 'turbo-speed', 'brake-force'],
  'boost-droop': ['manifold-pressure', 'wastegate-duty', 'turbo-speed', 'exhaust-pressure'],
  'boost-creep': ['manifold-pressure', 'wastegate-duty', 'turbo-speed', 'exhaust-pressure'],
  'boost-leak': ['wastegate-duty', 'turbo-speed', 'charge-temperature', 'manifold-pressure'],
  'compressor-choke': ['manifold-pressure', 'turbo-speed', 'wastegate-duty', 'compressor-outlet-temperature'],
  surge: ['manifold-pressure', 'boost-pressure', 'throttle', 'turbo-speed'],
  'turbo-overspeed': ['turbo-speed', 'manifold-pressure', 'wastegate-duty'],
  'exhaust-restriction': ['exhaust-pressure', 'manifold-pressure', 'turbo-speed'],
  knock: ['knock-level', 'knock-retard', 'knock-count', 'ignition-timing', 'charge-temperature'],
  'pre-ignition': ['knock-level', 'brake-force', 'ignition-timing', 'lambda'],
  'fuel-pressure-drop': ['fuel-pressure-difference', 'fuel-pressure', 'lambda', 'injector-duty', 'battery-voltage'],
  'injector-saturation': ['injector-duty', 'lambda', 'fuel-pressure-difference'],
  'lean-mixture': ['lambda', 'fuel-pressure-difference', 'injector-duty', 'manifold-pressure'],
  'rich-mixture': ['lambda', 'fuel-pressure-difference', 'injector-duty', 'manifold-pressure'],
  'charge-heat-soak': ['charge-temperature', 'compressor-outlet-temperature', 'ambient-temperature', 'knock-retard'],
  'head-lift': ['coolant-pressure', 'coolant-temperature', 'manifold-pressure', 'brake-force'],
  'cam-not-tracking': ['cam-angle', 'oil-pressure', 'oil-temperature', 'manifold-pressure'],
  'oil-pressure-low': ['oil-pressure', 'oil-temperature', 'engine-speed'],
  'crankcase-pressure': ['crankcase-pressure', 'manifold-pressure', 'oil-temperature'],
  'driveline-loss-rising': ['axle-temperature', 'gearbox-temperature', 'brake-force', 'roll-speed'],
  'valve-float': ['brake-force', 'engine-speed', 'manifold-pressure', 'lambda'],
  'power-shortfall': ['brake-force', 'manifold-pressure', 'charge-temperature', 'lambda', 'ignition-timing'],
};

/** Targets go with what follows them: one row shows both. */
const WITH_TARGET: Readonly<Partial<Record<Speaking, Meaning>>> = {
  'manifold-pressure': 'manifold-target',
  lambda: 'lambda-target',
  'cam-angle': 'cam-target',
};

/** What to show for a detection, targets beside what follows them; what it needs when nothing else is known. */
export function speakingChannels({ fault, needs }: Pick<Detection, 'fault' | 'needs'>): readonly Speaking[] {
  const loud = SPEAKING[fault] ?? needs;
  return [...new Set(loud.flatMap((meaning) => [meaning, WITH_TARGET[meaning] ?? []].flat()))];
}

interface Guide {
  readonly fault: Fault;
  readonly threshold: ThresholdName;
  readonly meaning: Meaning;
  /** The threshold counts from this channel, up or down. */
  readonly of?: Meaning;
  readonly sign?: 1 | -1;
  /** The threshold is a share of `of`. */
  readonly share?: boolean;
}

const TARGET = { meaning: 'manifold-pressure', of: 'manifold-target' } as const;
const MIXTURE = { meaning: 'lambda', of: 'lambda-target' } as const;
const CAM = { meaning: 'cam-angle', of: 'cam-target' } as const;

/** Thresholds that can be drawn beside a channel: absolute ones, and those that count from a target. */
const GUIDES: readonly Guide[] = [
  { fault: 'boost-overshoot', threshold: 'boost-overshoot.pressure', ...TARGET },
  { fault: 'boost-droop', threshold: 'boost-droop.share', ...TARGET, sign: -1, share: true },
  { fault: 'compressor-choke', threshold: 'boost-droop.share', ...TARGET, sign: -1, share: true },
  { fault: 'boost-creep', threshold: 'boost-creep.share', ...TARGET, share: true },
  { fault: 'lean-mixture', threshold: 'lean.departure', ...MIXTURE },
  { fault: 'injector-saturation', threshold: 'injector.leaning', ...MIXTURE },
  { fault: 'lean-mixture', threshold: 'lean.absolute', meaning: 'lambda' },
  { fault: 'rich-mixture', threshold: 'rich.departure', ...MIXTURE, sign: -1 },
  { fault: 'rich-mixture', threshold: 'rich.absolute', meaning: 'lambda' },
  { fault: 'injector-saturation', threshold: 'injector.duty', meaning: 'injector-duty' },
  { fault: 'knock', threshold: 'knock.retard', meaning: 'knock-retard' },
  { fault: 'cam-not-tracking', threshold: 'cam.departure', ...CAM },
  { fault: 'cam-not-tracking', threshold: 'cam.departure', ...CAM, sign: -1 },
  { fault: 'turbo-overspeed', threshold: 'turbo.limit', meaning: 'turbo-speed' },
];

/** The lines to draw for a fault at the limits in force; a limit that nobody stated has none. */
export function guidesOf(fault: Fault, limits: Limits, titleOf: (name: ThresholdName) => string): GuideView[] {
  return GUIDES.filter((guide) => guide.fault === fault && Number.isFinite(limits[guide.threshold].value)).map(
    ({ threshold, meaning, of, sign = 1, share = false }) => {
      const { value } = limits[threshold];
      return {
        ...{ meaning, threshold, title: titleOf(threshold) },
        ...(of === undefined ? {} : { of }),
        times: of === undefined ? 0 : share ? 1 + sign * value : 1,
        add: share ? 0 : sign * value,
      };
    },
  );
}
