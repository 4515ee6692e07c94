import { ELECTRODE_FACTORS, standardAtmosphere } from '../../../core/physics/index.ts';
import { length, type Measured, type QuantityKind } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../pulls/index.ts';
import type { KnownValue } from './engine-model.ts';
import { isCompressionIgnition } from './fuel-of.ts';
import { type Prior, priorsFor } from './priors.ts';

/** Numbers a person stated, and what the logs told; names as in the facts. */
export type Numbers = ReadonlyMap<string, Measured>;

/**
 * Every number that the engine model needs, by name: stated before measured before a usual value of the trade, with its origin.
 *
 * Values without a usual value (head lift pressure, rod forces, injector flow) are there only when they were stated or measured.
 *
 * @param settings of the day's latest pull, such as `plugGap`: they go before the build sheet
 * @param measuredToday what the day's logs say, such as `ambientTemperature`; used where nobody stated the value
 */
export function knownValues(
  facts: DayFacts,
  measuredToday: Numbers = new Map(),
  settings: Numbers = new Map(),
): ReadonlyMap<string, KnownValue> {
  const stated = new Map([...statedNumbers(facts), ...settings]);
  const values = new Map<string, KnownValue>();
  const known = (name: string): number => values.get(name)?.value ?? stated.get(name)?.value ?? Number.NaN;
  const waterCooled = isWaterCooled(facts);
  const priors = priorsFor({ compressionIgnition: isCompressionIgnition(facts), waterCooled });
  for (const prior of priors) values.set(prior.name, knownValue(prior, { stated, measuredToday, known }));
  for (const [name, kind, share] of waterCooled ? [...NO_PRIOR, ...OF_TANK] : NO_PRIOR) {
    if (values.has(name)) continue;
    const found = stated.get(name) ?? measuredToday.get(name);
    const origin = stated.has(name) ? 'stated' : 'measured today';
    if (found) values.set(name, { name, kind, ...withSpread(found, share), origin, source: SOURCES[origin] });
  }
  return values;
}

const SOURCES = { stated: 'stated by a person', 'measured today': "the day's logs" } as const;

/** Relative uncertainty of a stated value of a part that came without one [1]. @source common practice, no source */
const STATED = 0.03;
/** A limit is what its owner says it is: without ± it has none. */
const EXACT = 0;

/** Values that no trade can guess, with their kinds and what a statement without ± leaves open. */
const NO_PRIOR: readonly (readonly [string, QuantityKind, number])[] = [
  ['injectorFlow', 'mass-flow', STATED],
  ['ethanolShare', 'fraction', STATED],
  ['compressorWheel', 'length', STATED],
  ['compressorTipLimit', 'piston-speed', EXACT],
  ['compressorSpeedMargin', 'fraction', EXACT],
  ['compressors', 'count', EXACT],
  ['turboSpeedLimit', 'turbo-speed', EXACT],
  ['coilCapacitance', 'capacitance', 0.1],
  ['coilTransfer', 'fraction', 0.05],
  ['largestCoilDuty', 'fraction', EXACT],
  ['sparksPerCycle', 'count', EXACT],
  ['electrodeFactor', 'ratio', EXACT],
  ['sparkVoltage', 'high-voltage', EXACT],
  ['headLiftPressure', 'cylinder-pressure', EXACT],
  ['peakPressureLimit', 'cylinder-pressure', EXACT],
  ['bearingLoadLimit', 'bearing-load', EXACT],
  ['pistonSpeedLimit', 'piston-speed', EXACT],
  ['valveFloatSpeed', 'engine-speed', EXACT],
  ['beltSpeedLimit', 'engine-speed', EXACT],
  ['treadTemperature', 'temperature', 0.01],
  ['gripKnee', 'temperature', EXACT],
  ['gripPerKelvin', 'ratio', 0.2],
  ['heatingValue', 'specific-energy', 0.01],
  ['exhaustTemperatureLimit', 'temperature', EXACT],
  ['chargeTemperatureLimit', 'temperature', EXACT],
  ['coolerTimeConstant', 'time', 0.1],
  ['clampForce', 'force', STATED],
  ['sealDiameter', 'length', STATED],
  ['rodCompression', 'force', EXACT],
  ['rodTension', 'force', EXACT],
  ['rodBolts', 'count', EXACT],
  ['rodBoltPreload', 'force', STATED],
  ['shankDepth', 'length', 0.005],
  ['shankWidth', 'length', 0.005],
  ['shankFlange', 'length', 0.02],
  ['shankWeb', 'length', 0.02],
  ['shankYield', 'stress', 0.05],
  ['bigEndDiameter', 'length', 0.002],
  ['bigEndWidth', 'length', 0.01],
  ['fuelPumpFlow', 'mass-flow', STATED],
  ['fuelPumpPressure', 'pressure-difference', 0.01],
  ['fuelPumpVoltage', 'voltage', 0.01],
  ['fuelPumpFreeFlow', 'mass-flow', STATED],
  ['overallRatio', 'ratio', STATED],
  ['finalDrive', 'ratio', EXACT],
  ['pullGear', 'count', EXACT],
  ['strapCount', 'count', EXACT],
  ['strapAngle', 'angle', 0.05],
  ['strapPlanAngle', 'angle', 0.05],
  ['strapRating', 'force', EXACT],
  ['axleLoadLimit', 'force', EXACT],
  ['plugThread', 'length', EXACT],
  ['headThread', 'length', EXACT],
  ['plugStepsColder', 'count', EXACT],
  ['nativeBoost', 'gauge-pressure', EXACT],
  ['nativePower', 'power', STATED],
  ['axleLoad', 'force', STATED],
  ['wheelInertia', 'inertia', STATED],
  ['stoichiometricRatio', 'ratio', STATED],
  ['maxForce', 'force', EXACT],
  ['maxSpeed', 'speed', EXACT],
  ['maxPower', 'power', EXACT],
  ['equivalentMass', 'mass', STATED],
  ['lossConstant', 'force', STATED],
  ['lossSlope', 'force-per-speed', STATED],
  ['lossSquare', 'force-per-speed-squared', STATED],
];

