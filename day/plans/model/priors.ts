import { DRY_AIR_GAS_CONSTANT } from '../../../core/physics/index.ts';
import type { QuantityKind } from '../../../core/quantities/index.ts';

const DEGREE = Math.PI / 180;
const RPM = Math.PI / 30;

/** Usual value of something nobody stated. share: standard uncertainty relative to the value; spread: absolute, SI. */
export interface Prior {
  readonly name: string;
  readonly kind: QuantityKind;
  readonly value: (known: (name: string) => number) => number;
  readonly share?: number;
  readonly spread?: number;
  /** Standard uncertainty of a stated value that came without one, relative. */
  readonly statedShare: number;
  readonly source: string;
}

const TRADE = 'common practice, no source';
const OURS = 'our default';

/** Volume of one cylinder [m³]. */
const cylinderVolume = (known: (name: string) => number): number => known('displacement') / known('cylinders');

/** Values of the trade, in an order in which each asks only for those before it. Names are those of the facts of a day and its parts. */
const PRIORS: readonly Prior[] = [
  { name: 'cylinders', kind: 'count', value: () => 4, spread: 0, statedShare: 0, source: OURS },
  { name: 'displacement', kind: 'volume', value: sizeOf, share: 0.25, statedShare: 0.002, source: OURS },
  {
    name: 'bore',
    kind: 'length',
    value: boreOf,
    share: 0.04,
    statedShare: 0.0005,
    source: `${TRADE}: bore near stroke`,
  },
  {
    name: 'stroke',
    kind: 'length',
    value: strokeOf,
    share: 0.04,
    statedShare: 0.0005,
    source: 'from displacement and bore',
  },
  {
    name: 'rodLength',
    kind: 'length',
    value: (k) => 1.7 * k('stroke'),
    share: 0.06,
    statedShare: 0.002,
    source: `${TRADE}: 1.6 … 1.8 strokes`,
  },
  {
    name: 'compressionRatio',
    kind: 'ratio',
    value: () => 9.3,
    spread: 0.7,
    statedShare: 0.01,
    source: `${TRADE}: 8.5 … 10.5 of boosted engines`,
  },
  {
    name: 'reciprocatingMass',
    kind: 'mass',
    value: (k) => 1400 * cylinderVolume(k),
    share: 0.2,
    statedShare: 0.02,
    source: TRADE,
  },
  {
    name: 'inletCloses',
    kind: 'angle',
    value: () => 45 * DEGREE,
    spread: 8 * DEGREE,
    statedShare: 0.05,
    source: `${TRADE}, at the lift at which flow matters`,
  },
  { name: 'redline', kind: 'engine-speed', value: () => 7000 * RPM, spread: 500 * RPM, statedShare: 0, source: OURS },
  { name: 'inertia', kind: 'inertia', value: () => 0.16, spread: 0.05, statedShare: 0.1, source: TRADE },
  { name: 'octane', kind: 'ratio', value: () => 98, spread: 2, statedShare: 0.01, source: OURS },
  {
    name: 'ratedAirFlow',
    kind: 'mass-flow',
    value: ratedFlow,
    spread: 0,
    statedShare: 0,
    source: 'reference point of the losses: redline at 200 kPa',
  },
  { name: 'inletLoss', kind: 'pressure-difference', value: () => 2e3, share: 0.6, statedShare: 0.15, source: TRADE },
  {
    name: 'coolerLoss',
    kind: 'pressure-difference',
    value: () => 10e3,
    share: 0.5,
    statedShare: 0.15,
    source: `${TRADE}: 5 … 15 kPa`,
  },
  { name: 'exhaustLoss', kind: 'pressure-difference', value: () => 15e3, share: 0.6, statedShare: 0.2, source: TRADE },
  {
    name: 'coolerEffectiveness',
    kind: 'fraction',
    value: () => 0.75,
    spread: 0.06,
    statedShare: 0.03,
    source: `${TRADE}: 0.65 … 0.85`,
  },
  {
    name: 'turbineArea',
    kind: 'area',
    value: (k) => 0.0024 * k('ratedAirFlow'),
    share: 0.25,
    statedShare: 0.04,
    source: 'our default: exhaust near 1.3 times manifold pressure at the rated flow',
  },
  { name: 'turbineEfficiency', kind: 'fraction', value: () => 0.64, spread: 0.06, statedShare: 0.04, source: TRADE },
  {
    name: 'compressorEfficiency',
    kind: 'fraction',
    value: () => 0.7,
    spread: 0.05,
    statedShare: 0.03,
    source: `${TRADE}: 0.65 … 0.78 on most of a map; used where there is no map`,
  },
  {
    name: 'injectors',
    kind: 'count',
    value: (k) => k('cylinders'),
    spread: 0,
    statedShare: 0,
    source: `${TRADE}: one per cylinder`,
  },
  {
    name: 'injectorPressure',
    kind: 'pressure-difference',
    value: () => 300e3,
    spread: 15e3,
    statedShare: 0.02,
    source: TRADE,
  },
  {
    name: 'injectorDeadTime',
    kind: 'pulse-width',
    value: () => 0.8e-3,
    spread: 0.25e-3,
    statedShare: 0.1,
    source: TRADE,
  },
  { name: 'largestDuty', kind: 'fraction', value: () => 0.85, spread: 0.02, statedShare: 0, source: TRADE },
  { name: 'plugGap', kind: 'length', value: () => 0.7e-3, spread: 0.08e-3, statedShare: 0.05, source: TRADE },
  { name: 'coilVoltage', kind: 'voltage', value: () => 13.5, spread: 0.4, statedShare: 0.015, source: TRADE },
  { name: 'dwell', kind: 'pulse-width', value: () => 3e-3, spread: 0.4e-3, statedShare: 0.03, source: TRADE },
  { name: 'coilResistance', kind: 'resistance', value: () => 0.5, share: 0.2, statedShare: 0.05, source: TRADE },
  { name: 'coilInductance', kind: 'inductance', value: () => 3e-3, share: 0.25, statedShare: 0.05, source: TRADE },
  { name: 'tyreRadius', kind: 'length', value: () => 0.31, spread: 0.015, statedShare: 0.005, source: TRADE },
  { name: 'torqueLoss', kind: 'fraction', value: () => 0.05, spread: 0.015, statedShare: 0.1, source: TRADE },
  {
    name: 'grip',
    kind: 'ratio',
    value: () => 0.6,
    spread: 0.06,
    statedShare: 0.05,
    source: `${TRADE}: 0.5 … 0.7 on smooth twin rolls`,
  },
  { name: 'strapForce', kind: 'force', value: () => 0, spread: 0, statedShare: 0.1, source: OURS },
  { name: 'altitude', kind: 'altitude', value: () => 100, spread: 150, statedShare: 0, source: OURS },
  { name: 'ambientTemperature', kind: 'temperature', value: () => 295, spread: 8, statedShare: 0.005, source: OURS },
  {
    name: 'ambientPressure',
    kind: 'absolute-pressure',
    value: () => 99.5e3,
    spread: 2e3,
    statedShare: 0.002,
    source: OURS,
  },
  { name: 'relativeHumidity', kind: 'fraction', value: () => 0.5, spread: 0.2, statedShare: 0.1, source: OURS },
];

