import { normalCdf } from '../../../core/numerics/index.ts';
import { kept } from '../scene/memory.ts';
import { type PullScene, speedsAt } from '../scene/scene.ts';
import { finite, largest, middle, smallestStep } from '../scene/series.ts';
import type { SceneTrack } from '../scene/track.ts';

/**
 * The longest stretch of full load in which a channel keeps one value [s], how often it was renewed in it, the value, and the chance that
 * the channel's own noise and steps would make such a stretch [1].
 */
export interface Hold {
  readonly from: number;
  readonly to: number;
  readonly renewals: number;
  /** For how long the value was kept in the middle: half a renewal before its first reading and half a one behind its last [s]. */
  readonly lasts: number;
  readonly value: number;
  readonly chance: number;
  /** Index of its last sample in the track, which may lie behind full load. */
  readonly last: number;
  /** Whether it was left with a jump such as the channel never makes: what it should have shown meanwhile. */
  readonly jumps: boolean;
  /** Renewals of the longest other hold, of another value in this pull or of any in earlier ones: how long the channel rests by itself. */
  readonly usual: number;
}

/** Time around full load in which the channel shows how it usually behaves [s]. @source our default */
const AROUND = 3;
/** Renewals needed elsewhere to know how a channel usually behaves. @source our default */
const KNOWN_FROM = 30;

/**
 * The longest hold of a channel in a pull. How often it keeps its value from one renewal to the next is counted away from the value of the hold, and in
 * earlier pulls; the calmer of the two counts, because a channel may have been filtered, or swapped, since. Where nothing is known of it, chance is NaN.
 *
 * @source a run of n equal renewals among N, each equal to the one before with probability p: N·pⁿ; p by the rule of succession
 */
export const longestHold: (scene: PullScene, track: SceneTrack) => Hold | undefined = kept((scene, track) => {
  const { times, raw, pieces } = track;
  let [from, to] = [-1, -2];
  for (const piece of pieces) {
    for (let start = piece.from; start < piece.to; ) {
      let end = start + 1;
      while (end < piece.to && raw[end] === raw[start]) end++;
      if (
        Number.isFinite(raw[start]) &&
        overlap(scene, times[start], times[end - 1]) > (from < 0 ? 0 : overlap(scene, times[from], times[to]))
      )
        [from, to] = [start, end - 1];
      start = end;
    }
  }
  if (from < 0) return undefined;
  const renewals = to - from + 1;
  const jumps = isLeftWithJump(scene, track, { from, to });
  const { chanceToKeep, all, longest } = keeping(scene, track, { from, to });
  const by = (keeps: number): number => Math.min(1, all * keeps ** (renewals - 1));
  // What chance makes by itself needs no second reason.
  const chance =
    by(chanceToKeep) > LIKELY ? by(chanceToKeep) : by(Math.max(chanceToKeep, chanceToRest(scene, track, { from, to })));
  return {
    from: Math.max(times[from], scene.from),
    to: Math.min(times[to], scene.to),
    renewals,
    lasts: overlap(scene, times[from], times[to]) * (1 + 1 / Math.max(1, renewals - 1)),
    value: raw[from],
    last: to,
    // That of all steps the one behind the hold is by far the largest has a chance of its own.
    chance: all < KNOWN_FROM ? Number.NaN : jumps ? chance / all : chance,
    jumps,
    usual: longest,
  };
});

function overlap(scene: PullScene, from: number, to: number): number {
  return Math.min(to, scene.to) - Math.max(from, scene.from);
}

/** A hold of this chance or more is no sign of anything [1]. @source our default */
const LIKELY = 0.01;
/** Renewals before and after a hold that show whether the channel went anywhere meanwhile, and how coarse its steps must be over its noise. @source our default */
const BESIDE = 8;
const COARSE = 2;

/**
 * How likely one renewal is written as the one before, where coarse steps let a steady channel rest in the middle of one of them: the chance that its noise
 * stays within half a step. Zero where the channel was elsewhere before or after the hold, or its steps are finer than its noise.
 *
 * @source quantised normal noise; steps add a twelfth of their square to what a spread shows: Widrow, IRE Trans. Circuit Theory 3 (1956) 266 (from memory)
 */
function chanceToRest(
  scene: PullScene,
  track: SceneTrack,
  { from, to }: { readonly from: number; readonly to: number },
): number {
  const { raw, noise, times } = track;
  // A channel that other pulls hold finely is not written in coarse steps.
  const step = Math.min(
    ...[track, ...beforeOf(scene, track).map((one) => one.track)].map((one) => smallestStep(one.raw)),
  );
  const before = raw.subarray(Math.max(0, from - BESIDE), from);
  // With the load everything goes, and says nothing of where the channel had been.
  const after = Math.abs(times[to] - scene.to) < LIFT_OFF ? [] : [raw.subarray(to + 1, to + 1 + BESIDE)];
  const beside = [before, ...after].map(middle);
  const stays = beside.every((value) => Math.abs(value - raw[from]) < 1.5 * step);
  const own = Math.sqrt(Math.max(0, noise ** 2 - step ** 2 / 12));
  return stays && step > COARSE * noise ? 2 * normalCdf(step / 2 / own) - 1 : 0;
}

/** Readings behind a hold whose middle is where the channel is then; a jump is so many times the largest of its other steps. @source our default */
const BEHIND = 3;
const LARGER = 1.5;

