import type { Chance } from '../random.ts';
import { STEP } from '../rig/roll-run.ts';
import { CHANNELS, type ChannelName } from './channels.ts';
import type { Hall } from './hall.ts';
import type { Alteration, ClockFault } from './logs.ts';
import type { Column } from './names.ts';
import type { VirtualRun } from './run.ts';
import { lagFilter } from './sensor-parts.ts';

export type SensorFault =
  | 'stuck-channel'
  | 'saturated-channel'
  | 'dropout'
  | 'wrong-scale'
  | 'spikes'
  | 'swapped-channels'
  | 'lagging-channel'
  | 'clock-fault'
  | 'ambient-probe';

export const SENSOR_FAULTS: readonly SensorFault[] = [
  'stuck-channel',
  'saturated-channel',
  'dropout',
  'wrong-scale',
  'spikes',
  'swapped-channels',
  'lagging-channel',
  'clock-fault',
  'ambient-probe',
];

/** From what a sensor fault is built for one run. pull: number of the pull, 0 for a coast-down. */
export interface SensorContext {
  readonly hall: Hall;
  readonly made: VirtualRun;
  readonly strength: number;
  readonly chance: Chance;
  readonly variant: string | undefined;
  readonly pull: number;
}

/** A sensor fault in one run. from, to: s on the roller's clock. */
export interface BuiltSensor {
  readonly alterations: readonly Alteration[];
  readonly clockFaults: readonly ClockFault[];
  readonly rate?: number;
  readonly from: number;
  readonly to: number;
  readonly variant: string;
  readonly size: Readonly<Record<string, number>>;
  readonly moved: readonly string[];
  readonly stopClass: 0 | 1 | 2;
}

/** Builds a sensor fault; undefined when no channel can have it. */
export function builtSensor(fault: SensorFault, context: SensorContext): BuiltSensor | undefined {
  const build = BUILDERS[fault];
  return build(context);
}

type Build = (context: SensorContext) => BuiltSensor | undefined;

/** Channels that a person would miss, best first by what the day logs. */
const USUAL: readonly ChannelName[] = [
  'manifold-pressure',
  'lambda',
  'oil-pressure',
  'charge-temperature',
  'exhaust-pressure',
  'turbo-speed',
  'fuel-pressure-difference',
  'boost-pressure',
  'oil-temperature',
  'coolant-temperature',
];

function chosen(
  { hall, chance, variant }: SensorContext,
  from: readonly ChannelName[] = USUAL,
): ChannelName | undefined {
  const there = from.filter((name) => hall.channels.includes(name));
  const named = there.find((name) => name === variant);
  return named ?? (there.length > 0 ? chance.pick(there) : undefined);
}

function full({ made }: SensorContext): { from: number; to: number; length: number } {
  const { tipIn, lift } = made.run;
  return { from: tipIn, to: lift, length: lift - tipIn };
}

const one = (column: Column, alter: Alteration['alter']): Alteration => ({ column, alter });
const nothing = { alterations: [], clockFaults: [] } as const;

/** Written in half kelvins and slow as a sump, these rest for seconds by themselves: that one is stuck for as long shows nowhere. */
const RESTING: readonly ChannelName[] = ['oil-temperature', 'coolant-temperature'];

const stuck: Build = (context) => {
  const first = chosen(context);
  const column =
    first && RESTING.includes(first)
      ? chosen(
          context,
          USUAL.filter((name) => !RESTING.includes(name)),
        )
      : first;
  if (!column) return undefined;
  const { from: tipIn, length } = full(context);
  const seconds = context.strength;
  const from = tipIn + length * context.chance.between(0.1, 0.5);
  let held = Number.NaN;
  const alter = (value: number, time: number): number => {
    if (time < from || time >= from + seconds) return value;
    if (Number.isNaN(held)) held = value;
    return held;
  };
  return {
    ...nothing,
    alterations: [one(column, alter)],
    from,
    to: from + seconds,
    variant: column,
    size: { seconds },
    moved: [column],
    stopClass: column === 'oil-pressure' || column === 'lambda' ? 2 : 1,
  };
};