/** The same, of a tank of water. A person reads a thermometer to a kelvin and weighs ice in bags. */
const OF_TANK: readonly (readonly [string, QuantityKind, number])[] = [
  ['coolerIce', 'mass', 0.05],
  ['coolerWaterTemperature', 'temperature', 0.0035],
  ['coolerPumpFlow', 'volume-flow', 0.1],
];

/** Does water take the heat of the charge: stated, or told by what is stated of the water. */
function isWaterCooled({ parts = {} }: DayFacts): boolean {
  const { coolerKind, coolerWater, coolerIce, coolerWaterTemperature, coolerPumpFlow } = parts;
  if (coolerKind !== undefined) return coolerKind === 'water-to-air';
  return [coolerWater, coolerIce, coolerWaterTemperature, coolerPumpFlow].some((part) => part !== undefined);
}

interface Sources {
  readonly stated: Numbers;
  readonly measuredToday: Numbers;
  readonly known: (name: string) => number;
}

function knownValue(prior: Prior, { stated, measuredToday, known }: Sources): KnownValue {
  const { name, kind } = prior;
  const said = stated.get(name);
  if (said) return { name, kind, ...withSpread(said, prior.statedShare), origin: 'stated', source: SOURCES.stated };
  const seen = measuredToday.get(name);
  if (seen) return { name, kind, ...seen, origin: 'measured today', source: SOURCES['measured today'] };
  const value = prior.value(known);
  const standardUncertainty = prior.spread ?? Math.abs(value) * (prior.share ?? 0);
  return { name, kind, value, standardUncertainty, origin: 'prior', source: prior.source };
}

function withSpread({ value, standardUncertainty }: Measured, share: number): Measured {
  return { value, standardUncertainty: standardUncertainty > 0 ? standardUncertainty : Math.abs(value) * share };
}

function statedNumbers({ parts = {}, vehicle, engine, roller, ambient, place }: DayFacts): Numbers {
  const found = new Map<string, Measured>();
  for (const group of [parts, vehicle, engine, roller]) {
    for (const [name, value] of Object.entries(group)) {
      const number = measuredOf(value);
      if (number) found.set(name, number);
    }
  }
  if (parts.electrodes) found.set('electrodeFactor', ELECTRODE_FACTORS[parts.electrodes]);
  const { altitude } = place;
  const air = altitude && standardAtmosphere(length(altitude.value));
  const set = (name: string, value: Measured | undefined): unknown => value && found.set(name, value);
  set('altitude', altitude);
  set('ambientTemperature', ambient.temperature);
  set('ambientPressure', ambient.pressure ?? (air && { value: air.pressure, standardUncertainty: 800 }));
  set('relativeHumidity', ambient.relativeHumidity);
  const one = sizeFromCylinder(found);
  if (!found.has('displacement') && one) found.set('displacement', one);
  return found;
}

function measuredOf(value: unknown): Measured | undefined {
  if (typeof value === 'number') return { value, standardUncertainty: 0 };
  if (typeof value !== 'object' || value === null) return undefined;
  if (!('value' in value && 'standardUncertainty' in value)) return undefined;
  const { value: number, standardUncertainty } = value;
  return typeof number === 'number' && typeof standardUncertainty === 'number'
    ? { value: number, standardUncertainty }
    : undefined;
}

function sizeFromCylinder(found: Numbers): Measured | undefined {
  const [bore, stroke, cylinders] = ['bore', 'stroke', 'cylinders'].map((name) => found.get(name)?.value);
  if (bore === undefined || stroke === undefined || cylinders === undefined) return undefined;
  const value = (Math.PI / 4) * bore * bore * stroke * cylinders;
  return { value, standardUncertainty: 0.002 * value };
}
