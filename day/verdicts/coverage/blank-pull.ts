import { randomSource } from '../../../core/numerics/index.ts';
import { MEANINGS, type Meaning } from '../../channels/index.ts';
import type { EngineFacts, JoinedRecord, PullResult, Segment, Track } from '../../pulls/index.ts';
import { type PullScene, pullScene } from '../scene/scene.ts';
import { barePull } from './bare-pull.ts';

/** A channel that will be logged. rate: renewals [Hz]; 50 when absent. */
export interface PlannedChannel {
  readonly meaning: Meaning;
  readonly rate?: number;
}

/** What is known of vehicle and engine when detectors are asked before the day. */
export type PlannedTransmission = 'manual' | 'converter';
export type PlannedEngine = Pick<EngineFacts, 'redline' | 'turboSpeedLimit'>;

const TIP_IN = 3;
const SECONDS = 8;
const LOW = 220;
const HIGH = 640;
const RATIO = 13;
const MASS = 450;
const USUAL_RATE = 50;

/** One moment: share of the ramp done 0 … 1, share of boost that is there 0 … 1, engine speed [rad/s], whether it is full load. */
interface Moment {
  readonly place: number;
  readonly built: number;
  readonly speed: number;
  readonly full: boolean;
}

/**
 * A healthy pull of an engine that does not exist, with exactly the channels given and one pull like it before: only there to ask the
 * detectors whether they could answer. Its numbers are plausible and mean nothing.
 */
export function blankPull(
  channels: readonly PlannedChannel[],
  transmission: PlannedTransmission,
  engine: PlannedEngine = {},
): PullScene {
  const before = madePull(channels, { transmission, engine, seed: 1, references: [] });
  return madePull(channels, { transmission, engine, seed: 2, references: [before] });
}

interface Made {
  readonly transmission: PlannedTransmission;
  readonly engine: PlannedEngine;
  readonly seed: number;
  readonly references: readonly PullScene[];
}

function madePull(channels: readonly PlannedChannel[], { transmission, engine, seed, references }: Made): PullScene {
  const random = randomSource(seed);
  const tracks = channels
    .filter(({ meaning }) => meaning !== 'time' && meaning !== 'unknown' && meaning !== 'text')
    .map((channel) => trackOf(channel, () => random.normal()));
  const piece = { from: 0, to: TIP_IN + SECONDS + 3, offset: 0, rate: 0, offsetUncertainty: 0.003 };
  const record: JoinedRecord = {
    tracks,
    findings: [],
    alignment: {
      ...{ clock: 'blank', other: 'blank', correlation: 1, second: undefined, by: 'same clock' },
      pieces: [{ ...piece, rateUncertainty: 0, residual: 0, lags: [] }],
    },
  };
  const pull = blankResult();
  return pullScene({
    ...{ entry: `blank ${seed}`, record, pull, segments: [pull.segment], references },
    facts: {
      vehicle: { transmission },
      engine: { ...engine, ignition: 'spark', strokesPerCycle: 4 },
      roller: {
        kind: 'brake',
        equivalentMass: { value: MASS, standardUncertainty: 4 },
        rollRadius: { value: 0.3, standardUncertainty: 0.001 },
      },
    },
    slip: { ratio: RATIO, growth: 0, spread: 0.001, growthSpread: 0, creep: 0, creepSpread: 0, origin: 'blank' },
  });
}

function momentAt(time: number): Moment {
  const t = time - TIP_IN;
  const place = Math.max(0, Math.min(1, t / SECONDS));
  const full = t >= 0 && t < SECONDS;
  const built = t <= 0 ? 0 : t > SECONDS ? Math.exp(-(t - SECONDS) / 0.1) : 1 - Math.exp(-t / 0.2);
  return { place, built, full, speed: LOW + (HIGH - LOW) * place - (t > SECONDS ? 50 * (t - SECONDS) : 0) };
}

function trackOf({ meaning, rate = USUAL_RATE }: PlannedChannel, noise: () => number): Track {
  const { kind } = MEANINGS[meaning];
  const count = Math.max(2, Math.round((TIP_IN + SECONDS + 3) * rate));
  const times = Float64Array.from({ length: count }, (_, i) => i / rate);
  const [of, spread] = VALUES[meaning] ?? [() => 1, 0.001];
  const samples = times.map((time) => of(momentAt(time)) + spread * noise());
  return {
    channel: {
      ...{ name: meaning, meaning, kind, samples, refreshRate: rate, origin: 'measured' },
      mask: new Uint8Array(count),
    },
    times,
    pieces: [{ from: 0, to: count }],
    file: 'blank',
  };
}

const degree = Math.PI / 180;