/** True when a hold within full load is left with a step by far larger than any other of the channel near it. */
function isLeftWithJump(
  scene: PullScene,
  { raw, times }: SceneTrack,
  { from, to }: { readonly from: number; readonly to: number },
): boolean {
  if (!(scene.to - times[to] > LIFT_OFF)) return false;
  const jump = Math.abs(middle(raw.subarray(to + 1, to + 1 + BEHIND)) - raw[to]);
  const others = raw.map((value, i) =>
    times[i] > scene.from && times[i] < scene.to && (i < from || i > to + BEHIND) ? Math.abs(value - raw[i - 1]) : 0,
  );
  const usual = largest(finite(others));
  return usual > 0 && jump > LARGER * usual;
}

interface Keeping {
  readonly equal: number;
  readonly all: number;
  /** Most equal renewals in a row. */
  readonly longest: number;
}

/** How likely a channel keeps its value to the next renewal, by what it does at other values in this pull and in earlier pulls. */
function keeping(
  scene: PullScene,
  track: SceneTrack,
  { from, to }: { readonly from: number; readonly to: number },
): { readonly chanceToKeep: number; readonly all: number; readonly longest: number } {
  const here = counted(track, scene, (i) => (i < from || i > to + 1) && track.raw[i] !== track.raw[from]);
  const before = beforeOf(scene, track)
    .map((one) => countedWhole(one.scene, one.track))
    .reduce(together, { equal: 0, all: 0, longest: 0 });
  const both = together(here, before);
  const known = [here, before].filter(({ all }) => all >= KNOWN_FROM);
  return {
    chanceToKeep: Math.max(...(known.length > 0 ? known : [both]).map(({ equal, all }) => (equal + 1) / (all + 2))),
    all: both.all,
    longest: both.longest,
  };
}

/** The same channel in earlier pulls. */
function beforeOf(
  scene: PullScene,
  track: SceneTrack,
): readonly { readonly scene: PullScene; readonly track: SceneTrack }[] {
  return scene.references.slice(0, 3).flatMap((other) => {
    const same = [...other.tracks, ...other.unusable].find(
      ({ meaning, position, name }) =>
        meaning === track.meaning && position === track.position && (meaning !== 'unknown' || name === track.name),
    );
    return same ? [{ scene: other, track: same }] : [];
  });
}

function together(one: Keeping, other: Keeping): Keeping {
  return {
    equal: one.equal + other.equal,
    all: one.all + other.all,
    longest: Math.max(one.longest, other.longest),
  };
}

/** What a channel does in a whole pull: asked again by every later pull. */
const countedWhole = kept((scene: PullScene, track: SceneTrack) => counted(track, scene, () => true));

function counted({ times, raw, pieces }: SceneTrack, scene: PullScene, use: (index: number) => boolean): Keeping {
  let [equal, all, longest] = [0, 0, 0];
  const [lowest, highest] = [-largest(raw.map((value) => -value)), largest(raw)];
  const [earliest, latest] = [scene.from - AROUND, scene.to + AROUND];
  // Before and after full load a sensor may rest at its end, as lambda does in air.
  const rests = (i: number): boolean =>
    (times[i] < scene.from || times[i] > scene.to) && (raw[i] === lowest || raw[i] === highest);
  for (const piece of pieces) {
    let run = 1;
    for (let i = piece.from + 1; i < piece.to; i++) {
      const counts = times[i] >= earliest && times[i] <= latest && Number.isFinite(raw[i]);
      if (!counts || !use(i) || rests(i)) {
        run = 1;
        continue;
      }
      all += 1;
      run = raw[i] === raw[i - 1] ? run + 1 : 1;
      if (run > 1) equal += 1;
      longest = Math.max(longest, run);
    }
  }
  return { equal, all, longest };
}

/** A released value is left with a jump of more than this share of what the channel moves through; an end of scale is left smoothly. @source our default */
const JUMPS = 0.04;
/** A value that was cut off goes on as fast as it left the end; one that was stuck jumps to where it should be. @source our default */
const AS_FAST = 1.5;
/** Samples behind a hold among which the next two are sought. @source our default */
const SOON = 50;
/** So near to lift-off everything may fall in one step [s]. @source our default */
const LIFT_OFF = 0.4;
/** Engine speed below this share of the pull's highest: the load is long gone. @source our default */
const LONG_GONE = 0.5;
/** What goes with engine speed, not with the load. @source common practice, no source */
const BY_SPEED: ReadonlySet<string> = new Set(['oil-pressure']);

/**
 * True when a hold lies at the end of what the channel ever shows and is left smoothly: the value beyond it is cut off. A hold that is left
 * with a jump, or goes on when the load is long gone, is a stuck value.
 */
export function atScaleEnd(scene: PullScene, { raw, times, meaning }: SceneTrack, hold: Hold): boolean {
  const ends = meaning === 'lambda' ? [1, -1] : [1];
  const known = finite(raw);
  const span = largest(known) + largest(known.map((value) => -value));
  const following = raw.subarray(hold.last + 1, hold.last + 1 + SOON).filter(Number.isFinite);
  const [after = hold.value, next = after] = following;
  // One reading may be its noise's.
  const left = following.length > 0 ? middle(following.subarray(0, BEHIND)) : hold.value;
  const goesOn =
    Math.abs(after - hold.value) < AS_FAST * Math.abs(next - after) && (after - hold.value) * (next - after) > 0;
  const withLoad = Math.abs(times[hold.last] - scene.to) < LIFT_OFF;
  const smoothly = withLoad || goesOn || Math.abs(left - hold.value) < JUMPS * span;
  const [speed] = speedsAt(scene, Float64Array.of(times[hold.last]));
  const slow =
    !BY_SPEED.has(meaning) &&
    speed < LONG_GONE * (scene.pull.segment.highEngineSpeed ?? Number.POSITIVE_INFINITY) &&
    times[hold.last] > scene.to;
  return (
    span > 0 && smoothly && !slow && ends.some((sign) => known.every((value) => !(sign * (value - hold.value) > 0)))
  );
}
