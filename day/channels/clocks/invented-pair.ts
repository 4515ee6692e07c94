import { randomSource } from '../../../core/numerics/index.ts';
import type { Channel, Clock, Piece, Recording } from '../channel.ts';
import type { Meaning } from '../meanings.ts';

/** One stretch of the invented drive: acceleration [m/s²] held for `seconds`; open: clutch open, engine falls to idle. */
export interface Leg {
  readonly seconds: number;
  readonly acceleration: number;
  readonly open?: boolean;
  /** The leg ends early, as soon as this speed is reached [m/s]. */
  readonly until?: number;
}

/** What is true of an invented pair of logs; every field has a default. Times of gaps and jumps on the true clock [s]. */
export interface PairTruth {
  readonly seed?: number;
  readonly legs?: readonly Leg[];
  readonly startSpeed?: number;
  readonly rollerRate?: number;
  readonly engineRate?: number;
  readonly rollerFrom?: number;
  readonly rollerTo?: number;
  readonly offset?: number;
  readonly rate?: number;
  readonly ratio?: number;
  readonly growth?: number;
  readonly creep?: number;
  readonly mass?: number;
  /** Relative noise of the engine speed, and step of the roll speed [m/s]. */
  readonly engineNoise?: number;
  readonly speedStep?: number;
  readonly slip?: readonly { readonly from: number; readonly to: number; readonly size: number }[];
  /** Roller samples missing between these true times; lost: how much less the roller clock shows for it [s]. */
  readonly gaps?: readonly { readonly from: number; readonly to: number; readonly lost?: number }[];
}

export interface InventedPair {
  readonly roller: Recording;
  readonly engine: Recording;
}

/** A pull with lead-in and lift-off: 3 s steady, 10 s of full load, 6 s of overrun, 3 s steady. */
export const ONE_PULL: readonly Leg[] = [
  { seconds: 3, acceleration: 0 },
  { seconds: 10, acceleration: 2.2 },
  { seconds: 6, acceleration: -1.6 },
  { seconds: 3, acceleration: 0 },
];

const FINE = 1000;

/** Two logs of one invented drive, with a known truth. For tests; no real vehicle is meant. */
export function inventedPair(truth: PairTruth = {}): InventedPair {
  const { seed = 1, rollerRate = 50, engineRate = 100, offset = 3.42, rate = 180e-6 } = truth;
  const { engineNoise = 0.004, speedStep = 0.05 / 3.6, gaps = [] } = truth;
  const random = randomSource(seed);
  const drive = trueDrive(truth);
  const duration = drive.speed.length / FINE;
  const { rollerFrom = 0, rollerTo = duration } = truth;
  const own: { t: number; v: number; f: number; piece: number }[] = [];
  for (let t = rollerFrom; t < rollerTo - 0.01; t += 1 / rollerRate) {
    if (gaps.some((gap) => t >= gap.from && t < gap.to)) continue;
    const past = gaps.filter((gap) => t >= gap.to);
    const lost = past.reduce((sum, gap) => sum + (gap.lost ?? 0), 0);
    const v = at(drive.speed, t) + 0.004 * random.normal();
    const f = at(drive.force, t) + 14 * random.normal();
    own.push({ t: t - lost, v: Math.round(v / speedStep) * speedStep, f, piece: past.length });
  }
  const other: { t: number; w: number; throttle: number }[] = [];
  const phase = random.uniform() / engineRate;
  for (let i = 0; ; i++) {
    const t = (i / engineRate + phase) / (1 + rate);
    if (t >= duration - 0.01) break;
    const w = at(drive.engine, t) * (1 + engineNoise * random.normal());
    const step = (2 * Math.PI) / 60;
    other.push({ t: offset + t * (1 + rate), w: Math.round(w / step) * step, throttle: at(drive.throttle, t) });
  }
  const pieces: Piece[] = [];
  own.forEach((row, i) => {
    if (i === 0 || own[i - 1].piece !== row.piece) pieces.push({ from: i, to: i + 1 });
    else pieces[pieces.length - 1] = { from: pieces[pieces.length - 1].from, to: i + 1 };
  });
  const ownClock = { name: 'roller', times: Float64Array.from(own, (row) => row.t), pieces };
  const otherClock = {
    name: 'engine',
    times: Float64Array.from(other, (row) => row.t),
    pieces: [{ from: 0, to: other.length }],
  };
  return {
    roller: recording('roller.csv', ownClock, [
      column(
        'roll-speed',
        own.map((row) => row.v),
        rollerRate,
      ),
      column(
        'tractive-force',
        own.map((row) => row.f),
        rollerRate,
      ),
    ]),
    engine: recording('engine.csv', otherClock, [
      column(
        'engine-speed',
        other.map((row) => row.w),
        engineRate,
      ),
      column(
        'throttle',
        other.map((row) => row.throttle),
        engineRate,
      ),
    ]),
  };
}