/** Numbers of the spark and of knock, which an engine with compression ignition does not have. */
const OF_SPARK: ReadonlySet<string> = new Set(['octane', 'plugGap', 'dwell', 'coilResistance', 'coilInductance']);

/** What is otherwise where compression lights the charge. */
const COMPRESSION_IGNITION: readonly Prior[] = [
  {
    name: 'compressionRatio',
    kind: 'ratio',
    value: () => 16.5,
    spread: 1,
    statedShare: 0.01,
    source: `${TRADE}: 15 … 18.5 of boosted engines`,
  },
  {
    name: 'redline',
    kind: 'engine-speed',
    value: () => 4500 * RPM,
    spread: 500 * RPM,
    statedShare: 0,
    source: OURS,
  },
];
const HALF_BURNED: Prior = {
  name: 'halfBurned',
  kind: 'angle',
  value: () => 15 * DEGREE,
  spread: 4 * DEGREE,
  statedShare: 0.1,
  source: `${TRADE}: 10 … 20° after top dead centre at full load`,
};

/** What a tank of water before the charge cooler adds. */
const WATER_COOLED: readonly Prior[] = [
  {
    name: 'coolerWater',
    kind: 'mass',
    value: () => 10,
    spread: 4,
    statedShare: 0.05,
    source: `${TRADE}: 5 … 20 kg`,
  },
  {
    name: 'coolerTimeConstant',
    kind: 'time',
    value: () => 400,
    spread: 200,
    statedShare: 0.1,
    source: `${TRADE}: a small radiator in the loop brings the tank back in ten to twenty minutes`,
  },
];

interface EngineSort {
  readonly compressionIgnition: boolean;
  readonly waterCooled?: boolean;
}

/** Usual values for an engine that is lit by sparks, or by compression; with a tank of water for its charge, or without. */
export function priorsFor({ compressionIgnition, waterCooled = false }: EngineSort): readonly Prior[] {
  return [...ofIgnition(compressionIgnition), ...(waterCooled ? WATER_COOLED : [])];
}

function ofIgnition(compressionIgnition: boolean): readonly Prior[] {
  if (!compressionIgnition) return PRIORS;
  const own = PRIORS.filter(({ name }) => !OF_SPARK.has(name)).map(
    (prior) => COMPRESSION_IGNITION.find(({ name }) => name === prior.name) ?? prior,
  );
  return [...own, HALF_BURNED];
}

function sizeOf(known: (name: string) => number): number {
  return known('cylinders') * 0.5e-3;
}

/** Bore of a cylinder that is as long as it is wide, or that the stated stroke leaves. */
function boreOf(known: (name: string) => number): number {
  const stroke = known('stroke');
  const volume = cylinderVolume(known);
  return Number.isFinite(stroke) ? Math.sqrt((4 * volume) / (Math.PI * stroke)) : Math.cbrt((4 * volume) / Math.PI);
}

function strokeOf(known: (name: string) => number): number {
  return cylinderVolume(known) / ((Math.PI / 4) * known('bore') ** 2);
}

/** Air at the redline, 200 kPa and 60 °C with 0.92 of the displacement filled [kg/s]. */
function ratedFlow(known: (name: string) => number): number {
  return (0.92 * 200e3 * known('displacement') * known('redline')) / (4 * Math.PI * DRY_AIR_GAS_CONSTANT * 333);
}
