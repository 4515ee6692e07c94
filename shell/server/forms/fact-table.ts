import type { QuantityKind } from '../../../core/quantities/index.ts';
import type { FactForm } from '../../contract/index.ts';
import { type Form, SECTIONS } from '../../store/index.ts';

/** One fact a person can write: where it stands in the day's facts, how it is written, what is done without it. */
export interface FactRow {
  readonly path: string;
  readonly group: string;
  readonly title: string;
  readonly form: FactForm;
  readonly example: string;
  readonly whenUnknown: string;
  readonly short: boolean;
  /** Lowest and highest accepted value in SI; `above` excludes its own value. */
  readonly above?: number;
  readonly most?: number;
  /** A plain number in the facts, not a value with an uncertainty. */
  readonly bare?: boolean;
  /** How the day's file writes it, where none of the forms above reads it. */
  readonly written?: Form;
}

const TEXT: FactForm = { kind: 'text' };
const quantity = (kind: QuantityKind): FactForm => ({ kind: 'quantity', quantity: kind });
const choice = (titles: Readonly<Record<string, string>>): FactForm => ({
  kind: 'choice',
  choices: Object.entries(titles).map(([value, title]) => ({ value, title })),
});

type Rest = Omit<FactRow, 'group' | 'short'> & { readonly short?: boolean };
const group = (name: string, rows: readonly Rest[]): readonly FactRow[] =>
  rows.map((row) => ({ short: false, ...row, group: name }));

const ROLLER = group('Roller', [
  {
    path: 'roller.kind',
    title: 'How the roller takes up the power',
    form: choice({ brake: 'brake', inertia: 'inertia only', combined: 'brake and inertia', unknown: 'not known' }),
    example: 'brake',
    whenUnknown: 'A force channel is taken as a brake; without one only the mass of the rolls can speak.',
    short: true,
  },
  {
    path: 'roller.equivalentMass',
    title: 'Equivalent mass of the rolls',
    form: quantity('mass'),
    example: '450 ± 5 kg',
    whenUnknown:
      'The power that speeds up the rolls is left out: power on a ramp reads too low. An inertia roller gives no answer.',
    short: true,
    above: 0,
  },
  {
    path: 'roller.rollRadius',
    title: 'Roll radius',
    form: quantity('length'),
    example: '159 mm',
    whenUnknown: 'A log of roll torque or roll rotation cannot be turned into force and surface speed.',
    above: 0,
  },
  {
    path: 'roller.forceCalibration',
    title: 'Uncertainty of the force calibration',
    form: quantity('fraction'),
    example: '0.5 %',
    whenUnknown: 'A default of ours enters the uncertainty, and the budget says so.',
    above: 0,
    most: 1,
    bare: true,
  },
  {
    path: 'roller.forceZero',
    title: 'Uncertainty of the force zero',
    form: quantity('force'),
    example: '10 N',
    whenUnknown: 'A default of ours enters the uncertainty, and the budget says so.',
    bare: true,
  },
  {
    path: 'roller.speedCalibration',
    title: 'Uncertainty of the speed',
    form: quantity('fraction'),
    example: '0.2 %',
    whenUnknown: 'A default of ours enters the uncertainty, and the budget says so.',
    above: 0,
    most: 1,
    bare: true,
  },
  {
    path: 'roller.maxForce',
    title: 'Highest force the roller allows',
    form: quantity('force'),
    example: '7000 N',
    whenUnknown: 'The gate cannot compare the expected force with it.',
    above: 0,
  },
  {
    path: 'roller.maxSpeed',
    title: 'Highest speed the roller allows',
    form: quantity('speed'),
    example: '250 km/h',
    whenUnknown: 'The gate cannot compare the expected speed with it.',
    above: 0,
  },
  {
    path: 'roller.maxPower',
    title: 'Largest power the roller may take',
    form: quantity('power'),
    example: '400 kW',
    whenUnknown: 'The limit of the roller’s power is not judged: ask who hires it out.',
    above: 0,
  },
  {
    path: 'roller.name',
    title: 'Name of the roller',
    form: TEXT,
    example: 'hired trailer',
    whenUnknown: 'Nothing is lost.',
  },
]);

