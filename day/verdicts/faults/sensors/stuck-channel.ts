import { type Meaning, REASONS } from '../../../channels/index.ts';
import { against, type Detector, informs, windowOf } from '../../detector.ts';
import { lives, withoutChannel } from '../../evidence/consequence.ts';
import { goneIn } from '../../evidence/gone.ts';
import { atScaleEnd, type Hold, longestHold } from '../../evidence/holds.ts';
import { type PullScene, speedAt } from '../../scene/scene.ts';
import { finite, largest } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';
import { swappedPair } from './swapped-channels.ts';

/** What is heavy may rest for a whole pull. @source common practice, no source */
const HEAVY = new Set(['coolant-temperature', 'oil-temperature', 'gearbox-temperature', 'axle-temperature']);
/** Fewest renewals that can show anything. @source our default */
const RENEWALS = 8;
/** A hold must be longer than the longest other one by this, or the channel often rests so: coarse steps, heavy filtering; less for one that is left with a jump. @source our default */
const TIMES_USUAL = { still: 3, jumps: 1.3 } as const;
/** Engine speed must change by this share while a channel keeps its value: load moves. @source our default */
const MOVES = 0.03;

/**
 * A sensor that keeps one value while the engine runs through its speeds, for longer than its own noise and steps ever let it. Commands
 * and targets may rest; so may a coarse or slow sensor that often does.
 *
 * @source one second: common practice, no source; chance: our default
 */
export const stuckChannel: Detector = {
  fault: 'stuck-channel',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['saturated-channel', 'dropout'],
  look: (scene, limits) => {
    const living = [...scene.tracks, ...scene.unusable].filter(
      ({ meaning }) => lives(meaning) && !HEAVY.has(meaning) && !isHeavyBySwap(scene, meaning),
    );
    if (living.length === 0) return { why: 'no channel here must move during a pull' };
    const held = living.flatMap((track) => {
      const hold = longestHold(scene, track);
      return hold && isStuck(scene, limits, { track, hold }) ? [{ track, hold }] : [];
    });
    held.sort((one, other) => other.hold.to - other.hold.from - (one.hold.to - one.hold.from));
    const [worst] = held;
    if (!worst) return { features: [] };
    const features = [
      against(limits, 'stuck.shortest', worst.hold.to - worst.hold.from),
      against(limits, 'stuck.chance', worst.hold.chance),
      ...held.slice(1).map(({ track, hold }) => informs(`also ${track.name}`, hold.to - hold.from, 'time')),
    ];
    const worstClass = held.some(({ track }) => withoutChannel(scene, track).stopClass === 2) ? 2 : 1;
    return {
      windows: [windowOf(scene, worst.hold)],
      features,
      strength: worst.hold.chance < limits['stuck.chance'].value ? 0.9 : 0.6,
      stopClass: worstClass,
      voids: withoutChannel(scene, worst.track).voids,
      channel: worst.track.name,
    };
  },
};

/** A channel that shows what a heavy one measures rests as that does. */
function isHeavyBySwap(scene: PullScene, meaning: Meaning): boolean {
  const pair = swappedPair(scene);
  const places = pair ? [pair.one.meaning, pair.other.meaning] : [];
  return places.includes(meaning) && places.some((place) => HEAVY.has(place));
}

function isStuck(
  scene: PullScene,
  limits: Limits,
  { track, hold }: { readonly track: SceneTrack; readonly hold: Hold },
): boolean {
  if (hold.lasts < limits['stuck.shortest'].value || hold.renewals < RENEWALS) return false;
  if (hold.renewals < TIMES_USUAL[hold.jumps ? 'jumps' : 'still'] * hold.usual) return false;
  // What fell to zero and came back is a dropout.
  if (track.mask[hold.last] === REASONS.dropout) return false;
  if (goneIn(scene, limits, track).some(({ from, to }) => from < hold.to && to > hold.from)) return false;
  if (!loadMoves(scene, hold) || atScaleEnd(scene, track, hold) || isMixtureEnd(limits, { track, hold })) return false;
  // Nothing is known of a channel that never moves in any pull: only what must follow speed is judged then.
  return Number.isNaN(hold.chance) ? FOLLOWS.has(track.meaning) : hold.chance < limits['stuck.chance'].value;
}

/** At the ends of its scale a lambda sensor rests as long as the mixture is beyond them, however it gets there. */
function isMixtureEnd(
  limits: Limits,
  { track: { meaning, raw }, hold: { value } }: { readonly track: SceneTrack; readonly hold: Hold },
): boolean {
  if (meaning !== 'lambda') return false;
  const known = finite(raw);
  const [lowest, highest] = [-largest(known.map((each) => -each)), largest(known)];
  return (
    (value === lowest && value < limits['rich.absolute'].value) ||
    (value === highest && value > limits['wrong-scale.free-air'].value)
  );
}

/** What follows engine speed or load so closely that a constant is impossible. @source common practice, no source */
const FOLLOWS: ReadonlySet<string> = new Set([
  ...['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'air-flow', 'turbo-speed', 'fuel-flow'],
  ...['engine-speed', 'roll-speed', 'wheel-speed', 'vehicle-speed', 'brake-force', 'tractive-force', 'oil-pressure'],
]);

/** So far beside a hold engine speed is looked at [s]. @source our default */
const ASIDE = 0.2;

function loadMoves(scene: PullScene, { from, to }: Hold): boolean {
  // Beside the hold: what is stuck may be engine speed itself.
  const [first, last] = [from - ASIDE, to + ASIDE].map((time) => speedAt(scene, time));
  return !(Math.abs(last / first - 1) < MOVES);
}
