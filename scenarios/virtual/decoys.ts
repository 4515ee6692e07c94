import { easeBetween } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import type { Rig } from '../rig/rig.ts';
import type { Hall } from './hall.ts';
import type { Alteration } from './logs.ts';
import type { Column } from './names.ts';
import type { Nature } from './nature.ts';
import type { Act, VirtualRun } from './run.ts';
import { lagFilter } from './sensor-parts.ts';

/**
 * A harmless thing that looks like a fault. where: all day, or in one pull. act: in the physics; alter: at a sensor; rig, roller: how they are;
 * warming [K], falling [Pa] per entry; target: of that pull [Pa].
 */
export interface BuiltDecoy {
  readonly where: 'day' | 'pull';
  readonly resembles: string;
  readonly moved: readonly string[];
  readonly size: Readonly<Record<string, number>>;
  readonly act?: Act;
  readonly alter?: (made: VirtualRun) => readonly Alteration[];
  readonly rig?: Partial<Rig>;
  readonly roller?: Partial<Hall['roller']>;
  readonly warming?: number;
  readonly falling?: number;
  readonly target?: number;
}

type Build = (nature: Nature, chance: Chance) => BuiltDecoy;

/** From a share of the redline on at full load. */
function beyond(share: number, turn: (knobs: Parameters<Act>[1], much: number) => void): Act {
  return (now, knobs) => {
    const much = now.stage === 'full' ? easeBetween(share, share + 0.02, now.share) : 0;
    if (much > 0) turn(knobs, much);
    return much;
  };
}

function always(turn: (knobs: Parameters<Act>[1]) => void): Act {
  return (_, knobs) => {
    turn(knobs);
    return 1;
  };
}

const at = (column: Column, alter: () => Alteration['alter']) => () => [{ column, alter: alter() }];

