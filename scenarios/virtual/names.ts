import type { Chance } from '../random.ts';
import type { ChannelName } from './channels.ts';

export type Column =
  | ChannelName
  | 'time'
  | 'roll-speed'
  | 'brake-force'
  | 'brake-setting'
  | 'ambient-temperature'
  | 'barometric-pressure'
  | 'relative-humidity';

/** Words a person would type over a column: plain English, short English, words with underscores, German, French, Spanish. A language without a word uses plain English. */
const WORDS: Readonly<Record<Column, readonly string[]>> = {
  time: ['Time', 't', 'time', 'Zeit', 'Temps', 'Tiempo'],
  'roll-speed': [
    'Roll speed',
    'Roll spd',
    'roll_speed',
    'Rollengeschwindigkeit',
    'Vitesse rouleau',
    'Velocidad rodillo',
  ],
  'brake-force': ['Brake force', 'Brake F', 'brake_force', 'Bremskraft', 'Force frein', 'Fuerza freno'],
  'brake-setting': ['Brake setting', 'Brake set', 'brake_set', 'Bremse Stellwert', 'Consigne frein', 'Consigna freno'],
  'ambient-temperature': [
    'Ambient temperature',
    'Ambient T',
    'ambient_temp',
    'Umgebungstemperatur',
    'Temperature ambiante',
    'Temperatura ambiente',
  ],
  'barometric-pressure': [
    'Barometric pressure',
    'Baro',
    'baro_pressure',
    'Luftdruck',
    'Pression atmospherique',
    'Presion atmosferica',
  ],
  'relative-humidity': [
    'Relative humidity',
    'RH',
    'rel_humidity',
    'Luftfeuchte',
    'Humidite relative',
    'Humedad relativa',
  ],
  'engine-speed': ['Engine speed', 'RPM', 'engine_speed', 'Motordrehzahl', 'Regime moteur', 'Regimen motor'],
  'manifold-pressure': [
    'Manifold pressure',
    'MAP',
    'manifold_pressure',
    'Saugrohrdruck',
    'Pression collecteur',
    'Presion colector',
  ],
  throttle: ['Throttle', 'TPS', 'throttle_pos', 'Drosselklappe', 'Papillon', 'Mariposa'],
  lambda: ['Lambda', 'Lam', 'lambda', 'Lambda', 'Lambda', 'Lambda'],
  'ignition-timing': ['Ignition timing', 'Ign', 'ignition_timing', 'Zündwinkel', 'Avance allumage', 'Avance encendido'],
  'charge-temperature': [
    'Intake air temperature',
    'IAT',
    'intake_air_temp',
    'Ladelufttemperatur',
    'Temperature air admission',
    'Temperatura aire admision',
  ],
  'coolant-temperature': [
    'Coolant temperature',
    'CLT',
    'coolant_temp',
    'Kühlwassertemperatur',
    'Temperature eau',
    'Temperatura agua',
  ],
  'battery-voltage': [
    'Battery voltage',
    'Batt V',
    'battery_voltage',
    'Batteriespannung',
    'Tension batterie',
    'Tension bateria',
  ],
  'manifold-target': [
    'Manifold pressure target',
    'MAP target',
    'manifold_pressure_target',
    'Saugrohrdruck Soll',
    'Pression collecteur consigne',
    'Presion colector objetivo',
  ],
  'wastegate-duty': ['Wastegate duty', 'WG duty', 'wastegate_duty'],
  'lambda-target': [
    'Lambda target',
    'Lam target',
    'lambda_target',
    'Lambda Soll',
    'Lambda consigne',
    'Lambda objetivo',
  ],
  'injector-duty': ['Injector duty', 'Inj duty', 'injector_duty'],
  'fuel-pressure-difference': ['Fuel pressure difference', 'Fuel dP', 'fuel_pressure_diff'],
  'oil-temperature': [
    'Oil temperature',
    'Oil T',
    'oil_temp',
    'Öltemperatur',
    'Temperature huile',
    'Temperatura aceite',
  ],
  'oil-pressure': ['Oil pressure', 'Oil P', 'oil_pressure', 'Öldruck', 'Pression huile', 'Presion aceite'],
  'knock-retard': ['Knock retard', 'Knock ret', 'knock_retard'],
  'sync-errors': ['Sync errors', 'Sync err', 'sync_errors'],
  'wheel-speed': ['Wheel speed driven', 'Wheel spd driven', 'wheel_speed_driven'],
  'boost-pressure': ['Boost pressure before throttle', 'Boost pre TB', 'boost_pre_throttle'],
  'compressor-inlet-pressure': ['Compressor inlet pressure', 'Comp inlet P', 'compressor_inlet_pressure'],
  'exhaust-pressure': ['Exhaust manifold pressure', 'Exh P pre turbine', 'exhaust_pressure'],
  'compressor-outlet-temperature': ['Compressor outlet temperature', 'Comp outlet T', 'compressor_outlet_temp'],
  'turbo-speed': ['Turbo speed', 'Turbo spd', 'turbo_speed'],
  'air-flow': ['Air mass flow', 'MAF', 'air_mass_flow', 'Luftmasse', "Debit d'air", 'Flujo de aire'],
  'injector-pulse': ['Injector pulse width', 'Inj PW', 'injector_pulse'],
  'fuel-flow': ['Fuel mass flow', 'Fuel flow', 'fuel_flow'],
  dwell: ['Coil dwell', 'Dwell', 'dwell'],
  'coil-current': ['Coil current', 'Coil I', 'coil_current'],
  'knock-level': ['Knock level', 'Knock', 'knock_level'],
  'knock-count': ['Knock events', 'Knock count', 'knock_count'],
  'cam-target': ['Cam angle target', 'Cam tgt', 'cam_target'],
  'cam-angle': ['Cam angle', 'Cam', 'cam_angle'],
  'gearbox-temperature': ['Gearbox oil temperature', 'Gearbox T', 'gearbox_temp', 'Getriebeöltemperatur'],
  'axle-temperature': ['Axle oil temperature', 'Axle oil T', 'axle_oil_temp', 'Achsöltemperatur'],
  'exhaust-temperature': [
    'Exhaust temperature',
    'EGT',
    'exhaust_temp',
    'Abgastemperatur',
    'Temperature echappement',
    'Temperatura escape',
  ],
  'coolant-pressure': ['Coolant pressure', 'Coolant P', 'coolant_pressure'],
  'crankcase-pressure': ['Crankcase pressure', 'Crankcase P', 'crankcase_pressure'],
  'cut-status': ['Cut status', 'Cut', 'cut_status'],
};

/** Names of all columns in one style of writing. */
export function drawNames(chance: Chance): Readonly<Record<Column, string>> {
  const style = chance.pick([0, 0, 1, 1, 2, 2, 3, 4, 5]);
  const upper = chance.uniform() < 0.1;
  const entries = Object.entries(WORDS).map(([column, words]) => {
    const word = words[style] ?? words[0] ?? column;
    return [column, upper ? word.toUpperCase() : word];
  });
  const names: Readonly<Record<string, string>> = Object.fromEntries(entries);
  if (!namesAll(names)) throw new Error('a column has no words');
  return names;
}

function namesAll(names: Readonly<Record<string, string>>): names is Readonly<Record<Column, string>> {
  return Object.keys(WORDS).every((column) => column in names);
}
