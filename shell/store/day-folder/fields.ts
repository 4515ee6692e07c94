import type {
  AmbientFacts,
  AmbientRuleName,
  EngineFacts,
  EntryFacts,
  PlaceFacts,
  RollerFacts,
  VehicleFacts,
} from '../../../day/pulls/index.ts';
import {
  choice,
  type Field,
  type Fields,
  FORCE,
  INERTIA,
  measured,
  NOT_NEGATIVE,
  POSITIVE,
  plain,
  RADIUS,
  RATIO,
  SHARE,
  text,
} from './field.ts';
import { PARTS } from './part-fields.ts';

const RULES: Readonly<Record<AmbientRuleName, true>> = {
  none: true,
  'SAE J1349': true,
  'ISO 1585 spark': true,
  'ISO 1585 compression': true,
  'DIN 70020': true,
  'SAE J607': true,
  'temperature only': true,
};

export const DAY: Fields<Record<'title' | 'date' | 'invented' | 'notes', string>> = {
  title: text('What the day is called.', 'Plateau test'),
  date: { form: { form: 'date' }, about: 'Calendar date, year-month-day.', example: '2031-05-14' },
  invented: text('Where the data come from when they are not from a real engine.', 'made by a generator'),
  notes: text('Anything worth remembering.', 'belt renewed at noon'),
};

export const PLACE: Fields<PlaceFacts> = {
  name: text('Name of the place.', 'hall 2'),
  altitude: measured(['altitude', ['m', 'ft'], { from: -500, to: 9000 }], 'Height above sea level.', '1420 m'),
};

export const VEHICLE: Fields<VehicleFacts> = {
  name: text('Name of the vehicle.', 'buggy'),
  tyreRadius: measured(RADIUS, 'Dynamic tyre radius.', '0.330 m'),
  overallRatio: measured(RATIO, 'Engine revolutions per wheel revolution in the gear of the pulls.', 4.402),
  gearRatios: {
    form: { form: 'falling', limits: POSITIVE },
    about: 'Ratios of the gearbox, from the first gear on.',
    example: '3.10, 2.05, 1.55, 1.24, 0.98',
  },
  finalDrive: measured(RATIO, 'Ratio of everything between gearbox and wheel together.', 3.55),
  pullGear: {
    form: { form: 'whole', limits: { from: 1, to: 12 } },
    about: 'Which gear the pulls are in; 1 is the first.',
    example: 4,
  },
  axleLoad: measured(FORCE, 'Force of the driven axle on the rolls.', '5482 ± 50 N'),
  wheelInertia: measured(INERTIA, 'Wheels, shafts and axle as seen at the wheel.', '2.6 kg·m²'),
  torqueLoss: measured(SHARE, 'Share of the engine torque lost in the meshes.', '5.5 %'),
  transmission: choice(['manual', 'converter', 'direct'], 'What joins engine and wheels.'),
};

export const ENGINE: Fields<EngineFacts> = {
  name: text('Name of the engine.', 'flat six'),
  displacement: measured(['volume', ['L', 'cm³', 'in³', 'm³'], POSITIVE], 'Swept volume.', '2.480 L'),
  cylinders: { form: { form: 'whole', limits: { from: 1, to: 64 } }, about: 'Number of cylinders.', example: 6 },
  strokesPerCycle: {
    form: { form: 'whole', options: [2, 4], limits: { from: 2, to: 4 } },
    about: 'Two or four strokes per working cycle.',
    example: 4,
  },
  inertia: measured(INERTIA, 'Crankshaft, flywheel and clutch at the crank.', '0.16 kg·m²'),
  ignition: choice(['spark', 'compression'], 'How the charge is lit.'),
  boostControl: choice(
    ['absolute', 'gauge', 'none', 'unknown'],
    'Which manifold pressure the control holds when the surrounding air changes.',
  ),
  redline: measured(['engine-speed', ['rpm', 'rad/s'], POSITIVE], 'Highest permitted engine speed.', '7000 rpm'),
  turboSpeedLimit: measured(
    ['turbo-speed', ['krpm', 'rpm', 'rad/s'], POSITIVE],
    'Highest permitted speed of the turbocharger.',
    '137.1 krpm',
  ),
  stoichiometricRatio: measured(RATIO, 'Mass of air per mass of fuel at lambda 1.', 10.6),
};

