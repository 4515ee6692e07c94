import { localQuadratic } from '../../../core/numerics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import type { Alignment, Piece } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import { usableSamples } from '../rolls/find-track.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { type BelievedSpeed, believedSpeed } from './believed-speed.ts';
import type { PullSignals } from './chain.ts';

/** Overall ratio at no force, and how it falls as tyres grow: engine speed = ratio·(1 + growth·v²)·v with no slip. */
export interface SlipReference {
  /** [rad/m] */
  readonly ratio: number;
  /** [s²/m²] */
  readonly growth: number;
  /** Relative standard uncertainty of the ratio [1]. */
  readonly spread: number;
  /** Standard uncertainty of the growth [s²/m²]. */
  readonly growthSpread: number;
  /** Elastic creep of the tyre [1/N] and its standard uncertainty: slip that belongs to every rolling tyre. */
  readonly creep: number;
  readonly creepSpread: number;
  readonly origin: string;
}

/** Slip where it cannot be seen [1]. @source common practice, no source: elastic creep 0.5–3 % */
export const ASSUMED_SLIP = measured(0.015, 0.008);

/** Signals of one pull, and how much random noise is left in them: one standard deviation, as long as `time`. */
export interface PullReading {
  readonly signals: PullSignals;
  readonly noise: {
    readonly speed: Float64Array;
    readonly acceleration: Float64Array;
    readonly force: Float64Array;
    readonly slip: Float64Array;
  };
  readonly bandwidth: number;
  /** Short stretches in which engine speed was not believed. */
  readonly leaps: number;
}

export interface PullSources {
  readonly side: RollSide;
  readonly segment: Segment;
  readonly engine: Track | undefined;
  readonly alignment: Alignment;
  readonly reference: SlipReference | undefined;
  /** Engine speed over tyre surface speed as stated [rad/m]; used where no engine speed is logged. */
  readonly statedRatio?: number | undefined;
  readonly forceZero: number;
  readonly bandwidth: number;
}

/**
 * Every signal of a pull smoothed to one bandwidth, on the times of the roll speed inside the segment.
 * Values outside the segment but inside the same piece help at the borders; nothing crosses a gap.
 */
export function pullReading(sources: PullSources): PullReading {
  const { side, segment, engine, bandwidth, forceZero } = sources;
  const time = side.times.slice(segment.from, segment.to);
  const on = (samples: Float64Array): Smoothed =>
    smoothed({ times: side.times, samples, pieces: side.pieces, bandwidth, at: time });
  const speed = on(side.speed);
  const force = side.force ? on(side.force) : undefined;
  const believed = engine && believedEngine(engine, sources);
  const engineSpeed =
    engine && believed
      ? smoothed({ times: engine.times, samples: believed.samples, pieces: engine.pieces, bandwidth, at: time })
      : statedEngine(speed, sources.statedRatio);
  const unknown = new Float64Array(time.length).fill(Number.NaN);
  const assumed = new Float64Array(time.length).fill(ASSUMED_SLIP.value);
  const signals: PullSignals = {
    time,
    speed: speed.value,
    acceleration: speed.slope,
    force: force ? force.value.map((value) => value - forceZero) : new Float64Array(time.length),
    engineSpeed: engineSpeed?.value ?? unknown,
    engineAcceleration: engineSpeed?.slope ?? unknown,
    slip: sources.reference && engineSpeed ? slipAgainst(sources.reference, engineSpeed.value, speed.value) : assumed,
  };
  return { signals, noise: noiseOf(sources, { speed, force, engineSpeed }), bandwidth, leaps: believed?.leaps ?? 0 };
}

/** Engine speed from roll speed, the stated ratio and the slip that is taken where none can be seen. */
function statedEngine(speed: Smoothed, ratio: number | undefined): Smoothed | undefined {
  if (ratio === undefined) return undefined;
  const scaled = (series: Float64Array): Float64Array =>
    series.map((value) => value * ratio * (1 + ASSUMED_SLIP.value));
  return {
    value: scaled(speed.value),
    slope: scaled(speed.slope),
    valueNoise: scaled(speed.valueNoise),
    slopeNoise: scaled(speed.slopeNoise),
  };
}

/** In one gear engine speed cannot leave the rolls for a moment; where gears change it may. */
function believedEngine(engine: Track, { side, segment }: PullSources): BelievedSpeed {
  return segment.ratio === undefined ? { samples: usableSamples(engine), leaps: 0 } : believedSpeed(engine, side);
}

interface Smoothed {
  readonly value: Float64Array;
  readonly slope: Float64Array;
  readonly valueNoise: Float64Array;
  readonly slopeNoise: Float64Array;
}

interface ToSmooth {
  readonly times: Float64Array;
  readonly samples: Float64Array;
  readonly pieces: readonly Piece[];
  readonly bandwidth: number;
  readonly at: Float64Array;
}

function smoothed(input: ToSmooth): Smoothed {
  const fit = localQuadratic(input);
  const white = whiteNoise(input);
  return {
    value: fit.value,
    slope: fit.slope,
    valueNoise: fit.valueGain.map((gain) => gain * white),
    slopeNoise: fit.slopeGain.map((gain) => gain * white),
  };
}

/**
 * Standard deviation that white noise would need to look like this signal does between neighbours within the stretch:
 * second differences of samples, which a smooth signal does not disturb, robust against spikes.
 *
 * @source Var(x₋ − 2x + x₊) = 6σ² for white noise; median of magnitudes over 0.6745 for a normal distribution
 */
function whiteNoise({ times, samples, at }: ToSmooth): number {
  const magnitudes: number[] = [];
  for (let i = 1; i < times.length - 1; i++) {
    if (times[i] < at[0] || times[i] > at[at.length - 1]) continue;
    const second = samples[i - 1] - 2 * samples[i] + samples[i + 1];
    if (Number.isFinite(second)) magnitudes.push(Math.abs(second));
  }
  if (magnitudes.length < 5) return 0;
  magnitudes.sort((a, b) => a - b);
  const middle = magnitudes[Math.floor(magnitudes.length / 2)];
  const root = Math.sqrt(magnitudes.reduce((sum, value) => sum + value * value, 0) / magnitudes.length);
  // A quantised channel repeats itself, its median is zero; then the root mean square speaks.
  return (middle > 0 ? middle / 0.6745 : root) / Math.sqrt(6);
}

function slipAgainst(reference: SlipReference, engineSpeed: Float64Array, speed: Float64Array): Float64Array {
  return engineSpeed.map((omega, i) => {
    const v = speed[i];
    return omega / (reference.ratio * (1 + reference.growth * v * v) * v) - 1;
  });
}

function noiseOf(
  sources: PullSources,
  { speed, force, engineSpeed }: { speed: Smoothed; force: Smoothed | undefined; engineSpeed: Smoothed | undefined },
): PullReading['noise'] {
  const none = new Float64Array(speed.value.length);
  const lag = Math.max(0, ...sources.alignment.pieces.map((piece) => piece.offsetUncertainty));
  const slip =
    engineSpeed && sources.reference
      ? engineSpeed.value.map((omega, i) =>
          Math.hypot(
            engineSpeed.valueNoise[i] / omega,
            (engineSpeed.slope[i] * lag) / omega,
            speed.valueNoise[i] / speed.value[i],
          ),
        )
      : none;
  return { speed: speed.valueNoise, acceleration: speed.slopeNoise, force: force?.valueNoise ?? none, slip };
}
