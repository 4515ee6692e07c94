/**
 * Every kind of quantity that a channel or a fact can hold, with its SI unit and the units in which a person reads it.
 * Same dimension is not same kind: gauge and absolute pressure differ, as do a temperature and a temperature difference.
 */
export const KINDS = {
  time: { dimension: 'time', si: 's', metric: 's', imperial: 's', decimals: 2 },
  length: { dimension: 'length', si: 'm', metric: 'mm', imperial: 'in', decimals: 1 },
  altitude: { dimension: 'length', si: 'm', metric: 'm', imperial: 'ft', decimals: 0 },
  distance: { dimension: 'length', si: 'm', metric: 'km', imperial: 'mi', decimals: 2 },
  area: { dimension: 'area', si: 'm²', metric: 'cm²', imperial: 'in²', decimals: 2 },
  volume: { dimension: 'volume', si: 'm³', metric: 'L', imperial: 'in³', decimals: 3 },
  mass: { dimension: 'mass', si: 'kg', metric: 'kg', imperial: 'lb', decimals: 1 },
  inertia: { dimension: 'inertia', si: 'kg·m²', metric: 'kg·m²', imperial: 'lb·ft²', decimals: 3 },
  speed: { dimension: 'speed', si: 'm/s', metric: 'km/h', imperial: 'mph', decimals: 1 },
  'piston-speed': { dimension: 'speed', si: 'm/s', metric: 'm/s', imperial: 'ft/s', decimals: 1 },
  'engine-speed': { dimension: 'rotation', si: 'rad/s', metric: 'rpm', imperial: 'rpm', decimals: 0 },
  'turbo-speed': { dimension: 'rotation', si: 'rad/s', metric: 'krpm', imperial: 'krpm', decimals: 1 },
  'roll-rotation': { dimension: 'rotation', si: 'rad/s', metric: 'rpm', imperial: 'rpm', decimals: 0 },
  acceleration: { dimension: 'acceleration', si: 'm/s²', metric: 'm/s²', imperial: 'ft/s²', decimals: 2 },
  'engine-acceleration': { dimension: 'rotation-rate', si: 'rad/s²', metric: 'rpm/s', imperial: 'rpm/s', decimals: 0 },
  force: { dimension: 'force', si: 'N', metric: 'N', imperial: 'lbf', decimals: 0 },
  torque: { dimension: 'torque', si: 'N·m', metric: 'N·m', imperial: 'lbf·ft', decimals: 1 },
  power: { dimension: 'power', si: 'W', metric: 'kW', imperial: 'hp', decimals: 1 },
  energy: { dimension: 'energy', si: 'J', metric: 'kJ', imperial: 'BTU', decimals: 1 },
  'absolute-pressure': { dimension: 'pressure', si: 'Pa', metric: 'kPa', imperial: 'psi', decimals: 1 },
  'cylinder-pressure': { dimension: 'pressure', si: 'Pa', metric: 'bar', imperial: 'psi', decimals: 0 },
  stress: { dimension: 'pressure', si: 'Pa', metric: 'MPa', imperial: 'psi', decimals: 0 },
  'bearing-load': { dimension: 'pressure', si: 'Pa', metric: 'MPa', imperial: 'psi', decimals: 0 },
  'gauge-pressure': { dimension: 'pressure', si: 'Pa', metric: 'kPa', imperial: 'psi', decimals: 1 },
  'pressure-difference': { dimension: 'pressure', si: 'Pa', metric: 'kPa', imperial: 'psi', decimals: 1 },
  'barometric-pressure': { dimension: 'pressure', si: 'Pa', metric: 'kPa', imperial: 'inHg', decimals: 2 },
  temperature: { dimension: 'temperature', si: 'K', metric: '°C', imperial: '°F', decimals: 1 },
  'temperature-difference': {
    dimension: 'temperature-difference',
    si: 'Δ°C',
    metric: 'Δ°C',
    imperial: 'Δ°F',
    decimals: 1,
  },
  angle: { dimension: 'angle', si: 'rad', metric: '°', imperial: '°', decimals: 1 },
  'mass-flow': { dimension: 'mass-flow', si: 'kg/s', metric: 'g/s', imperial: 'lb/min', decimals: 1 },
  'volume-flow': { dimension: 'volume-flow', si: 'm³/s', metric: 'L/h', imperial: 'gal/h', decimals: 1 },
  density: { dimension: 'density', si: 'kg/m³', metric: 'kg/m³', imperial: 'lb/ft³', decimals: 3 },
  voltage: { dimension: 'voltage', si: 'V', metric: 'V', imperial: 'V', decimals: 2 },
  'high-voltage': { dimension: 'voltage', si: 'V', metric: 'kV', imperial: 'kV', decimals: 1 },
  resistance: { dimension: 'resistance', si: 'Ω', metric: 'Ω', imperial: 'Ω', decimals: 2 },
  inductance: { dimension: 'inductance', si: 'Ω·s', metric: 'mH', imperial: 'mH', decimals: 2 },
  capacitance: { dimension: 'capacitance', si: 'A·s/V', metric: 'pF', imperial: 'pF', decimals: 0 },
  'specific-energy': { dimension: 'specific-energy', si: 'J/kg', metric: 'MJ/kg', imperial: 'BTU/lb', decimals: 2 },
  current: { dimension: 'current', si: 'A', metric: 'A', imperial: 'A', decimals: 2 },
  frequency: { dimension: 'frequency', si: 'Hz', metric: 'Hz', imperial: 'Hz', decimals: 1 },
  fraction: { dimension: 'ratio', si: '1', metric: '%', imperial: '%', decimals: 1 },
  ratio: { dimension: 'ratio', si: '1', metric: '1', imperial: '1', decimals: 3 },
  lambda: { dimension: 'ratio', si: '1', metric: '1', imperial: '1', decimals: 3 },
  'pulse-width': { dimension: 'time', si: 's', metric: 'ms', imperial: 'ms', decimals: 2 },
  count: { dimension: 'ratio', si: '1', metric: '1', imperial: '1', decimals: 0 },
  'force-per-speed': { dimension: 'force-per-speed', si: 'N·s/m', metric: 'N·s/m', imperial: 'lbf/mph', decimals: 2 },
  'force-per-speed-squared': {
    dimension: 'force-per-speed-squared',
    si: 'N·s²/m²',
    metric: 'N·s²/m²',
    imperial: 'lbf/mph²',
    decimals: 4,
  },
  'temperature-per-angle': {
    dimension: 'temperature-per-angle',
    si: 'K·rad⁻¹',
    metric: 'K/°',
    imperial: '°F/°',
    decimals: 1,
  },
  'fraction-per-angle': { dimension: 'ratio-per-angle', si: 'rad⁻¹', metric: '%/°', imperial: '%/°', decimals: 2 },
  'temperature-per-pressure': {
    dimension: 'temperature-per-pressure',
    si: 'K·Pa⁻¹',
    metric: 'K/kPa',
    imperial: '°F/psi',
    decimals: 2,
  },
  'fraction-per-pressure': {
    dimension: 'ratio-per-pressure',
    si: 'Pa⁻¹',
    metric: '%/kPa',
    imperial: '%/psi',
    decimals: 2,
  },
} as const satisfies Record<string, Kind>;

/** dimension: the group of units that convert into one another. decimals: shown when no uncertainty is known. */
export interface Kind {
  readonly dimension: string;
  readonly si: string;
  readonly metric: string;
  readonly imperial: string;
  readonly decimals: number;
}

export type QuantityKind = keyof typeof KINDS;
export type Dimension = (typeof KINDS)[QuantityKind]['dimension'];
export type UnitSystem = 'metric' | 'imperial';
