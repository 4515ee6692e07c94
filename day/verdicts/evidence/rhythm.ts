import { gridOf, type PullScene, sceneTrack } from '../scene/scene.ts';
import { finite, mean, middle, smooth } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import { driveForce, rollSpeed } from './drive.ts';

/** The drive is looked at in windows of this length, every so often; a stretch lasts so long at least [s]. @source our default */
const WINDOW = 0.4;
const EVERY = 0.1;
const SHORTEST = 0.7;
/** Weak stretches nearer than this are one [s]. @source our default */
const JOIN = 0.1;
/** Frequencies within this are the same [1]. @source our default */
const SAME = 0.09;
/** A limiter's rate [Hz]; what is renewed more slowly than `slowest` [Hz] cannot show it. @source 5–20 Hz: common practice, no source */
const RATE = { low: 4.8, high: 20, slowest: 19 } as const;
/** Frequencies are sought from here on [Hz]: what moves most at the lower end has no rate of its own. @source our default */
const SOUGHT = 3.8;
/** Lambda is leaner than in the second before by this at the least while firings are left out [1]. @source our default: a third of the share that the drive loses, as what does not burn passes the sensor */
const LEANER = 0.025;
/** Share of what moves in a stretch that one frequency must explain: in one channel alone, and in each of two that agree [1]. @source our default */
const ONE_LINE = 0.35;
const SHARED = 0.22;
/** Over so long a stretch [s] chance shares less, and other swings more of what moves: there so much will do [1]. @source our default */
const LONG = { seconds: 2, shared: 0.15, alone: 0.25 } as const;
/** Amplitude over the channel's noise; and of a line that one channel alone shows for a short time. @source our default: over a second noise has a line of its own */
const OVER_NOISE = 1.4;
const ALONE_OVER_NOISE = 2;
/** The drive is weaker by this than in the second before [1]. @source our default: half of the time a quarter of the torque, 12 %, at the least */
const WEAKER = 0.07;
/** Moments before a window that it is held against [s]; torque falls by so much with rising speed anyway [1/s]. @source our default */
const BACK = [0.3, 0.8, 1.4, 2, 3, 4] as const;
const FALLS = 0.03;
/** How fast it falls by itself is seen over so long before that moment [s], and it may fall so many times as fast afterwards: torque falls more and more steeply towards the redline. @source our default */
const SEEN_OVER = 1.2;
const STEEPER = 1.4;
/** Manifold pressure moves less than this at the same time: the air is still there [1]. @source our default */
const AIR_KEEPS = 0.06;

/** Where the drive stays weaker than before with the air still there, while engine, rolls or lambda keep one frequency of a limiter's. */
export function rhythmicLosses(scene: PullScene): readonly Stretch[] {
  const weak = weakStretches(scene);
  const channels = weak.length > 0 ? seriesOf(scene) : [];
  return weak.filter((stretch) => {
    const middleAt = (stretch.from + stretch.to) / 2;
    const halves = [
      { from: stretch.from, to: middleAt },
      { from: middleAt, to: stretch.to },
    ].filter(({ from, to }) => to - from >= SHORTEST);
    const linesOf = (part: Stretch): readonly Line[] => channels.flatMap((series) => lineIn(series, part) ?? []);
    if (keepsBurning(scene, stretch)) return false;
    const [alone, over] = isLong(stretch) ? [LONG.alone, OVER_NOISE] : [ONE_LINE, ALONE_OVER_NOISE];
    return (
      linesOf(stretch).some(({ share, overNoise }) => share > alone && overNoise > over) ||
      [stretch, ...halves].some((part) => {
        const lines = linesOf(part);
        return lines.some((one, i) => lines.some((other, k) => k > i && alike(one, other)));
      })
    );
  });
}

/** True when a lambda that is fast enough stays where it was: nothing was left unburnt. */
function keepsBurning(scene: PullScene, { from, to }: Stretch): boolean {
  const fast = scene.tracks.filter(({ meaning, rate }) => meaning === 'lambda' && rate >= SLOWEST_LAMBDA);
  return (
    fast.length > 0 &&
    fast.every(({ times, values }) => {
      const inside = (a: number, b: number): Float64Array => values.filter((_, i) => times[i] >= a && times[i] <= b);
      return mean(inside(from, to)) - middle(inside(from - 1.2, from - 0.2)) < LEANER;
    })
  );
}

/** Slowest lambda that shows its mean in a stretch [Hz]. @source our default */
const SLOWEST_LAMBDA = 5;

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Stretches in which every window is weak. */
function weakStretches(scene: PullScene): readonly Stretch[] {
  const spans: { from: number; to: number }[] = [];
  let goesOn = false;
  for (const start of windowStarts(scene)) {
    const weak = isWeaker(scene, start);
    const last = spans[spans.length - 1];
    // One window that is not weak enough does not end a cut, nor begin another before which the engine would have been whole.
    if (weak && last && (goesOn || start - last.to < JOIN)) last.to = start + WINDOW;
    else if (weak) spans.push({ from: start + WINDOW / 2, to: start + WINDOW });
    goesOn = weak;
  }
  return spans.filter(({ from, to }) => to - from >= SHORTEST);
}

function windowStarts({ from, to }: PullScene): number[] {
  const count = Math.max(0, Math.floor((to - WINDOW - from - 1) / EVERY));
  return Array.from({ length: count + 1 }, (_, k) => from + 1 + k * EVERY).filter((start) => start + WINDOW <= to);
}

