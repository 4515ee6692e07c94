import { randomSource } from '../../../core/numerics/index.ts';
import type { Finding } from '../../../core/quantities/index.ts';
import { type Channel, type ClockPiece, type Meaning, REASONS, type Reason } from '../../channels/index.ts';
import type { JoinedRecord, PullResult, Segment, Track } from '../../pulls/index.ts';
import { barePull } from '../coverage/bare-pull.ts';
import type { Fault } from '../fault.ts';
import { type PullScene, pullScene, type SceneFacts } from '../scene/scene.ts';

/** One moment of an invented pull: s since tip-in, engine speed [rad/s], place in the pull 0 … 1, and whether it is full load. */
export interface Moment {
  readonly t: number;
  readonly speed: number;
  readonly place: number;
  readonly full: boolean;
}

/** Changes of single channels, by meaning or by `meaning@position`: (clean value, moment) → value. */
export type Changes = Readonly<Record<string, (value: number, moment: Moment) => number>>;

/** What is invented. rate: Hz of the fast channels. power: factor of roll power by engine speed. lag: lambda tells this late is left to the program. */
export interface Invented {
  readonly rate?: number;
  /** Rates of single channels [Hz]. */
  readonly rates?: Partial<Record<Meaning, number>>;
  readonly seed?: number;
  readonly change?: Changes;
  readonly without?: readonly Meaning[];
  readonly power?: (moment: { readonly speed: number; readonly place: number }) => number;
  readonly facts?: Partial<SceneFacts['vehicle']>;
  readonly engine?: SceneFacts['engine'];
  readonly references?: readonly Invented[];
  /** Reasons by meaning or `meaning@position`: moment → why its sample is no measurement. */
  readonly masked?: Readonly<Record<string, (moment: Moment) => Reason>>;
  /** No row was written between these times [s since tip-in]. */
  readonly gap?: readonly [number, number];
  readonly clock?: Partial<ClockPiece>;
  readonly findings?: readonly Finding[];
  readonly settings?: Readonly<Record<string, string>>;
  readonly block?: number;
  readonly spoiled?: readonly Fault[];
  /** Reading cut the pull in two and took its first part: from one time to the other [s since tip-in] it found no full load. */
  readonly cut?: readonly [number, number];
  /** Reading found no single ratio of engine speed to roll speed in it. */
  readonly gearless?: boolean;
}

const RATIO = 13.3;
const CREEP = 0.015;
const TIP_IN = 3;
const SECONDS = 10;
const LOW = 220;
const HIGH = 690;
const MASS = 450;

/** Engine speed of the invented ramp [rad/s] at s since tip-in. */
export function speedAt(t: number): number {
  const place = Math.max(0, Math.min(1, t / SECONDS));
  return LOW + (HIGH - LOW) * place - (t > SECONDS ? 60 * (t - SECONDS) : 0);
}

/** Pressure that has built up after tip-in: 0 … 1. */
function built(t: number): number {
  return t <= 0 ? 0 : t > SECONDS ? Math.exp(-(t - SECONDS) / 0.1) : 1 - Math.exp(-t / 0.15);
}

function forceAt(t: number): number {
  return 600 + 4200 * built(t) * (1 - 0.15 * Math.max(0, t / SECONDS));
}

/** Air flow times charge temperature [kg·K/s] of three litres that fill to 95 %. */
function airAt(t: number, speed: number): number {
  return (0.95 * 3e-3 * (speed / (4 * Math.PI)) * (90e3 + 110e3 * built(t))) / 287;
}

interface Made {
  readonly meaning: Meaning;
  readonly position?: string;
  readonly kind: Channel['kind'];
  readonly noise: number;
  /** Slowest of this and the wanted rate [Hz]. */
  readonly hertz: number;
  readonly value: (moment: Moment) => number;
}

const degree = Math.PI / 180;
const made = (
  meaning: Meaning,
  [kind, noise, hertz, position]: readonly [Channel['kind'], number, number, string?],
  value: Made['value'],
): Made => ({ meaning, kind, noise, hertz, value, ...(position === undefined ? {} : { position }) });