/** A recording out of a clock and channels. */
export function recording(file: string, clock: Clock, channels: readonly Channel[]): Recording {
  return { source: '0'.repeat(64), file, clock, channels, findings: [] };
}

/** A measured channel; NaN is masked as empty. */
export function column(meaning: Meaning, samples: readonly number[] | Float64Array, refreshRate: number): Channel {
  const values = Float64Array.from(samples);
  const mask = Uint8Array.from(values, (value) => (Number.isNaN(value) ? 1 : 0));
  return { name: meaning, meaning, kind: 'ratio', samples: values, mask, refreshRate, origin: 'measured' };
}

/** The drive itself at 1 kHz on the true clock. */
function trueDrive(truth: PairTruth): Record<'speed' | 'force' | 'engine' | 'throttle', Float64Array> {
  const {
    legs = ONE_PULL,
    startSpeed = 26,
    ratio = 13,
    growth = -4.4e-6,
    creep = 5.5e-6,
    mass = 1400,
    slip = [],
  } = truth;
  const total = legs.reduce((sum, leg) => sum + leg.seconds, 0);
  const n = Math.floor(total * FINE) + 1;
  const [speed, force, engine, throttle] = [0, 1, 2, 3].map(() => new Float64Array(n));
  let leg = 0;
  let legEnd = legs[0].seconds;
  let v = startSpeed;
  let a = 0;
  let w = ratio * v;
  for (let i = 0; i < n; i++) {
    const t = i / FINE;
    if (t >= legEnd || hasReached(legs[leg], v)) {
      if (leg === legs.length - 1)
        return {
          speed: speed.slice(0, i),
          force: force.slice(0, i),
          engine: engine.slice(0, i),
          throttle: throttle.slice(0, i),
        };
      legEnd = t + legs[++leg].seconds;
    }
    // load builds up and falls within about 0.15 s, and fades a little towards high speed
    const aim = legs[leg].acceleration > 0 ? legs[leg].acceleration * (1.15 - 0.004 * v) : legs[leg].acceleration;
    a += (aim - a) / (0.15 * FINE);
    v = Math.max(0, v + a / FINE);
    speed[i] = v;
    force[i] = mass * a + 180 + 0.4 * v * v * 0.5;
    const event = slip.find((entry) => t >= entry.from && t < entry.to);
    const extra = event ? event.size * Math.sin((Math.PI * (t - event.from)) / (event.to - event.from)) : 0;
    const tied = ratio * v * (1 + growth * v * v) * (1 + creep * force[i]) * (1 + extra);
    w = legs[leg].open ? w + (90 - w) / (0.8 * FINE) : tied;
    engine[i] = w;
    throttle[i] = legs[leg].acceleration > 0.5 ? 1 : legs[leg].acceleration < -0.1 ? 0 : 0.18;
  }
  return { speed, force, engine, throttle };
}

function hasReached({ until, acceleration }: Leg, v: number): boolean {
  return until !== undefined && (acceleration > 0 ? v >= until : v <= until);
}

function at(values: Float64Array, t: number): number {
  const x = Math.max(0, Math.min(values.length - 1.001, t * FINE));
  const k = Math.floor(x);
  return values[k] + (x - k) * (values[k + 1] - values[k]);
}