/** Value and noise of the channels of a healthy pull, SI. @source plausible figures, our own: nothing is judged by them */
const VALUES: Readonly<Partial<Record<Meaning, readonly [(moment: Moment) => number, number]>>> = {
  'roll-speed': [({ speed }) => speed / RATIO, 0.004],
  'roll-rotation': [({ speed }) => speed / RATIO / 0.3, 0.01],
  'brake-force': [({ built }) => 600 + 3000 * built, 8],
  'tractive-force': [({ built }) => 600 + 4500 * built, 8],
  'engine-speed': [({ speed }) => speed, 0.3],
  'wheel-speed': [({ speed }) => speed / RATIO, 0.01],
  'vehicle-speed': [({ speed }) => speed / RATIO, 0.01],
  gear: [() => 4, 0],
  throttle: [({ full }) => (full ? 1 : 0.2), 0.001],
  pedal: [({ full }) => (full ? 1 : 0.2), 0.001],
  'ambient-temperature': [() => 293, 0.05],
  'barometric-pressure': [() => 98e3, 10],
  'relative-humidity': [() => 0.5, 0.002],
  'manifold-pressure': [({ built }) => 60e3 + 130e3 * built, 500],
  'manifold-gauge-pressure': [({ built }) => -38e3 + 130e3 * built, 500],
  'manifold-target': [({ full }) => (full ? 190e3 : 80e3), 0],
  'boost-pressure': [({ built }) => 98e3 + 95e3 * built, 500],
  'compressor-inlet-pressure': [() => 97e3, 80],
  'exhaust-pressure': [({ built, place }) => 105e3 + (90e3 + 50e3 * place) * built, 1500],
  'air-flow': [({ built, speed }) => 0.00035 * speed * (0.4 + built), 0.0005],
  'charge-temperature': [({ place }) => 308 + 10 * place, 0.15],
  'compressor-outlet-temperature': [({ built, place }) => 310 + (70 + 20 * place) * built, 0.3],
  'turbo-speed': [({ built, place }) => 3000 + (6500 + 1200 * place) * built, 15],
  'wastegate-duty': [() => 0.5, 0.003],
  'wastegate-position': [() => 0.5, 0.003],
  lambda: [({ full }) => (full ? 0.82 : 1), 0.002],
  'lambda-target': [({ full }) => (full ? 0.82 : 1), 0],
  'injector-pulse': [({ built }) => 0.003 + 0.011 * built, 2e-5],
  'injector-duty': [({ built, place }) => 0.1 + (0.3 + 0.3 * place) * built, 0.002],
  'fuel-pressure': [({ built }) => 350e3 + 130e3 * built, 2000],
  'fuel-pressure-difference': [() => 350e3, 2000],
  'fuel-flow': [({ built, speed }) => 0.00003 * speed * (0.4 + built), 0.0001],
  'ignition-timing': [({ place }) => (14 + 5 * place) * degree, 0],
  dwell: [() => 0.003, 1e-6],
  'coil-current': [() => 8, 0.02],
  'battery-voltage': [() => 13.9, 0.02],
  'knock-level': [({ place }) => 0.5 + place, 0.02],
  'knock-retard': [() => 0, 0],
  'knock-count': [() => 0, 0],
  'cam-angle': [() => 5 * degree, 0.2 * degree],
  'cam-target': [() => 5 * degree, 0],
  'coolant-temperature': [() => 360, 0.08],
  'oil-temperature': [() => 372, 0.08],
  'gearbox-temperature': [() => 345, 0.05],
  'axle-temperature': [() => 350, 0.05],
  'exhaust-temperature': [({ built }) => 800 + 300 * built, 1],
  'tyre-temperature': [() => 320, 0.1],
  'coolant-pressure': [() => 118e3, 500],
  'oil-pressure': [({ speed }) => 170e3 + 500 * speed, 2000],
  'crankcase-pressure': [({ built }) => 600 + 1000 * built, 150],
  'sync-errors': [() => 2, 0],
  'cut-status': [() => 0, 0],
};

function blankResult(): PullResult {
  const count = 100;
  const time = Float64Array.from({ length: count }, (_, i) => TIP_IN + 0.5 + (i * (SECONDS - 0.8)) / (count - 1));
  const engineSpeed = time.map((t) => momentAt(t).speed);
  const rollSpeed = engineSpeed.map((speed) => speed / RATIO);
  const rollPower = time.map((t, i) => (600 + 4500 * momentAt(t).built) * rollSpeed[i]);
  const segment: Segment = {
    ...{ kind: 'full-load', from: 0, to: 1, fromTime: TIP_IN, toTime: TIP_IN + SECONDS, ratio: RATIO, gear: 1 },
    ...{ lowSpeed: LOW / RATIO, highSpeed: HIGH / RATIO, lowEngineSpeed: LOW, highEngineSpeed: HIGH, reason: 'blank' },
  };
  return barePull({ segment, time, engineSpeed, rollSpeed, rollPower });
}