/** Every channel of a clean pull. */
const CHANNELS: readonly Made[] = [
  made('roll-speed', ['speed', 0.004, 1000], ({ t, speed }) => speed / (RATIO * (1 + (CREEP * forceAt(t)) / 4800))),
  made('brake-force', ['force', 15, 1000], ({ t }) => forceAt(t) - (t > 0 && t < SECONDS ? (MASS * 47) / RATIO : 0)),
  made('engine-speed', ['engine-speed', 0.4, 1000], ({ speed }) => speed),
  made('throttle', ['fraction', 0.001, 1000], ({ full }) => (full ? 1 : 0.2)),
  made('manifold-pressure', ['absolute-pressure', 900, 1000], ({ t }) => 90e3 + 110e3 * built(t)),
  made('manifold-target', ['absolute-pressure', 0, 20], ({ full }) => (full ? 200e3 : 100e3)),
  made('wastegate-duty', ['fraction', 0.003, 50], () => 0.5),
  made('turbo-speed', ['turbo-speed', 20, 50], ({ t, place }) => 3000 + (6500 + 1500 * place) * built(t)),
  made('charge-temperature', ['temperature', 0.2, 10], ({ place }) => 310 + 12 * place),
  made('air-flow', ['mass-flow', 0.001, 50], ({ t, speed, place }) => airAt(t, speed) / (310 + 12 * place)),
  made('compressor-inlet-pressure', ['absolute-pressure', 120, 20], () => 84e3),
  made('exhaust-pressure', ['absolute-pressure', 2000, 50], ({ t, place }) => 100e3 + (90e3 + 50e3 * place) * built(t)),
  made('lambda', ['lambda', 0.003, 50], ({ full }) => (full ? 0.82 : 1)),
  made('lambda-target', ['lambda', 0, 20], ({ full }) => (full ? 0.82 : 1)),
  made('injector-duty', ['fraction', 0.003, 100], ({ full, place }) => (full ? 0.3 + 0.45 * place : 0.08)),
  made('fuel-pressure-difference', ['pressure-difference', 3000, 50], () => 350e3),
  made('ignition-timing', ['angle', 0, 100], ({ place }) => (14 + 6 * place) * degree),
  made('battery-voltage', ['voltage', 0.03, 20], () => 13.9),
  made('knock-level', ['ratio', 0.04, 100, 'cylinder 1'], ({ place }) => 0.5 + place),
  made('knock-level', ['ratio', 0.04, 100, 'cylinder 2'], ({ place }) => 0.6 + place),
  made('knock-retard', ['angle', 0, 50, 'cylinder 1'], () => 0),
  made('knock-count', ['count', 0, 50], () => 0),
  made('cam-angle', ['angle', 0.3 * degree, 20, 'bank A'], () => 5 * degree),
  made('cam-target', ['angle', 0, 20, 'bank A'], () => 5 * degree),
  made('coolant-temperature', ['temperature', 0.1, 10], () => 360),
  made('coolant-pressure', ['gauge-pressure', 800, 20], () => 118e3),
  made('oil-temperature', ['temperature', 0.1, 10], () => 375),
  made('oil-pressure', ['gauge-pressure', 3000, 20], ({ speed }) => 170e3 + 500 * speed),
  made('crankcase-pressure', ['gauge-pressure', 300, 20], ({ t }) => 600 + 1400 * built(t)),
  made('axle-temperature', ['temperature', 0.1, 10], () => 370),
  made('wheel-speed', ['speed', 0.017, 20, 'driven left'], ({ speed }) => (1.01 * speed) / RATIO),
  made('sync-errors', ['count', 0, 50], () => 3),
  made('cut-status', ['count', 0, 100], () => 0),
  made('dwell', ['pulse-width', 0, 20], () => 3e-3),
  made('exhaust-temperature', ['temperature', 1.5, 10], ({ place }) => 1020 + 100 * place),
  made('ambient-temperature', ['temperature', 0.05, 1], () => 297),
  made('boost-pressure', ['absolute-pressure', 900, 50], ({ t }) => 95e3 + 110e3 * built(t)),
];

/** Meanings that a clean invented pull has. */
export const INVENTED_MEANINGS: readonly Meaning[] = CHANNELS.map(({ meaning }) => meaning);

