import { chanceOf } from '../random.ts';
import { DIALECTS, IMPERIAL, METRIC, type Writing, type WrittenUnits } from '../simple/writing.ts';
import { CHANNELS, type ChannelName, channelNames, LEVELS, type Level } from './channels.ts';
import { type Column, drawNames } from './names.ts';
import type { Nature } from './nature.ts';
import { UNIT_TABLES, type UnitTable } from './units.ts';

/** How this day is logged. rates: Hz. roller: how its force looks: resonance of the frame [Hz], [1], ripple [1], smoothing [s], noise of the speed [m/s]. wheelGain: scale of the wheel speed sensors [1]; pulsation: how much of the intake pulsation gets through [1]. */
export interface Hall {
  readonly level: Level;
  readonly rates: { readonly roller: number; readonly engine: number };
  readonly oneFile: boolean;
  readonly writing: Pick<Writing, 'dialect' | 'unitRow' | 'time'>;
  readonly rollerUnits: WrittenUnits;
  readonly engineUnits: UnitTable;
  readonly names: Readonly<Record<Column, string>>;
  readonly channels: readonly ChannelName[];
  readonly wheelGain: number;
  readonly pulsation: number;
  readonly roller: {
    readonly hertz: number;
    readonly resonance: number;
    readonly ripple: number;
    readonly smoothing: number;
    readonly speedNoise: number;
  };
}

const RATES = [10, 20, 25, 50, 50, 100, 100, 200, 500];

/** Draws the logging of a day; what is given stays. keep: channels that are not left out by chance. */
export function drawHall(
  nature: Nature,
  given: {
    level?: Level | undefined;
    rates?: { readonly roller?: number; readonly engine?: number } | undefined;
    oneFile?: boolean | undefined;
    missing?: readonly string[] | undefined;
    channels?: readonly string[] | undefined;
  },
): Hall {
  const chance = chanceOf(nature.seed, 'virtual hall');
  const level = given.level ?? chance.pick(LEVELS);
  const fastest = level === 'rich' ? 200 : 500;
  const rate = (): number => Math.min(fastest, chance.pick(RATES));
  const drawn = { roller: rate(), engine: rate() };
  const oneFile = given.oneFile ?? chance.uniform() < 0.4;
  const roller = given.rates?.roller ?? drawn.roller;
  const imperial = chance.uniform() < 0.2;
  return {
    level,
    oneFile,
    rates: { roller, engine: oneFile ? roller : (given.rates?.engine ?? drawn.engine) },
    writing: {
      dialect: DIALECTS[chance.pick(['comma', 'comma', 'semicolon', 'tab', 'utf-16'] as const)],
      unitRow: chance.uniform() < 0.5,
      time: chance.pick(['s', 's', 'ms', 'clock'] as const),
    },
    rollerUnits: chance.pick(imperial ? IMPERIAL : METRIC),
    engineUnits: UNIT_TABLES[imperial ? 'imperial' : chance.pick(['kilopascal', 'kilopascal', 'bar'] as const)],
    names: drawNames(chance),
    channels: given.channels
      ? channelNames().filter((name) => given.channels?.includes(name))
      : loggedChannels(nature, level, given.missing ?? []),
    wheelGain: 1 + 0.01 * chance.normal(),
    pulsation: chance.between(0.1, 1),
    roller: {
      hertz: chance.between(5, 15),
      resonance: chance.between(0.002, 0.01),
      ripple: chance.between(0, 0.004),
      smoothing: chance.pick([0, 0, 0.02, 0.05, 0.1]),
      speedNoise: chance.between(0.002, 0.008),
    },
  };
}

function loggedChannels({ engine, seed }: Nature, level: Level, missing: readonly string[]): ChannelName[] {
  const chance = chanceOf(seed, 'virtual channels');
  return channelNames().filter((name) => {
    const channel = CHANNELS[name];
    const left = chance.uniform() < 0.07 && channel.from !== 'poor';
    if (left || missing.includes(name)) return false;
    if (channel.boostedOnly && !engine.boosted) return false;
    if (channel.sparkOnly && engine.ignition !== 'spark') return false;
    return LEVELS.indexOf(channel.from) <= LEVELS.indexOf(level);
  });
}
