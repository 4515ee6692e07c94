import { against, type Detector, type Feature, informs, windowOf } from '../../detector.ts';
import { SPEED_STEP } from '../../evidence/by-speed.ts';
import { type KnockEvent, type KnockEvidence, knockEvidence } from '../../evidence/knock.ts';
import { heldAgainst } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { gridOf, type PullScene, sceneTrack, speedAt, tracksAt } from '../../scene/scene.ts';
import { largest, middle, smooth } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';
import { BY_NATURE } from './knock.ts';

/** Exhaust temperature is late by its own lag: it is looked at this long behind the events [s]. @source our default */
const LATE = 1.5;
/** Share of the cooling limit from which on exhaust temperature hints at it: retard alone would have made it rise. @source 8–15 K per degree of retard: common practice, no source; the share: our default */
const HINT = 1 / 3;
/** A single violent event belongs to the lower part of the pull, where pressure is high and the piston slow [1]. @source common practice, no source */
const LOWER_PART = 0.5;

/**
 * Pre-ignition: knock that goes on at full strength although timing was taken back, most surely with exhaust temperature falling; or one
 * violent event on a single cylinder at low speed and high pressure.
 *
 * @source signs: common practice, no source; figures: our default
 */
export const preIgnition: Detector = {
  fault: 'pre-ignition',
  subject: 'knock',
  needs: ['knock-level'],
  lookAlikes: ['knock', 'valve-float'],
  look: (scene, limits) => {
    if (scene.facts.engine.ignition === 'compression') return { why: BY_NATURE };
    const evidence = knockEvidence(scene, limits);
    const heard = (evidence.events ?? []).flat();
    if ((evidence.events ?? []).length === 0 || tracksAt(scene, 'knock-level').every(({ rate }) => rate < 15))
      return { why: 'knock level is renewed too slowly to show single events (from 15 times a second)' };
    const deaf = unanswered(evidence, heard, limits['pre-ignition.retard'].value);
    const beyond = unanswered(evidence, heard, limits['knock.heavy-retard'].value);
    const violent = heard.filter(
      ({ times, time }) =>
        times > limits['pre-ignition.single'].value && time < scene.from + LOWER_PART * (scene.to - scene.from),
    );
    const moments = deaf.events.length > 0 ? deaf.events : violent;
    const cooling = moments.length > 0 ? coolingOf(scene, limits, moments) : Number.NaN;
    const features: Feature[] = [
      against(limits, 'pre-ignition.events', deaf.events.length),
      against(limits, 'pre-ignition.single', Math.max(0, largest(heard.map(({ times }) => times)))),
      ...(Number.isFinite(deaf.keeps) ? [against(limits, 'pre-ignition.keeps', deaf.keeps)] : []),
      ...(Number.isFinite(cooling) ? [against(limits, 'pre-ignition.cooling', cooling)] : []),
    ];
    const cools = cooling > limits['pre-ignition.cooling'].value;
    // Hotter exhaust is what retard does to a charge that the spark lights: the knock is then the ordinary kind, only not yet answered.
    const warms = -cooling > limits['pre-ignition.cooling'].value;
    // Without a hint of cooling, only knock that goes on where retard has ended every ordinary one: a few degrees may just not have been enough.
    const { events, keeps } = cooling > HINT * limits['pre-ignition.cooling'].value ? deaf : beyond;
    const goesOn =
      events.length >= limits['pre-ignition.events'].value && keeps > limits['pre-ignition.keeps'].value && !warms;
    const alone = violent.length > 0 && new Set(violent.map(({ channel }) => channel)).size === 1;
    if (!goesOn && !alone && !(cools && heard.length >= limits['pre-ignition.events'].value)) {
      return heard.length > 1 && !evidence.retard
        ? { why: 'there are knock events, but no retard channel to show whether they react', missing: ['knock-retard'] }
        : { features };
    }
    const at = moments.length > 0 ? moments : heard;
    const [from, to] = [Math.min(...at.map(({ time }) => time)), Math.max(...at.map(({ time }) => time))];
    return {
      windows: [windowOf(scene, { from, to: Math.max(to, from + 0.05) })],
      features: [...features, informs('loud events', heard.length, 'count')],
      strength: (goesOn ? 0.77 : 0.72) + (cools ? 0.15 : 0) + (goesOn && alone ? 0.05 : 0),
      stopClass: 3,
      voids: 'power',
    };
  },
};

/** Events while timing had already been taken back by a limit [rad], and how loud they are against those before it [1]. */
function unanswered(
  { retard }: KnockEvidence,
  heard: readonly KnockEvent[],
  limit: number,
): { readonly events: readonly KnockEvent[]; readonly keeps: number } {
  if (!retard) return { events: [], keeps: Number.NaN };
  const step = retard.times[1] - retard.times[0];
  const taken = ({ time }: KnockEvent): number => retard.grown[Math.round((time - retard.times[0]) / step)] ?? 0;
  const events = heard.filter((event) => taken(event) >= limit);
  const before = middle(heard.filter((event) => taken(event) < limit).map(({ times }) => times));
  const after = middle(events.map(({ times }) => times));
  return { events, keeps: Number.isFinite(before) ? after / before : 1 };
}

/**
 * How far exhaust temperature is below what earlier pulls had at the engine speeds of the events, or where none is known, below what it was at the first of
 * them [K]; NaN where none is logged. In a pull it rises by itself, so that the other pulls know better.
 */
function coolingOf(scene: PullScene, limits: Limits, events: readonly KnockEvent[]): number {
  const moments = events.map(({ time }) => time);
  const first = Math.min(...moments);
  const last = Math.min(scene.to, Math.max(...moments) + LATE);
  const usual = heldAgainst(scene, limits, { meaning: 'exhaust-temperature', spoiling: SPOILS });
  if (usual) {
    const [low, high] = [Math.min(last, first + LATE), last].map((time) => speedAt(scene, time));
    const below = usual.here.flatMap((here, i) =>
      usual.speed[i] >= low - SPEED_STEP && usual.speed[i] <= high + SPEED_STEP ? [usual.there[i] - here] : [],
    );
    if (below.length > 0) return middle(below);
  }
  const falls = tracksAt(scene, 'exhaust-temperature').map((track) => {
    const times = gridOf(scene, 20, { from: Math.max(scene.from, first - 0.5), to: last });
    const values = smooth({ times, values: onTimes(track, times) }, 1);
    return largest(values.subarray(0, 10)) - middle(values.slice(-6));
  });
  return falls.length > 0 && sceneTrack(scene, 'exhaust-temperature') ? largest(falls) : Number.NaN;
}

/** Faults that move exhaust temperature: such a pull is no measure. @source common practice, no source */
const SPOILS: readonly Fault[] = ['knock', 'pre-ignition', 'lean-mixture', 'rich-mixture', 'ignition-breakup'];
