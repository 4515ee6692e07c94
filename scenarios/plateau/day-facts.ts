import { dayText, type Written } from '../day-text.ts';
import type { NotePlan, Planned, PullPlan } from './plan.ts';
import { STATED_RIG } from './vehicle.ts';

/** The day as the practitioner wrote it down. files: names of the logs by entry id. */
export function plateauDayText(entries: readonly Planned[], files: ReadonlyMap<string, readonly string[]>): string {
  return dayText({
    knurl: 1,
    title: 'Plateau: torque at altitude',
    date: '2041-09-12',
    invented: INVENTED,
    notes: NOTES,
    place: { name: 'Farm-machinery hall on an invented high plateau', altitude: '1420 ± 10 m' },
    vehicle: {
      name: 'A1, single-seat tube-frame buggy (invented)',
      'tyre radius': '0.330 ± 0.002 m',
      'overall ratio': STATED_RIG.ratio.toFixed(3),
      'gear ratios': '3.10, 2.05, 1.55, 1.24, 0.98',
      'final drive': 3.55,
      'axle load': '5482 ± 50 N',
      'wheel inertia': '2.6 ± 0.26 kg·m²',
      'torque loss': '0.055 ± 0.005',
      transmission: 'manual',
    },
    engine: {
      name: 'Flat six, two banks, one turbocharger (invented)',
      displacement: '2.480 L',
      cylinders: 6,
      'strokes per cycle': 4,
      inertia: '0.16 ± 0.016 kg·m²',
      ignition: 'spark',
      'boost control': 'absolute',
      redline: '7000 rpm',
      'turbo speed limit': '137.1 krpm',
      'stoichiometric ratio': 10.6,
    },
    roller: {
      name: 'Flatland twin, hired trailer with twin small rolls and eddy brake (invented)',
      kind: 'brake',
      'equivalent mass': '450 ± 4.5 kg',
      'force calibration': '0.5 %',
      'force zero': '15 N',
      'speed calibration': '0.1 %',
      'max force': '9000 N',
      'max speed': '220 km/h',
    },
    ambient: { rule: 'none' },
    parts: PARTS,
    entries: entries.map((entry) => entryText(entry, files.get(entry.id) ?? [])),
  });
}

const INVENTED =
  'Everything here is invented and computed by a generator: no real vehicle, engine, roller, place or person is meant.';
const NOTES = [
  'Questions: which absolute manifold pressure is safe at 3200 m; what the dust pre-cleaner costs;',
  'the best inlet cam phase from 3000 to 5500 rpm; whether more than 200 kPa is worth it.',
  'The force column of the roller is the eddy brake alone; the flywheel effect of the rolls is not in it.',
  'All pulls in fourth gear at 400 rpm/s. The two logs run on their own clocks.',
].join(' ');

/** Name of the file with the compressor map. */
export const MAP_FILE = 'compressor-map.csv';

/** The build sheet of the invented engine. */
const PARTS: Written = {
  bore: '83.0 ± 0.02 mm',
  stroke: '76.4 ± 0.02 mm',
  'rod length': '140 ± 0.05 mm',
  'compression ratio': '9.6 ± 0.1',
  'reciprocating mass': '580 ± 5 g',
  'inlet closes': '50 ± 2 °',
  fuel: 'ethanol blend',
  'compressor map': MAP_FILE,
  'compressor wheel': '78 mm',
  'turbine area': '6.6 ± 0.3 cm²',
  'turbine efficiency': '0.64 ± 0.02',
  'rated air flow': '260 g/s',
  'inlet loss': '1.2 ± 0.2 kPa',
  'cooler loss': '9 ± 0.8 kPa',
  'cooler effectiveness': '0.76 ± 0.02',
  'exhaust loss': '9 ± 1 kPa',
  injectors: 6,
  'injector flow': '6.40 ± 0.10 g/s',
  'injector pressure': '350 ± 5 kPa',
  'largest duty': '90 %',
  'plug gap': '0.70 ± 0.03 mm',
  'plug steps colder': 1,
  'native boost': '60 kPa',
  'coil resistance': '0.45 ± 0.02 Ω',
  'coil inductance': '2.5 ± 0.1 mH',
  dwell: '3.0 ± 0.1 ms',
  'coil voltage': '13.5 ± 0.3 V',
  'spark voltage': '25.9 ± 0.8 kV',
  'head lift pressure': '123 ± 3 bar',
  'strap force': '3.0 ± 0.3 kN',
  'strap count': 2,
  'strap angle': '40 ± 2 °',
  'strap plan angle': '20 ± 2 °',
  'strap rating': '16 kN',
  'axle load limit': '13 kN',
  grip: '0.62 ± 0.03',
};

function entryText(entry: Planned, files: readonly string[]): Written {
  const clock = clockText(entry.clock);
  if (entry.kind === 'pull') {
    return {
      id: entry.id,
      kind: 'pull',
      clock,
      title: `Pull ${entry.id}, ${entry.map} kPa`,
      files,
      settings: settingsOf(entry),
      notes: entry.notes,
    };
  }
  if (entry.kind === 'coast-down') {
    return {
      id: entry.id,
      kind: 'coast-down',
      clock,
      title: `Coast-down ${entry.id.slice(1)}`,
      clutch: entry.clutch,
      files,
      settings: { straps: `${entry.straps.toFixed(1)} kN` },
      notes: entry.notes,
    };
  }
  return noteText(entry, clock);
}

function noteText(entry: NotePlan, clock: string): Written {
  return { id: entry.id, kind: entry.kind, clock, title: entry.title, files: [] };
}

function settingsOf(plan: PullPlan): Written {
  return {
    'map target': `${plan.map} kPa`,
    gap: `${plan.gap.toFixed(2)} mm`,
    straps: `${plan.straps.toFixed(1)} kN`,
    'inlet cam phase': `${plan.phase} °`,
    timing: `${plan.timing < 0 ? '' : '+'}${plan.timing} °`,
    'pre-cleaner': plan.preCleaner ? 'yes' : 'no',
  };
}

function clockText(minutes: number): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}
