import { KINDS, type QuantityKind, type UnitSystem } from '../../../core/quantities/index.ts';

export const THEMES = ['light', 'dark', 'sunlight'] as const;
export type Theme = (typeof THEMES)[number];

/** Quantities that a person switches between metric and imperial together. */
export const UNIT_GROUPS = [
  'power',
  'torque and force',
  'speed',
  'pressure',
  'temperature',
  'everything else',
] as const;
export type UnitGroup = (typeof UNIT_GROUPS)[number];

/** How this person likes to read; kept in this browser, not on the server. */
export interface Preferences {
  readonly theme: Theme;
  readonly units: Readonly<Record<UnitGroup, UnitSystem>>;
  /** Single keys as short cuts; can be switched off, they get in the way of speech input. @source WCAG 2.2, 2.1.4 */
  readonly keys: boolean;
}

export const FIRST_PREFERENCES: Preferences = {
  theme: 'light',
  units: {
    power: 'metric',
    'torque and force': 'metric',
    speed: 'metric',
    pressure: 'metric',
    temperature: 'metric',
    'everything else': 'metric',
  },
  keys: true,
};

export function unitGroupOf(kind: QuantityKind): UnitGroup {
  switch (KINDS[kind].dimension) {
    case 'power':
    case 'energy':
      return 'power';
    case 'torque':
    case 'force':
    case 'force-per-speed':
    case 'force-per-speed-squared':
      return 'torque and force';
    case 'speed':
      return 'speed';
    case 'pressure':
      return 'pressure';
    case 'temperature':
    case 'temperature-difference':
      return 'temperature';
    default:
      return 'everything else';
  }
}

/** Preferences out of what was kept; whatever is not understood falls back to the first ones. */
export function readPreferences(kept: string | null): Preferences {
  const read = parsed(kept);
  const units = recordOf(read['units']);
  return {
    theme: THEMES.find((theme) => theme === read['theme']) ?? FIRST_PREFERENCES.theme,
    keys: typeof read['keys'] === 'boolean' ? read['keys'] : FIRST_PREFERENCES.keys,
    units: {
      power: systemOf(units['power']),
      'torque and force': systemOf(units['torque and force']),
      speed: systemOf(units['speed']),
      pressure: systemOf(units['pressure']),
      temperature: systemOf(units['temperature']),
      'everything else': systemOf(units['everything else']),
    },
  };
}

function systemOf(value: unknown): UnitSystem {
  return value === 'imperial' ? 'imperial' : 'metric';
}

function parsed(kept: string | null): Readonly<Record<string, unknown>> {
  try {
    return recordOf(JSON.parse(kept ?? '{}'));
  } catch {
    return {};
  }
}

function recordOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? { ...value } : {};
}
