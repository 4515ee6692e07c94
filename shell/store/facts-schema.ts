import { z } from 'zod';
import { unitNamed } from '../../core/quantities/index.ts';
import { type ColumnMapping, type Mapping, MEANINGS } from '../../day/channels/index.ts';
import type {
  AmbientFacts,
  DayFacts,
  EngineFacts,
  EntryFacts,
  PartsFacts,
  PlaceFacts,
  RollerFacts,
  VehicleFacts,
} from '../../day/pulls/index.ts';

/** One schema for every fact: a fact that is added to the type and forgotten here does not compile. */
type Shape<Facts> = Record<keyof Required<Facts>, z.ZodType>;

const text = z.string();
const share = z.number().min(0).max(1);
const measured = z.strictObject({ value: z.number(), standardUncertainty: z.number().min(0) });
const rule = z.enum([
  'none',
  'SAE J1349',
  'ISO 1585 spark',
  'ISO 1585 compression',
  'DIN 70020',
  'SAE J607',
  'temperature only',
]);
/** A symbol of the unit table: other spellings are settled where they are read. */
const unit = text.refine((symbol) => unitNamed(symbol)?.symbol === symbol, 'a symbol of the unit table');
const meaning = z.custom<keyof typeof MEANINGS>((value) => typeof value === 'string' && Object.hasOwn(MEANINGS, value));

/** Not `z.record`, which drops a key called `__proto__`. */
const texts = z.custom<Readonly<Record<string, string>>>(
  (value) =>
    typeof value === 'object' &&
    value !== null &&
    !Array.isArray(value) &&
    Object.values(value).every((part) => typeof part === 'string'),
);

const vehicle = z.strictObject({
  name: text.exactOptional(),
  tyreRadius: measured.exactOptional(),
  overallRatio: measured.exactOptional(),
  gearRatios: z.array(z.number().positive()).min(1).exactOptional(),
  finalDrive: measured.exactOptional(),
  pullGear: z.number().int().min(1).exactOptional(),
  axleLoad: measured.exactOptional(),
  wheelInertia: measured.exactOptional(),
  torqueLoss: measured.exactOptional(),
  transmission: z.enum(['manual', 'converter', 'direct']).exactOptional(),
} satisfies Shape<VehicleFacts>);

const engine = z.strictObject({
  name: text.exactOptional(),
  displacement: measured.exactOptional(),
  cylinders: z.number().int().min(1).exactOptional(),
  strokesPerCycle: z.union([z.literal(2), z.literal(4)]).exactOptional(),
  inertia: measured.exactOptional(),
  ignition: z.enum(['spark', 'compression']).exactOptional(),
  boostControl: z.enum(['absolute', 'gauge', 'none', 'unknown']).exactOptional(),
  redline: measured.exactOptional(),
  turboSpeedLimit: measured.exactOptional(),
  stoichiometricRatio: measured.exactOptional(),
} satisfies Shape<EngineFacts>);

const roller = z.strictObject({
  name: text.exactOptional(),
  kind: z.enum(['brake', 'inertia', 'combined', 'unknown']).exactOptional(),
  equivalentMass: measured.exactOptional(),
  rollRadius: measured.exactOptional(),
  forceCalibration: share.exactOptional(),
  forceZero: z.number().min(0).exactOptional(),
  speedCalibration: share.exactOptional(),
  maxForce: measured.exactOptional(),
  maxSpeed: measured.exactOptional(),
  maxPower: measured.exactOptional(),
} satisfies Shape<RollerFacts>);