/** The scene of an invented pull: ten seconds at full load from 2100 to 6590 rpm in one gear on a braked roller. */
export function inventedPull(invented: Invented = {}): PullScene {
  const { rate = 100, seed = 1, without = [], references = [], settings, block, spoiled } = invented;
  const random = randomSource(seed);
  const tracks = CHANNELS.filter(({ meaning }) => !without.includes(meaning)).map((channel) =>
    trackOf(channel, { rate, random: () => random.normal(), invented }),
  );
  const record: JoinedRecord = { tracks, alignment: alignment(invented.clock), findings: invented.findings ?? [] };
  const segment = segmentOf(invented);
  return pullScene({
    entry: `invented ${seed}`,
    record,
    pull: pullOf(segment, invented),
    segments: [segment, ...secondPart(invented)],
    facts: {
      vehicle: { transmission: 'manual', ...invented.facts },
      engine: invented.engine ?? { ignition: 'spark', strokesPerCycle: 4 },
      roller: { kind: 'brake', equivalentMass: { value: MASS, standardUncertainty: 4 } },
    },
    slip: {
      ratio: RATIO,
      growth: 0,
      spread: 0.001,
      growthSpread: 0,
      creep: CREEP / 4800,
      creepSpread: 0,
      origin: 'invented',
    },
    ...(settings ? { settings } : {}),
    ...(block === undefined ? {} : { block }),
    ...(spoiled ? { spoiled } : {}),
    references: references.map((reference, i) => inventedPull({ rate, seed: seed + 1 + i, ...reference })),
  });
}

function trackOf(
  { meaning, position, kind, noise, hertz, value }: Made,
  { rate, random, invented }: { rate: number; random: () => number; invented: Invented },
): Track {
  const own = Math.min(rate, invented.rates?.[meaning] ?? hertz);
  const count = Math.round((TIP_IN + SECONDS + 3) * own);
  const [from, to] = invented.gap ?? [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const times = Float64Array.from({ length: count }, (_, i) => i / own).filter(
    (time) => time - TIP_IN <= from || time - TIP_IN >= to,
  );
  const split = times.findIndex((time) => time - TIP_IN >= to);
  const key = position === undefined ? meaning : `${meaning}@${position}`;
  const changed = invented.change?.[key];
  const masked = invented.masked?.[key];
  const mask = new Uint8Array(times.length);
  const samples = times.map((time, i) => {
    const t = time - TIP_IN;
    const moment = { t, speed: speedAt(t), place: Math.max(0, Math.min(1, t / SECONDS)), full: t >= 0 && t < SECONDS };
    const measured = value(moment) + noise * random();
    if (masked) mask[i] = REASONS[masked(moment)];
    return changed ? changed(measured, moment) : measured;
  });
  return {
    channel: {
      name: position === undefined ? meaning : `${meaning} ${position}`,
      ...{ meaning, kind, samples, refreshRate: own, origin: 'measured' },
      ...(position === undefined ? {} : { position }),
      mask,
    },
    times,
    pieces:
      split > 0
        ? [
            { from: 0, to: split },
            { from: split, to: times.length },
          ]
        : [{ from: 0, to: times.length }],
    file: 'invented',
  };
}

function alignment(clock: Invented['clock']): JoinedRecord['alignment'] {
  const piece = {
    from: 0,
    to: 16,
    offset: 0,
    rate: 0,
    offsetUncertainty: 0,
    rateUncertainty: 0,
    residual: 0,
    lags: [],
    ...clock,
  };
  return {
    clock: 'invented',
    other: 'invented',
    pieces: [piece],
    correlation: 1,
    second: undefined,
    by: clock ? 'speed' : 'same clock',
  };
}

function segmentOf({ gearless, cut }: Invented): Segment {
  const [fromTime, toTime] = [TIP_IN, TIP_IN + (cut?.[0] ?? SECONDS)];
  const speeds = { lowSpeed: LOW / RATIO, highSpeed: HIGH / RATIO, lowEngineSpeed: LOW, highEngineSpeed: HIGH };
  const gear = gearless ? {} : { ratio: RATIO, gear: 1 };
  return { kind: 'full-load', from: 0, to: 1, fromTime, toTime, ...gear, ...speeds, reason: 'invented' };
}

function secondPart({ cut }: Invented): readonly Segment[] {
  return cut ? [{ ...segmentOf({}), fromTime: TIP_IN + cut[1] }] : [];
}

function pullOf(segment: Segment, { power = () => 1 }: Invented): PullResult {
  const count = 120;
  const time = Float64Array.from({ length: count }, (_, i) => TIP_IN + 0.5 + (i * (SECONDS - 0.8)) / (count - 1));
  const engineSpeed = time.map((t) => speedAt(t - TIP_IN));
  const rollSpeed = engineSpeed.map((speed) => speed / RATIO);
  const rollPower = time.map((t, i) => {
    const speed = engineSpeed[i];
    return forceAt(t - TIP_IN) * rollSpeed[i] * power({ speed, place: (t - TIP_IN) / SECONDS });
  });
  return barePull({ segment, time, engineSpeed, rollSpeed, rollPower });
}