const saturated: Build = (context) => {
  const column = chosen(context, ['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'lambda', 'oil-pressure']);
  if (!column) return undefined;
  const { from, to } = full(context);
  const name = column === 'lambda' ? undefined : CHANNELS[column].signal;
  const share = Math.min(0.4, 0.05 * context.strength);
  const values = name ? context.made.signals[name] : [];
  const top = name ? Math.max(...values.filter((value) => Number.isFinite(value))) * (1 - share) : Number.NaN;
  // A lambda sensor ends at the rich side instead, above what the engine burns.
  const floor = richest(context) + 0.02 * context.strength;
  return {
    ...nothing,
    alterations: [one(column, (value) => (name ? Math.min(top, value) : Math.max(floor, value)))],
    from,
    to,
    variant: column,
    size: { clippedShare: share, level: name ? top : floor },
    moved: [column],
    stopClass: column === 'manifold-pressure' ? 2 : 1,
  };
};

/** Lowest lambda at full load; 0.8 where there is none. */
function richest(context: SensorContext): number {
  const { run, signals } = context.made;
  const { from, to } = full(context);
  const [first, last] = [from + 0.5, to].map((time) => Math.round((time - run.from) / STEP));
  const values = signals.lambda.slice(first, last).filter((value) => Number.isFinite(value));
  return values.length > 0 ? Math.min(...values) : 0.8;
}

const dropout: Build = (context) => {
  const column = chosen(context);
  if (!column) return undefined;
  const { from: tipIn, length } = full(context);
  const events = Math.max(1, Math.round(2 * context.strength));
  const seconds = 0.15 * context.strength;
  const starts = Array.from({ length: events }, (_, k) => tipIn + (length * (k + context.chance.uniform())) / events);
  const empty = context.chance.uniform() < 0.4;
  return {
    ...nothing,
    alterations: [
      one(column, (value, time) =>
        starts.some((s) => time >= s && time < s + seconds) ? (empty ? Number.NaN : 0) : value,
      ),
    ],
    from: starts[0] ?? tipIn,
    to: (starts.at(-1) ?? tipIn) + seconds,
    variant: column,
    size: { events, seconds },
    moved: [column],
    stopClass: 1,
  };
};

const scale: Build = (context) => {
  const column = chosen(context, [
    'manifold-pressure',
    'turbo-speed',
    'lambda',
    'exhaust-pressure',
    'fuel-pressure-difference',
    'oil-pressure',
  ]);
  if (!column) return undefined;
  const factor = 1 + 0.03 * context.strength * (context.chance.uniform() < 0.5 ? -1 : 1);
  const { from, to } = { from: context.made.run.from, to: context.made.end };
  return {
    ...nothing,
    alterations: [one(column, (value) => value * factor)],
    from,
    to,
    variant: column,
    size: { factor },
    moved: [column],
    stopClass: 1,
  };
};

const spikes: Build = (context) => {
  const column = chosen(context);
  if (!column) return undefined;
  const { from, length } = full(context);
  const count = Math.max(1, Math.round(3 * context.strength));
  const moments = Array.from({ length: count }, (_, k) => from + (length * (k + context.chance.uniform())) / count);
  const high = context.chance.between(1.3, 1.8);
  const done = new Set<number>();
  return {
    ...nothing,
    alterations: [
      one(column, (value, time) => {
        // However slow the sensor is read, its next reading is the one that is hit.
        const hit = moments.findIndex((moment, k) => !done.has(k) && time >= moment && time < moment + 1);
        if (hit < 0) return value;
        done.add(hit);
        return value * high;
      }),
    ],
    from,
    to: from + length,
    variant: column,
    size: { count, factor: high },
    moved: [column],
    stopClass: 1,
  };
};

const PAIRS: readonly (readonly [ChannelName, ChannelName])[] = [
  ['oil-temperature', 'coolant-temperature'],
  ['charge-temperature', 'coolant-temperature'],
  ['manifold-pressure', 'boost-pressure'],
  ['oil-pressure', 'fuel-pressure-difference'],
  ['compressor-outlet-temperature', 'oil-temperature'],
];

const swapped: Build = (context) => {
  const there = PAIRS.filter((pair) => pair.every((name) => context.hall.channels.includes(name)));
  if (there.length === 0) return undefined;
  const [a, b] = context.chance.pick(there);
  const same = (value: number): number => value;
  return {
    ...nothing,
    alterations: [
      { column: a, insteadOf: b, alter: same },
      { column: b, insteadOf: a, alter: same },
    ],
    from: context.made.run.from,
    to: context.made.end,
    variant: `${a} and ${b}`,
    size: {},
    moved: [a, b],
    stopClass: 1,
  };
};

const lagging: Build = (context) => {
  const column = chosen(context, [
    'manifold-pressure',
    'lambda',
    'oil-pressure',
    'turbo-speed',
    'exhaust-pressure',
    'throttle',
  ]);
  if (!column) return undefined;
  const seconds = 0.5 * context.strength;
  return {
    ...nothing,
    alterations: [one(column, lagFilter(seconds))],
    from: context.made.run.from,
    to: context.made.end,
    variant: column,
    size: { seconds },
    moved: [column],
    stopClass: 0,
  };
};

const clock: Build = (context) => {
  const { strength, chance, variant, hall } = context;
  // One clock does not drift against itself.
  const kinds = ['gap', 'jump', 'drift', 'repeated'];
  const which = variant ?? chance.pick(hall.oneFile ? kinds.filter((kind) => kind !== 'drift') : kinds);
  const { from: tipIn, length } = full(context);
  const from = tipIn + length * chance.between(0.35, 0.65);
  const side = chance.pick(['roller', 'engine'] as const);
  const base = { ...nothing, variant: which, moved: ['time'], stopClass: 1 } as const;
  const seconds = 0.3 * strength;
  if (which === 'drift') {
    const rate = 500e-6 * strength;
    return { ...base, rate, from: context.made.run.from, to: context.made.end, size: { rate } };
  }
  if (which === 'jump') {
    return { ...base, clockFaults: [{ side, jump: { at: from, by: seconds } }], from, to: from, size: { seconds } };
  }
  if (which === 'repeated') {
    const to = from + 2 * seconds;
    return { ...base, clockFaults: [{ side, repeat: { from, to } }], from, to, size: { seconds: 2 * seconds } };
  }
  const to = from + seconds;
  return { ...base, clockFaults: [{ side, gap: { from, to } }], from, to, size: { seconds } };
};

const probe: Build = ({ made, strength, pull }) => {
  const warmer = 5 * strength;
  const { tipIn, lift } = made.run;
  return {
    ...nothing,
    alterations: [
      one('ambient-temperature', (value, time) => {
        const loaded =
          pull === 0
            ? 0
            : Math.min(1, Math.max(0, (time - tipIn) / 4)) * (time > lift ? Math.exp(-(time - lift) / 20) : 1);
        return value + warmer * loaded;
      }),
    ],
    from: tipIn,
    to: made.end,
    variant: 'warmed by the exhaust',
    size: { warmer },
    moved: ['ambient-temperature'],
    stopClass: 1,
  };
};

const BUILDERS: Readonly<Record<SensorFault, Build>> = {
  'stuck-channel': stuck,
  'saturated-channel': saturated,
  dropout,
  'wrong-scale': scale,
  spikes,
  'swapped-channels': swapped,
  'lagging-channel': lagging,
  'clock-fault': clock,
  'ambient-probe': probe,
};