/** True when the drive in a window is below that of any of the moments before it, more than the manifold pressure explains. */
function isWeaker(scene: PullScene, start: number): boolean {
  const drive = driveForce(scene);
  if (!drive) return false;
  const driveIn = (from: number, to: number): number =>
    middle(drive.values.filter((_, i) => drive.times[i] >= from && drive.times[i] <= to));
  const here = driveIn(start, start + WINDOW);
  const pressure = sceneTrack(scene, 'manifold-pressure');
  return BACK.some((back) => {
    const from = start - back - 0.4;
    if (from < scene.from + 0.5) return false;
    const before = driveIn(from, from + 0.4);
    const earlier = from - SEEN_OVER;
    const early = earlier < scene.from + 0.5 ? before : driveIn(earlier, earlier + 0.4);
    const own = (STEEPER * (1 - before / early)) / SEEN_OVER;
    // A drive that is still building up does not say how it falls later.
    if (own < -FALLS) return false;
    const least = 1 - WEAKER - Math.max(FALLS, own) * (back + WINDOW / 2);
    if (!(here < least * before)) return false;
    if (!pressure) return true;
    const level = (a: number, b: number): number =>
      middle(pressure.values.filter((_, i) => pressure.times[i] >= a && pressure.times[i] <= b));
    return !(level(start, start + WINDOW) < (1 - AIR_KEEPS) * level(from, from + 0.4));
  });
}

interface Moving {
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly noise: number;
}

/** Channels that a limiter makes swing, as they are renewed. */
function seriesOf(scene: PullScene): Moving[] {
  const roll = rollSpeed(scene)?.track;
  const tracks = [
    sceneTrack(scene, 'engine-speed'),
    roll,
    ...scene.tracks.filter(({ meaning }) => meaning === 'lambda'),
  ];
  return tracks.flatMap((track) => {
    if (!track || track.rate < RATE.slowest) return [];
    const times = gridOf(scene, Math.min(100, track.rate));
    const fewer = Math.sqrt(Math.max(1, track.rate / 100));
    return [{ times, values: onTimes(track, times), noise: track.noise / fewer }];
  });
}

/** A frequency [Hz], the share of what moves that it explains, and its amplitude over the noise [1]. */
interface Line {
  readonly frequency: number;
  readonly share: number;
  readonly overNoise: number;
}

/** True from the length on over which chance shares little; a hair less is as long. */
function isLong({ from, to }: Stretch): boolean {
  return to - from > LONG.seconds - EVERY / 2;
}

function alike(one: Pick<Line, 'frequency'>, other: Pick<Line, 'frequency'>): boolean {
  return Math.abs(one.frequency / other.frequency - 1) < SAME;
}

/** The line of a stretch that both of its halves keep; undefined when there is none. */
function lineIn(moving: Moving, stretch: Stretch): Line | undefined {
  const whole = strongest(moving, stretch);
  const shared = isLong(stretch) ? LONG.shared : SHARED;
  if (!whole || whole.frequency < RATE.low || whole.share < shared || whole.overNoise < OVER_NOISE) return undefined;
  const half = (stretch.from + stretch.to) / 2;
  const halves = [
    { from: stretch.from, to: half },
    { from: half, to: stretch.to },
  ];
  return halves.every((one) => keeps(moving, one, { ...whole, share: shared })) ? whole : undefined;
}

/** True when a frequency is the strongest of a part, or has more than a share of it beside the swing of what begins or ends. */
function keeps(moving: Moving, part: Stretch, { frequency, share }: Line): boolean {
  const [one, there] = [strongest(moving, part), strongest(moving, part, frequency)];
  return (one !== undefined && alike(one, { frequency })) || (there?.share ?? 0) > share;
}

/** The strongest line of a stretch, or of what is near a frequency [Hz]; undefined where samples are missing. */
function strongest({ times, values, noise }: Moving, { from, to }: Stretch, near?: number): Line | undefined {
  const step = times[1] - times[0];
  const first = Math.max(0, Math.round((from - times[0]) / step));
  const last = first + Math.round((to - from) / step) + 1;
  const part = values.subarray(first, last);
  if (part.length < 8 || finite(part).length < part.length) return undefined;
  const rest = withoutTrend({ times: times.subarray(first, last), values: part });
  const all = rest.reduce((sum, value) => sum + value * value, 0);
  let best = { frequency: Number.NaN, share: 0 };
  const highest = Math.min(RATE.high, 0.46 / step);
  const [low, top] = near === undefined ? [SOUGHT, highest] : [near * (1 - SAME), Math.min(highest, near * (1 + SAME))];
  for (let frequency = low; frequency <= top; frequency += 0.1) {
    const share = explained(rest, frequency * step) / all;
    if (share > best.share) best = { frequency, share };
  }
  return { ...best, overNoise: Math.sqrt((2 * best.share * all) / rest.length) / noise };
}

/** Squares that a sine and a cosine explain. @param turns cycles per sample */
function explained(rest: Float64Array, turns: number): number {
  let [real, imaginary] = [0, 0];
  rest.forEach((value, i) => {
    real += value * Math.cos(2 * Math.PI * turns * i);
    imaginary += value * Math.sin(2 * Math.PI * turns * i);
  });
  return (2 * (real * real + imaginary * imaginary)) / rest.length;
}

/** What is left above the slowest rate of a limiter. */
function withoutTrend(series: { times: Float64Array; values: Float64Array }): Float64Array {
  const slow = smooth(series, SOUGHT / 2);
  return series.values.map((value, i) => value - slow[i]);
}
