import { formatQuantity } from '../../../core/quantities/index.ts';
import type { Calibration } from './calibration.ts';
import type { Observation } from './observations.ts';
import { KNOTS, knotName, type Parameter } from './parameters.ts';

/** A parameter has been learnt when its spread fell below this share of the prior's. @source our default */
const LEARNT = 0.7;
/** Two parameters cannot be separated beyond this correlation. @source our default */
const TIED = 0.85;
/** Cam phases must differ by so much for their effect to show [rad]. @source our default: 3° */
const PHASE_RANGE = 0.05;

/** What nobody would guess from the name of a parameter. */
const WORDS: Readonly<Record<string, string>> = {
  heatLoss: 'heat loss',
  burnDelay: 'burn delay',
  burnDuration: 'burn duration',
  burnDurationSlope: 'burn duration over speed',
  exhaustHeat: 'heat lost in the exhaust port',
  turbineArea: 'turbine area',
  turbineEfficiency: 'turbine efficiency',
  coolerEffectiveness: 'cooler effectiveness',
  compressionRatio: 'compression ratio',
  halfBurned: 'place where half is burned',
  ignitionDelay: 'ignition delay of the end gas',
  inletLoss: 'inlet loss',
  coolerLoss: 'cooler loss',
  exhaustLoss: 'exhaust loss',
  mapSpeed: 'scale of the map’s speeds',
  mapEfficiency: 'scale of the map’s efficiencies',
  probeShortfall: 'what the exhaust probe shows too little',
  torqueScale: 'scale of the roller',
  workScale: 'work of the cycle',
};

/** What matters enough to be told when it was not learnt. */
const TOLD = [
  'filling',
  'friction',
  'heatLoss',
  'burnDuration',
  'turbineArea',
  'turbineEfficiency',
  'coolerEffectiveness',
  'mapSpeed',
];

export interface Learnt {
  readonly parameters: readonly Parameter[];
  readonly fit: Calibration;
  readonly redline: number;
  readonly boosted: boolean;
  readonly map: object | undefined;
}

/** What the day's pulls cannot tell, in words: posterior against prior, by parameter and region. */
export function unknownOf(points: readonly Observation[], learnt: Learnt): readonly string[] {
  const { parameters, fit, redline } = learnt;
  const spark = parameters.every(({ name }) => name !== 'halfBurned');
  return [
    ...regions(points),
    ...phaseWords(points, redline),
    ...notLearnt(learnt),
    ...tied(parameters, fit),
    ...(spark ? ['ignition delay of the end gas: no channel shows it, the knock integral keeps its wide band'] : []),
  ];
}

const rpm = (speed: number): string => formatQuantity(speed, 'engine-speed');

function regions(points: readonly Observation[]): readonly string[] {
  const torque = points.filter((point) => Number.isFinite(point.torque));
  if (torque.length === 0) return ['engine torque: no clean pull tells it'];
  const speeds = torque.map(({ speed }) => speed);
  const pressures = torque.map(({ manifoldPressure }) => manifoldPressure);
  return [
    `torque below ${rpm(Math.min(...speeds))} and above ${rpm(Math.max(...speeds))}: no clean pull there`,
    `torque above ${formatQuantity(Math.max(...pressures), 'absolute-pressure')}: no clean pull there, carried on by physics`,
  ];
}

function phaseWords(points: readonly Observation[], redline: number): readonly string[] {
  const phased = points.filter(({ camPhase, torque }) => Number.isFinite(camPhase) && Number.isFinite(torque));
  if (phased.length === 0) return ['phase effect unknown: no cam angle is logged'];
  const told = KNOTS.filter((share) => {
    const near = phased.filter(({ speed }) => Math.abs(speed / redline - share) < 0.09).map(({ camPhase }) => camPhase);
    return near.length > 1 && Math.max(...near) - Math.min(...near) > PHASE_RANGE;
  });
  if (told.length === 0) return ['phase effect unknown: all clean pulls have the same cam phase'];
  const highest = Math.max(...told);
  const top = Math.max(...KNOTS);
  return highest < top
    ? [`phase effect unknown above ${rpm((highest + 0.06) * redline)}: no pull with another phase there`]
    : [];
}

/** Parameters that only an engine with a turbocharger has, and those of a map. */
const OF_BOOST: ReadonlySet<string> = new Set(['turbineArea', 'turbineEfficiency', 'coolerEffectiveness', 'mapSpeed']);

function notLearnt({ parameters, fit, boosted, map }: Learnt): readonly string[] {
  const told = TOLD.filter((name) => (boosted || !OF_BOOST.has(name)) && (map !== undefined || name !== 'mapSpeed'));
  return parameters.flatMap(({ name, spread }, j) => {
    const left = fit.parameters[j].standardUncertainty / spread;
    return told.includes(name) && left > LEARNT
      ? [`${WORDS[name] ?? name}: as believed before, the pulls do not tell it`]
      : [];
  });
}

function tied(parameters: readonly Parameter[], { covariance }: Calibration): readonly string[] {
  const n = parameters.length;
  const words: string[] = [];
  const own = new Set(KNOTS.map(knotName));
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const r = covariance[i * n + j] / Math.sqrt(covariance[i * n + i] * covariance[j * n + j]);
      const [one, other] = [parameters[i].name, parameters[j].name];
      if (Math.abs(r) < TIED || own.has(one) || own.has(other)) continue;
      words.push(`${WORDS[one] ?? one} and ${WORDS[other] ?? other} cannot be separated (correlation ${r.toFixed(2)})`);
    }
  }
  return words;
}