const VEHICLE = group('Vehicle', [
  {
    path: 'vehicle.tyreRadius',
    title: 'Dynamic tyre radius',
    form: quantity('length'),
    example: '330 mm',
    whenUnknown: 'Slip cannot be told from the gearing; wheel torque is not given.',
    short: true,
    above: 0,
  },
  {
    path: 'vehicle.overallRatio',
    title: 'Engine turns per wheel turn in the gear of the pulls',
    form: quantity('ratio'),
    example: '4.402',
    whenUnknown: 'The ratio is found from the logs when both speeds are there; the gear then has no name.',
    short: true,
    above: 0,
  },
  {
    path: 'vehicle.gearRatios',
    title: 'Ratios of the gearbox, from the first gear on',
    form: TEXT,
    written: SECTIONS.vehicle.gearRatios.form,
    example: '3.10, 2.05, 1.55, 1.24, 0.98',
    whenUnknown: 'Which gear suits the roller cannot be told, only which overall ratio.',
  },
  {
    path: 'vehicle.finalDrive',
    title: 'Ratio of everything between gearbox and wheel',
    form: quantity('ratio'),
    example: '3.55',
    whenUnknown: 'The gears are counted from the gear of the pulls and its overall ratio.',
    above: 0,
  },
  {
    path: 'vehicle.pullGear',
    title: 'Gear of the pulls',
    form: { kind: 'count' },
    example: '4',
    whenUnknown: 'The gears are counted from the final drive.',
  },
  {
    path: 'vehicle.wheelInertia',
    title: 'Inertia of wheels, shafts and axle at the wheel',
    form: quantity('inertia'),
    example: '2.6 kg·m²',
    whenUnknown: 'Their share of the power on a ramp is left out and named as missing.',
    short: true,
    above: 0,
  },
  {
    path: 'vehicle.torqueLoss',
    title: 'Share of the engine torque lost in the gears',
    form: quantity('fraction'),
    example: '5.5 %',
    whenUnknown: 'No engine power is claimed from it; wheel and roll power stand.',
    short: true,
    above: 0,
    most: 0.5,
  },
  {
    path: 'vehicle.axleLoad',
    title: 'Force of the driven axle on the rolls',
    form: quantity('force'),
    example: '5480 N',
    whenUnknown: 'Traction demand cannot be compared with the grip.',
    above: 0,
  },
  {
    path: 'vehicle.transmission',
    title: 'Transmission',
    form: choice({ manual: 'clutch', converter: 'torque converter', direct: 'direct drive' }),
    example: 'clutch',
    whenUnknown: 'A changing ratio is taken as slip of any kind.',
  },
  {
    path: 'vehicle.name',
    title: 'Name of the vehicle',
    form: TEXT,
    example: 'test buggy',
    whenUnknown: 'Nothing is lost.',
  },
]);