const BUILDERS = {
  'oil-sensor-spike': (_, chance) => {
    const after = chance.between(2, 5);
    return {
      where: 'pull',
      resembles: 'oil-pressure-low',
      moved: ['oil-pressure'],
      size: { seconds: 0.15, share: 0.4 },
      alter: ({ run }) => {
        const alter = (value: number, time: number): number =>
          time >= run.tipIn + after && time < run.tipIn + after + 0.15 ? 0.6 * value : value;
        return [{ column: 'oil-pressure', alter }];
      },
    };
  },
  'oil-hotter': (_, chance) => {
    const hotter = chance.between(10, 16);
    return {
      where: 'pull',
      resembles: 'oil-pressure-low',
      moved: ['oil-temperature', 'oil-pressure'],
      size: { hotter },
      act: always((knobs) => {
        knobs.oilHeat += hotter;
      }),
    };
  },
  'steady-boost': () => ({
    where: 'day',
    resembles: 'stuck-channel',
    moved: ['manifold-pressure'],
    size: { resolution: 2e3, seconds: 0.1 },
    alter: at('manifold-pressure', () => {
      const lag = lagFilter(0.1);
      return (value, time) => Math.round(lag(value, time) / 2e3) * 2e3;
    }),
  }),
  'steady-coolant': () => ({
    where: 'day',
    resembles: 'stuck-channel',
    moved: ['coolant-temperature'],
    size: { resolution: 5 },
    alter: at('coolant-temperature', () => (value) => Math.round((value - 273.15) / 5) * 5 + 273.15),
  }),
  'tyre-growth': (nature, chance) => ({
    where: 'day',
    resembles: 'wheel-slip',
    moved: ['engine-speed'],
    size: {},
    rig: { growth: chance.between(0.018, 0.03), creep: nature.stated.creep * chance.between(1.3, 1.6) },
  }),
  'rough-roller': (_, chance) => ({
    where: 'day',
    resembles: 'ignition-breakup',
    moved: ['brake-force'],
    size: {},
    roller: { hertz: chance.between(5, 15), resonance: chance.between(0.02, 0.045) },
  }),
  'warm-day': (_, chance) => ({
    where: 'day',
    resembles: 'charge-heat-soak',
    moved: ['ambient-temperature', 'charge-temperature', 'engine-torque'],
    size: {},
    warming: chance.between(1.2, 2),
  }),
  'weather-front': (_, chance) => ({
    where: 'day',
    resembles: 'power-shortfall',
    moved: ['barometric-pressure'],
    size: {},
    falling: -chance.between(150, 250),
  }),
  'high-place': () => ({ where: 'day', resembles: 'boost-droop', moved: ['barometric-pressure'], size: {} }),
  'slow-sensor': () => ({
    where: 'day',
    resembles: 'lagging-channel',
    moved: ['charge-temperature', 'exhaust-temperature'],
    size: { seconds: 6 },
    alter: () => [
      { column: 'charge-temperature', alter: lagFilter(6) },
      { column: 'exhaust-temperature', alter: lagFilter(6) },
    ],
  }),
  'lambda-target-step': (_, chance) => ({
    where: 'day',
    resembles: 'rich-mixture',
    moved: ['lambda', 'lambda-target'],
    size: { richer: 0.04 },
    act: beyond(chance.between(0.6, 0.75), (knobs, much) => {
      knobs.lambdaTarget -= 0.04 * much;
    }),
  }),
  'timing-map-step': (_, chance) => ({
    where: 'day',
    resembles: 'knock',
    moved: ['ignition-timing', 'engine-torque'],
    size: { degrees: 5 },
    act: beyond(chance.between(0.6, 0.75), (knobs, much) => {
      knobs.timing -= 5 * much;
    }),
  }),
  thermostat: (_, chance) => {
    const share = chance.between(0.5, 0.7);
    return {
      where: 'pull',
      resembles: 'head-lift',
      moved: ['coolant-temperature', 'coolant-pressure'],
      size: { colder: 6 },
      act: (now, knobs) => {
        const much = now.stage === 'full' ? easeBetween(share, share + 0.2, now.share) : 0;
        knobs.coolantHeat -= 6 * much;
        return much;
      },
    };
  },
  'blocked-breather': (_, chance) => {
    const rise = chance.between(1.2e3, 2e3);
    return {
      where: 'day',
      resembles: 'crankcase-pressure',
      moved: ['crankcase-pressure'],
      size: { rise },
      act: always((knobs) => {
        knobs.crankcase += rise;
      }),
    };
  },
  'noisy-valves': (_, chance) => {
    const factor = chance.between(1.5, 1.9);
    return {
      where: 'day',
      resembles: 'knock',
      moved: ['knock-level'],
      size: { factor },
      alter: at('knock-level', () => (value) => value * factor),
    };
  },
  'lower-target': (nature, chance) => ({
    where: 'pull',
    resembles: 'power-shortfall',
    moved: ['manifold-pressure', 'manifold-target', 'engine-torque'],
    size: {},
    target: nature.engine.target > 0 ? -chance.between(8e3, 15e3) : 0,
  }),
  'fan-on': (_, chance) => {
    const share = chance.between(0.4, 0.7);
    return {
      where: 'pull',
      resembles: 'spark-energy',
      moved: ['battery-voltage', 'coil-current'],
      size: { volts: 0.4 },
      act: (now, knobs) => {
        const much = now.stage === 'full' && now.share > share ? 1 : 0;
        knobs.volts -= 0.4 * much;
        return much;
      },
    };
  },
} as const satisfies Record<string, Build>;

export type Decoy = keyof typeof BUILDERS;

/** Names of all decoys. */
export function decoyNames(): Decoy[] {
  return Object.keys(BUILDERS).filter((name): name is Decoy => name in BUILDERS);
}

/** A decoy for a day. */
export function builtDecoy(name: Decoy, nature: Nature, chance: Chance): BuiltDecoy {
  return BUILDERS[name](nature, chance);
}