export const ROLLER: Fields<RollerFacts> = {
  name: text('Name of the roller.', 'hired trailer'),
  kind: choice(['brake', 'inertia', 'combined', 'unknown'], 'What takes up the power.'),
  equivalentMass: measured(
    ['mass', ['kg', 'lb'], POSITIVE],
    'Mass with the same kinetic energy at the roll surface.',
    '450 ± 4.5 kg',
  ),
  rollRadius: measured(RADIUS, 'Roll radius; needed when the log gives torque or rotation.', '0.159 m'),
  forceCalibration: plain(SHARE, 'Relative standard uncertainty of the force calibration.', '0.5 %'),
  forceZero: plain(['force', ['N', 'lbf'], NOT_NEGATIVE], 'Standard uncertainty of the force zero.', '15 N'),
  speedCalibration: plain(SHARE, 'Relative standard uncertainty of the speed.', '0.1 %'),
  maxForce: measured(FORCE, 'Largest force the roller may take.', '6000 N'),
  maxSpeed: measured(['speed', ['km/h', 'm/s', 'mph'], POSITIVE], 'Highest roll speed.', '250 km/h'),
  maxPower: measured(['power', ['kW', 'W', 'hp'], POSITIVE], 'Largest power the roller may take.', '400 kW'),
};

export const AMBIENT: Fields<AmbientFacts> = {
  rule: choice(Object.keys(RULES), 'Rule that corrects power to a reference state.'),
  temperature: measured(['temperature', ['°C', 'K', '°F'], NOT_NEGATIVE], 'Air temperature.', '27 °C'),
  pressure: measured(
    ['barometric-pressure', ['kPa', 'Pa', 'inHg', 'psi'], POSITIVE],
    'Station pressure, absolute, not reduced to sea level.',
    '85.3 kPa',
  ),
  relativeHumidity: measured(SHARE, 'Relative humidity.', '38 %'),
};

/** Keys of an entry that hold one value; `files`, `settings` and `overruled` are read apart. */
export const ENTRY: Fields<Omit<EntryFacts, 'files' | 'settings' | 'overruled'>> = {
  id: text('Short name of the entry, used once in a day.', 'pull-03'),
  kind: choice(['pull', 'coast-down', 'change', 'note'], 'What happened.'),
  clock: { form: { form: 'clock' }, about: 'Time of day.', example: '10:35' },
  title: text('One line.', 'baseline, second repeat'),
  notes: text('Anything worth remembering.', 'smell of oil'),
  clutch: choice(['open', 'in gear'], 'Coast-downs only.'),
  nudge: plain(
    ['time', ['s', 'ms'], {}],
    'Nudge of the clock of the engine log on top of what was found; the offset itself where nothing was found.',
    '0.12 s',
  ),
  rule: choice(Object.keys(RULES), 'Rule of this entry alone.'),
  excluded: text('Why the entry does not count.', 'wrong gear'),
};

export const DIVISOR: Field = plain(
  ['ratio', ['1'], { not: 0 }],
  'What the numbers in the file are divided by before the unit counts, such as an air-fuel ratio that is to be lambda; −1 turns a sign.',
  14.7,
);

export const SECTIONS = {
  place: PLACE,
  vehicle: VEHICLE,
  engine: ENGINE,
  roller: ROLLER,
  ambient: AMBIENT,
  parts: PARTS,
} as const;

/** The key under which a fact is written: `tyreRadius` → `tyre radius`. */
export function keyOf(name: string): string {
  return name.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