const ENGINE = group('Engine', [
  {
    path: 'engine.inertia',
    title: 'Inertia of crankshaft, flywheel and clutch',
    form: quantity('inertia'),
    example: '0.16 kg·m²',
    whenUnknown: 'The power that speeds up the engine itself is left out and named as missing.',
    short: true,
    above: 0,
  },
  {
    path: 'engine.boostControl',
    title: 'What the boost control holds',
    form: choice({
      absolute: 'absolute manifold pressure',
      gauge: 'pressure above ambient',
      none: 'no boost, or not controlled',
      unknown: 'not known',
    }),
    example: 'absolute manifold pressure',
    whenUnknown: 'No ambient factor is chosen for you: a pressure factor would be wrong for absolute control.',
    short: true,
  },
  {
    path: 'engine.displacement',
    title: 'Displacement',
    form: quantity('volume'),
    example: '2.48 L',
    whenUnknown: 'The cross-check against air flow is not made.',
    above: 0,
  },
  {
    path: 'engine.cylinders',
    title: 'Cylinders',
    form: { kind: 'count' },
    example: '6',
    whenUnknown: 'Nothing is counted per cylinder.',
  },
  {
    path: 'engine.strokesPerCycle',
    title: 'Strokes per cycle',
    form: choice({ '2': 'two', '4': 'four' }),
    example: 'four',
    whenUnknown: 'The cross-check against air flow is not made.',
  },
  {
    path: 'engine.ignition',
    title: 'Ignition',
    form: choice({ spark: 'spark', compression: 'compression' }),
    example: 'spark',
    whenUnknown: 'Rules made for one of the two are shown as not usable.',
  },
  {
    path: 'engine.redline',
    title: 'Highest allowed engine speed',
    form: quantity('engine-speed'),
    example: '7000 rpm',
    whenUnknown: 'The end of a pull is not compared with it.',
    above: 0,
  },
  {
    path: 'engine.turboSpeedLimit',
    title: 'Highest allowed turbocharger speed',
    form: quantity('turbo-speed'),
    example: '137.1 krpm',
    whenUnknown: 'Turbocharger speed is shown, not judged.',
    above: 0,
  },
  {
    path: 'engine.stoichiometricRatio',
    title: 'Stoichiometric air to fuel ratio',
    form: quantity('ratio'),
    example: '14.1',
    whenUnknown: 'Fuel and air are not compared.',
    above: 0,
  },
  {
    path: 'engine.name',
    title: 'Name of the engine',
    form: TEXT,
    example: 'flat six, second build',
    whenUnknown: 'Nothing is lost.',
  },
]);

const AIR = group('Air', [
  {
    path: 'ambient.rule',
    title: 'Ambient rule for the whole day',
    form: choice({
      none: 'none',
      'SAE J1349': 'SAE J1349',
      'ISO 1585 spark': 'ISO 1585, spark ignition',
      'ISO 1585 compression': 'ISO 1585, compression ignition',
      'DIN 70020': 'DIN 70020',
      'SAE J607': 'SAE J607',
      'temperature only': 'temperature only',
    }),
    example: 'none',
    whenUnknown: 'No factor is applied; all factors are shown beside each other.',
    short: true,
  },
  {
    path: 'ambient.temperature',
    title: 'Air temperature at the intake',
    form: quantity('temperature'),
    example: '27 °C',
    whenUnknown: 'Taken from the log when it has one; otherwise no factor can be given.',
    short: true,
    above: 0,
  },
  {
    path: 'ambient.pressure',
    title: 'Station pressure, not reduced to sea level',
    form: quantity('barometric-pressure'),
    example: '85.3 kPa',
    whenUnknown: 'Taken from the log when it has one; otherwise no factor can be given.',
    short: true,
    above: 0,
  },
  {
    path: 'ambient.relativeHumidity',
    title: 'Relative humidity',
    form: quantity('fraction'),
    example: '38 %',
    whenUnknown: 'Dry pressure is estimated with a wide band.',
    above: 0,
    most: 1,
  },
  {
    path: 'place.altitude',
    title: 'Altitude',
    form: quantity('altitude'),
    example: '1420 m',
    whenUnknown: 'The station pressure is not cross-checked.',
  },
  { path: 'place.name', title: 'Place', form: TEXT, example: 'hall by the field', whenUnknown: 'Nothing is lost.' },
]);

const DAY = group('Day', [
  { path: 'title', title: 'Title', form: TEXT, example: 'plateau day', whenUnknown: 'A day needs a title.' },
  { path: 'date', title: 'Date', form: TEXT, example: '2031-05-14', whenUnknown: 'Clock times have no date.' },
  {
    path: 'invented',
    title: 'Where the data come from, when not from a real engine',
    form: TEXT,
    example: 'computed for practice',
    whenUnknown: 'The day counts as measured.',
  },
  { path: 'notes', title: 'Notes', form: TEXT, example: 'wind from the door', whenUnknown: 'Nothing is lost.' },
]);

/** The facts of vehicle, engine, roller, air and day, in the order of asking. */
export const FACT_TABLE: readonly FactRow[] = [...ROLLER, ...VEHICLE, ...ENGINE, ...AIR, ...DAY];