const parts = z.strictObject({
  bore: measured.exactOptional(),
  stroke: measured.exactOptional(),
  rodLength: measured.exactOptional(),
  compressionRatio: measured.exactOptional(),
  reciprocatingMass: measured.exactOptional(),
  inletCloses: measured.exactOptional(),
  fuel: z.enum(['petrol', 'ethanol blend', 'methanol', 'methane', 'LPG', 'diesel']).exactOptional(),
  octane: measured.exactOptional(),
  ethanolShare: measured.exactOptional(),
  fuelComposition: text.exactOptional(),
  heatingValue: measured.exactOptional(),
  compressorMap: text.exactOptional(),
  compressorWheel: measured.exactOptional(),
  compressorTipLimit: measured.exactOptional(),
  compressorSpeedMargin: measured.exactOptional(),
  compressors: z.number().int().min(1).exactOptional(),
  turbineArea: measured.exactOptional(),
  turbineEfficiency: measured.exactOptional(),
  ratedAirFlow: measured.exactOptional(),
  inletLoss: measured.exactOptional(),
  coolerLoss: measured.exactOptional(),
  exhaustLoss: measured.exactOptional(),
  coolerEffectiveness: measured.exactOptional(),
  coolerKind: z.enum(['air-to-air', 'water-to-air']).exactOptional(),
  coolerWater: measured.exactOptional(),
  coolerIce: measured.exactOptional(),
  coolerWaterTemperature: measured.exactOptional(),
  coolerPumpFlow: measured.exactOptional(),
  coolerTimeConstant: measured.exactOptional(),
  injectors: z.number().int().min(1).exactOptional(),
  injectorFlow: measured.exactOptional(),
  injectorPressure: measured.exactOptional(),
  injectorDeadTime: measured.exactOptional(),
  largestDuty: measured.exactOptional(),
  fuelPumpFlow: measured.exactOptional(),
  fuelPumpPressure: measured.exactOptional(),
  fuelPumpVoltage: measured.exactOptional(),
  fuelPumpFreeFlow: measured.exactOptional(),
  plugGap: measured.exactOptional(),
  coilResistance: measured.exactOptional(),
  coilInductance: measured.exactOptional(),
  coilCapacitance: measured.exactOptional(),
  coilTransfer: measured.exactOptional(),
  largestCoilDuty: measured.exactOptional(),
  sparksPerCycle: z.number().int().min(1).exactOptional(),
  plugThread: measured.exactOptional(),
  headThread: measured.exactOptional(),
  plugStepsColder: z.number().int().min(0).exactOptional(),
  nativeBoost: measured.exactOptional(),
  nativePower: measured.exactOptional(),
  electrodes: z.enum(['new', 'fine wire', 'worn']).exactOptional(),
  dwell: measured.exactOptional(),
  coilVoltage: measured.exactOptional(),
  sparkVoltage: measured.exactOptional(),
  headLiftPressure: measured.exactOptional(),
  peakPressureLimit: measured.exactOptional(),
  exhaustTemperatureLimit: measured.exactOptional(),
  chargeTemperatureLimit: measured.exactOptional(),
  bigEndDiameter: measured.exactOptional(),
  bigEndWidth: measured.exactOptional(),
  bearingLoadLimit: measured.exactOptional(),
  pistonSpeedLimit: measured.exactOptional(),
  valveFloatSpeed: measured.exactOptional(),
  beltSpeedLimit: measured.exactOptional(),
  clampForce: measured.exactOptional(),
  sealDiameter: measured.exactOptional(),
  rodCompression: measured.exactOptional(),
  rodTension: measured.exactOptional(),
  rodBolts: z.number().int().min(1).exactOptional(),
  rodBoltPreload: measured.exactOptional(),
  shankDepth: measured.exactOptional(),
  shankWidth: measured.exactOptional(),
  shankFlange: measured.exactOptional(),
  shankWeb: measured.exactOptional(),
  shankYield: measured.exactOptional(),
  strapForce: measured.exactOptional(),
  strapCount: z.number().int().min(1).exactOptional(),
  strapAngle: measured.exactOptional(),
  strapPlanAngle: measured.exactOptional(),
  strapRating: measured.exactOptional(),
  axleLoadLimit: measured.exactOptional(),
  grip: measured.exactOptional(),
  treadTemperature: measured.exactOptional(),
  gripKnee: measured.exactOptional(),
  gripPerKelvin: measured.exactOptional(),
} satisfies Shape<PartsFacts>);

const entry = z.strictObject({
  id: text,
  kind: z.enum(['pull', 'coast-down', 'change', 'note']),
  clock: text.exactOptional(),
  files: z.array(text),
  title: text.exactOptional(),
  settings: texts,
  notes: text.exactOptional(),
  clutch: z.enum(['open', 'in gear']).exactOptional(),
  nudge: z.number().exactOptional(),
  rule: rule.exactOptional(),
  excluded: text.exactOptional(),
  overruled: texts.exactOptional(),
} satisfies Shape<EntryFacts>);

/** A mapping as values; what is kept of it in the store and in `day.yaml` is checked against this. */
export const MAPPING = z.strictObject({
  columnSet: text,
  columns: z.array(
    z.strictObject({
      column: text,
      meaning,
      position: text.exactOptional(),
      unit,
      divisor: z
        .number()
        .refine((value) => value !== 0)
        .exactOptional(),
      zero: z.enum(['vacuum', 'ambient']).exactOptional(),
      origin: z.enum(['measured', 'smoothed', 'corrected', 'derived', 'commanded']).exactOptional(),
      confirmed: z.boolean(),
    } satisfies Shape<ColumnMapping>),
  ),
} satisfies Shape<Mapping>);

/** The facts of a day as values in SI. An unknown fact, a missing one and a number that is not finite are refused. */
export const FACTS: z.ZodType<DayFacts> = z.strictObject({
  title: text,
  date: text.exactOptional(),
  invented: text.exactOptional(),
  notes: text.exactOptional(),
  place: z.strictObject({ name: text.exactOptional(), altitude: measured.exactOptional() } satisfies Shape<PlaceFacts>),
  vehicle,
  engine,
  roller,
  ambient: z.strictObject({
    rule: rule.exactOptional(),
    temperature: measured.exactOptional(),
    pressure: measured.exactOptional(),
    relativeHumidity: measured.exactOptional(),
  } satisfies Shape<AmbientFacts>),
  parts: parts.exactOptional(),
  entries: z.array(entry),
  mappings: z.array(MAPPING),
  thresholds: texts.exactOptional(),
  engineThresholds: texts.exactOptional(),
} satisfies Shape<DayFacts>);
