import { describe, expect, it } from 'vitest';
import { fromSi, unitOf } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import { exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';
import { rangeOf } from './ranges.ts';

/** name as written, meaning, unit symbol, position. */
type Row = readonly [string, Meaning, string, string?];

const ENGLISH: readonly Row[] = [
  ['Time[sec]', 'time', 's'],
  ['time_ms', 'time', 'ms'],
  ['Engine_Speed[rpm]', 'engine-speed', 'rpm'],
  ['RPM', 'engine-speed', 'rpm'],
  ['Engine RPM', 'engine-speed', 'rpm'],
  ['speed_kmh', 'vehicle-speed', 'km/h'],
  ['Vehicle Speed (mph)', 'vehicle-speed', 'mph'],
  ['VSS [km/h]', 'vehicle-speed', 'km/h'],
  ['Dyno_Speed[mph]', 'roll-speed', 'mph'],
  ['Roller speed [m/s]', 'roll-speed', 'm/s'],
  ['rollSpeed_rpm', 'roll-rotation', 'rpm'],
  ['Dyno_Tractive_Effort[N]', 'tractive-force', 'N'],
  ['Tractive force (lbf)', 'tractive-force', 'lbf'],
  ['Brake force [kN]', 'brake-force', 'kN'],
  ['brake_pct', 'brake-setting', '%'],
  ['Roll torque [Nm]', 'roll-torque', 'N·m'],
  ['Power [kW]', 'stated-power', 'kW'],
  ['Wheel power (hp)', 'stated-power', 'hp'],
  ['Torque (lb-ft)', 'stated-torque', 'lbf·ft'],
  ['MAP [kPa]', 'manifold-pressure', 'kPa'],
  ['map_kPa', 'manifold-pressure', 'kPa'],
  ['Manifold absolute pressure (kPa)', 'manifold-pressure', 'kPa'],
  ['Boost (psig)', 'manifold-gauge-pressure', 'psi'],
  ['Boost target [kPa abs]', 'manifold-target', 'kPa'],
  ['Pre-throttle pressure [kPa abs]', 'boost-pressure', 'kPa'],
  ['Compressor inlet pressure [kPa abs]', 'compressor-inlet-pressure', 'kPa'],
  ['Exhaust back pressure [kPa abs]', 'exhaust-pressure', 'kPa'],
  ['IAT [C]', 'charge-temperature', '°C'],
  ['ECT (°F)', 'coolant-temperature', '°F'],
  ['EGT1 [°C]', 'exhaust-temperature', '°C', '1'],
  ['EGT_Cyl3_C', 'exhaust-temperature', '°C', 'cylinder 3'],
  ['TPS [%]', 'throttle', '%'],
  ['Accelerator pedal position [%]', 'pedal', '%'],
  ['MAF [g/s]', 'air-flow', 'g/s'],
  ['Turbo speed [krpm]', 'turbo-speed', 'krpm'],
  ['Wastegate duty (%)', 'wastegate-duty', '%'],
  ['Lambda bank A', 'lambda', '1', 'bank A'],
  ['lambda_B', 'lambda', '1', 'bank B'],
  ['Lambda target', 'lambda-target', '1'],
  ['Inj PW [ms]', 'injector-pulse', 'ms'],
  ['Injector DC [%]', 'injector-duty', '%'],
  ['Fuel rail pressure [bar]', 'fuel-pressure', 'bar'],
  ['Fuel flow [kg/h]', 'fuel-flow', 'kg/h'],
  ['Ignition advance [deg]', 'ignition-timing', '°'],
  ['IGN [°BTDC]', 'ignition-timing', '°'],
  ['Dwell [ms]', 'dwell', 'ms'],
  ['Battery voltage [V]', 'battery-voltage', 'V'],
  ['battery_v', 'battery-voltage', 'V'],
  ['Knock retard cyl 2 [deg]', 'knock-retard', '°', 'cylinder 2'],
  ['Cam intake angle bank 1 [deg]', 'cam-angle', '°', 'intake bank 1'],
  ['oilTemp_C', 'oil-temperature', '°C'],
  ['Oil pressure [kPa]', 'oil-pressure', 'kPa'],
  ['Crankcase pressure [kPa]', 'crankcase-pressure', 'kPa'],
  ['Coolant pressure [kPa]', 'coolant-pressure', 'kPa'],
  ['Wheel speed front left [km/h]', 'wheel-speed', 'km/h', 'front left'],
  ['Driven wheel speed left [km/h]', 'wheel-speed', 'km/h', 'driven left'],
  ['baro_kPa', 'barometric-pressure', 'kPa'],
  ['Ambient temp [F]', 'ambient-temperature', '°F'],
  ['Test_Cell_RH[%]', 'relative-humidity', '%'],
  ['Sync errors', 'sync-errors', '1'],
  ['Gear', 'gear', '1'],
];

const GERMAN: readonly Row[] = [
  ['Zeit [s]', 'time', 's'],
  ['Motordrehzahl [U/min]', 'engine-speed', 'rpm'],
  ['Drehzahl', 'engine-speed', 'rpm'],
  ['Rollengeschwindigkeit [km/h]', 'roll-speed', 'km/h'],
  ['Fahrgeschwindigkeit [km/h]', 'vehicle-speed', 'km/h'],
  ['Zugkraft [N]', 'tractive-force', 'N'],
  ['Bremskraft [N]', 'brake-force', 'N'],
  ['Leistung [PS]', 'stated-power', 'PS'],
  ['Drehmoment [Nm]', 'stated-torque', 'N·m'],
  ['Saugrohrdruck [kPa]', 'manifold-pressure', 'kPa'],
  ['Ladedruck relativ [bar]', 'manifold-gauge-pressure', 'bar'],
  ['Ladedruck Soll [mbar]', 'manifold-target', 'hPa'],
  ['Luftmassenmesser [kg/h]', 'air-flow', 'kg/h'],
  ['Ansauglufttemperatur [°C]', 'charge-temperature', '°C'],
  ['Ladelufttemperatur [°C]', 'charge-temperature', '°C'],
  ['Kühlmitteltemperatur [°C]', 'coolant-temperature', '°C'],
  ['Kuehlwassertemperatur_C', 'coolant-temperature', '°C'],
  ['Öltemperatur [°C]', 'oil-temperature', '°C'],
  ['Oeltemp [Grad C]', 'oil-temperature', '°C'],
  ['Öldruck [bar]', 'oil-pressure', 'bar'],
  ['Abgastemperatur Zyl. 2 [°C]', 'exhaust-temperature', '°C', 'cylinder 2'],
  ['Abgasgegendruck [kPa abs]', 'exhaust-pressure', 'kPa'],
  ['Drosselklappe [%]', 'throttle', '%'],
  ['Fahrpedalstellung [%]', 'pedal', '%'],
  ['Zündwinkel [°KW]', 'ignition-timing', '°'],
  ['Schließzeit [ms]', 'dwell', 'ms'],
  ['Einspritzzeit [ms]', 'injector-pulse', 'ms'],
  ['Kraftstoffdruck [bar]', 'fuel-pressure', 'bar'],
  ['Batteriespannung [V]', 'battery-voltage', 'V'],
  ['Luftdruck [hPa]', 'barometric-pressure', 'hPa'],
  ['Umgebungstemperatur [°C]', 'ambient-temperature', '°C'],
  ['Luftfeuchte [%]', 'relative-humidity', '%'],
  ['Getriebetemperatur [°C]', 'gearbox-temperature', '°C'],
  ['Nockenwellenwinkel Einlass [°KW]', 'cam-angle', '°', 'intake'],
  ['Laderdrehzahl [1000/min]', 'turbo-speed', 'krpm'],
  ['Raddrehzahl vorne links [km/h]', 'wheel-speed', 'km/h', 'front left'],
  ['Lambdawert', 'lambda', '1'],
  ['Kurbelgehäusedruck [mbar]', 'crankcase-pressure', 'hPa'],
];

const FRENCH: readonly Row[] = [
  ['Temps [s]', 'time', 's'],
  ['Régime moteur [tr/min]', 'engine-speed', 'rpm'],
  ['Vitesse véhicule [km/h]', 'vehicle-speed', 'km/h'],
  ['Vitesse rouleaux [km/h]', 'roll-speed', 'km/h'],
  ['Effort de traction [N]', 'tractive-force', 'N'],
  ['Force de freinage [N]', 'brake-force', 'N'],
  ['Puissance [ch]', 'stated-power', 'PS'],
  ['Couple moteur [N.m]', 'stated-torque', 'N·m'],
  ['Pression de suralimentation relative [bar]', 'manifold-gauge-pressure', 'bar'],
  ["Pression d'admission [kPa]", 'manifold-pressure', 'kPa'],
  ['Pression collecteur [kPa]', 'manifold-pressure', 'kPa'],
  ["Débit d'air [kg/h]", 'air-flow', 'kg/h'],
  ["Température d'admission [°C]", 'charge-temperature', '°C'],
  ['Température liquide de refroidissement [°C]', 'coolant-temperature', '°C'],
  ["Température d'huile [°C]", 'oil-temperature', '°C'],
  ["Pression d'huile [bar]", 'oil-pressure', 'bar'],
  ["Température d'échappement [°C]", 'exhaust-temperature', '°C'],
  ['Papillon [%]', 'throttle', '%'],
  ["Position pédale d'accélérateur [%]", 'pedal', '%'],
  ["Avance à l'allumage [°]", 'ignition-timing', '°'],
  ["Temps d'injection [ms]", 'injector-pulse', 'ms'],
  ['Pression carburant [bar]', 'fuel-pressure', 'bar'],
  ['Tension batterie [V]', 'battery-voltage', 'V'],
  ['Pression atmosphérique [mbar]', 'barometric-pressure', 'hPa'],
  ['Température ambiante [°C]', 'ambient-temperature', '°C'],
  ['Humidité [%]', 'relative-humidity', '%'],
  ['Température boîte de vitesses [°C]', 'gearbox-temperature', '°C'],
  ['Régime turbo [tr/min]', 'turbo-speed', 'rpm'],
];

const SPANISH: readonly Row[] = [
  ['Tiempo [s]', 'time', 's'],
  ['Revoluciones [rpm]', 'engine-speed', 'rpm'],
  ['Régimen del motor [rpm]', 'engine-speed', 'rpm'],
  ['Velocidad del vehículo [km/h]', 'vehicle-speed', 'km/h'],
  ['Velocidad del rodillo [km/h]', 'roll-speed', 'km/h'],
  ['Fuerza de tracción [N]', 'tractive-force', 'N'],
  ['Potencia [CV]', 'stated-power', 'PS'],
  ['Par motor [Nm]', 'stated-torque', 'N·m'],
  ['Presión de admisión [kPa]', 'manifold-pressure', 'kPa'],
  ['Presión de soplado relativa [bar]', 'manifold-gauge-pressure', 'bar'],
  ['Caudal de aire [g/s]', 'air-flow', 'g/s'],
  ['Temperatura de admisión [°C]', 'charge-temperature', '°C'],
  ['Temperatura del refrigerante [°C]', 'coolant-temperature', '°C'],
  ['Temperatura de aceite [°C]', 'oil-temperature', '°C'],
  ['Presión de aceite [bar]', 'oil-pressure', 'bar'],
  ['Temperatura de escape [°C]', 'exhaust-temperature', '°C'],
  ['Mariposa [%]', 'throttle', '%'],
  ['Posición del acelerador [%]', 'pedal', '%'],
  ['Avance de encendido [°]', 'ignition-timing', '°'],
  ['Tiempo de inyección [ms]', 'injector-pulse', 'ms'],
  ['Presión de combustible [bar]', 'fuel-pressure', 'bar'],
  ['Tensión de batería [V]', 'battery-voltage', 'V'],
  ['Presión atmosférica [hPa]', 'barometric-pressure', 'hPa'],
  ['Temperatura ambiente [°C]', 'ambient-temperature', '°C'],
  ['Humedad relativa [%]', 'relative-humidity', '%'],
];

const ITALIAN_PORTUGUESE_DUTCH: readonly Row[] = [
  ['Giri motore [giri/min]', 'engine-speed', 'rpm'],
  ['Velocità veicolo [km/h]', 'vehicle-speed', 'km/h'],
  ['Temperatura olio [°C]', 'oil-temperature', '°C'],
  ['Farfalla [%]', 'throttle', '%'],
  ['Anticipo accensione [°]', 'ignition-timing', '°'],
  ['Pressione collettore aspirazione [kPa]', 'manifold-pressure', 'kPa'],
  ['Rotação do motor [rpm]', 'engine-speed', 'rpm'],
  ['Temperatura do óleo [°C]', 'oil-temperature', '°C'],
  ['Pressão do óleo [bar]', 'oil-pressure', 'bar'],
  ['Borboleta [%]', 'throttle', '%'],
  ['Ponto de ignição [°]', 'ignition-timing', '°'],
  ['Toerental [rpm]', 'engine-speed', 'rpm'],
  ['Olietemperatuur [°C]', 'oil-temperature', '°C'],
  ['Laaddruk relatief [bar]', 'manifold-gauge-pressure', 'bar'],
  ['Gasklep [%]', 'throttle', '%'],
  ['Koelvloeistoftemperatuur [°C]', 'coolant-temperature', '°C'],
];

/** A log of an ordinary pull for one quantity: from a low value to the middle of its usual high end, with some noise. */
function ordinary(meaning: Meaning, unit: string): Float64Array {
  const range = rangeOf(meaning);
  return Float64Array.from({ length: 300 }, (_, i) => {
    if (meaning === 'time') return fromSi(i * 0.02, unitOf(unit));
    if (!range) return Math.floor(i / 100);
    const from = range.reach[0] + 0.02 * (range.reach[1] - range.reach[0]);
    const to = range.reach[0] + 0.4 * (range.reach[1] - range.reach[0]);
    return fromSi(from + ((to - from) * i) / 300 + (to - from) * 0.003 * Math.sin(i * 7), unitOf(unit));
  });
}

function proposed([name, meaning, unit]: Row) {
  const [proposal] = proposeMapping(exampleTable([{ name, samples: ordinary(meaning, unit) }]));
  return proposal;
}

describe('a column name with its unit is understood', () => {
  const tables = { ENGLISH, GERMAN, FRENCH, SPANISH, ITALIAN_PORTUGUESE_DUTCH };
  for (const [language, rows] of Object.entries(tables)) {
    it.each(rows.map((row) => [row[0], row] as const))(`${language.toLowerCase()}: %s`, (_, row) => {
      const proposal = proposed(row);
      const answer = [proposal?.meaning, proposal?.unit, proposal?.position, proposal?.question];
      expect(answer).toEqual([row[1], row[2], row[3], undefined]);
    });
  }
});
