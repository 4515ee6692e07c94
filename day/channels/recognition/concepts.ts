/**
 * What single words in a column name can stand for, whatever the language. Meanings are put together from these:
 * `Öltemperatur`, `température d'huile` and `oil_temp` are all oil + temperature.
 */
export const CONCEPTS = [
  ...['time', 'counter', 'distance', 'speed', 'rotation', 'acceleration', 'force', 'torque', 'power', 'pressure'],
  ...['temperature', 'flow', 'volume', 'humidity', 'voltage', 'current', 'angle', 'duty', 'position', 'level', 'count'],
  ...[
    'engine',
    'roll',
    'wheel',
    'vehicle',
    'brake',
    'tractive',
    'roadload',
    'gear',
    'clutch',
    'gearbox',
    'axle',
    'tyre',
  ],
  ...[
    'air',
    'ambient',
    'barometric',
    'dew',
    'wetbulb',
    'intake',
    'manifold',
    'boost',
    'charge',
    'intercooler',
    'throttle',
  ],
  ...[
    'pedal',
    'compressor',
    'turbine',
    'turbo',
    'wastegate',
    'exhaust',
    'catalyst',
    'inlet',
    'outlet',
    'before',
    'after',
  ],
  ...['fuel', 'rail', 'tank', 'injector', 'pulse', 'lambda', 'afr', 'mixture', 'equivalence', 'load', 'consumption'],
  ...['ignition', 'advance', 'dwell', 'coil', 'battery', 'knock', 'retard', 'cam', 'sync', 'error', 'cut', 'warning'],
  ...['coolant', 'oil', 'crankcase', 'difference', 'gauge', 'absolute', 'target', 'actual', 'corrected', 'smoothed'],
  ...[
    'derived',
    'bank',
    'cylinder',
    'left',
    'right',
    'front',
    'rear',
    'driven',
    'undriven',
    'maximum',
    'emission',
    'noise',
  ],
  ...['specific', 'wind', 'grade', 'steering', 'lateral', 'status', 'trim', 'correction', 'surface', 'note'],
] as const;

export type Concept = (typeof CONCEPTS)[number];

/** Words of one language by concept, separated by spaces; folded before they are compared. */
export type Vocabulary = Readonly<Partial<Record<Concept, string>>>;

const known: ReadonlySet<string> = new Set(CONCEPTS);

export function isConcept(text: string): text is Concept {
  return known.has(text);
}
