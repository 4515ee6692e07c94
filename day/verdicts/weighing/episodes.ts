import type { Detection, Fault } from '../detector.ts';
import { type LookAlikes, type Span, SUMMARY, windowsMeet } from './look-alikes.ts';
import { type Items, type Said, saidAt, type WeighingModel } from './model.ts';

/** What an episode needs to know of a detection. */
export interface Told extends Pick<Detection, 'fault' | 'answer' | 'strength'> {
  readonly windows: readonly Span[];
}

/** Detections that compete to explain the same evidence: the one that can be trusted most, and those that it meets. */
export interface Episode<Kind extends Told> {
  readonly leader: Kind;
  readonly members: readonly Kind[];
}

/**
 * Everything that was seen, as episodes: the most trusted detection takes those of its look-alikes whose windows meet its own, then the
 * next; what is known to lead goes before all others. A summary leads only where no cause of its own was seen. What is no look-alike stays an episode of its own in the same windows: several faults at once are possible.
 */
export function episodesOf<Kind extends Told>(
  detections: readonly Kind[],
  lookAlikes: LookAlikes,
  { trust, leads = NONE }: { readonly trust: WeighingModel['trust']; readonly leads?: ReadonlySet<Fault> | undefined },
): readonly Episode<Kind>[] {
  const seen = detections
    .filter(({ answer }) => answer === 'seen')
    .sort(
      (one, other) =>
        Number(one.fault === SUMMARY) - Number(other.fault === SUMMARY) ||
        Number(leads.has(other.fault)) - Number(leads.has(one.fault)) ||
        trustIn(other, trust) - trustIn(one, trust) ||
        (one.fault < other.fault ? -1 : 1),
    );
  const taken = new Set<Fault>();
  const episodes: Episode<Kind>[] = [];
  for (const leader of seen) {
    if (taken.has(leader.fault)) continue;
    const members = seen.filter(
      (one) =>
        !taken.has(one.fault) &&
        (one === leader ||
          (lookAlikes.get(leader.fault)?.has(one.fault) === true && windowsMeet(one.windows, leader.windows))),
    );
    for (const { fault } of members) taken.add(fault);
    episodes.push({ leader, members });
  }
  return episodes;
}

const NONE: ReadonlySet<Fault> = new Set();

/** How far a detection is trusted before anything is weighed [1]: how often it was right on invented days, else its strength. */
function trustIn({ fault, strength }: Told, trust: WeighingModel['trust']): number {
  const learnt = trust[fault];
  return (learnt?.[saidAt(strength)] ?? 0.5) + 0.05 * strength;
}

/** What one detector said about an episode: seen elsewhere is not seen here. Undefined where it cannot tell. */
export function saidOf(detection: Told, windows: Told['windows']): Said | undefined {
  if (detection.answer === 'cannot tell') return undefined;
  if (detection.answer === 'not seen' || !windowsMeet(detection.windows, windows)) return 'no';
  return saidAt(detection.strength);
}

/** Whether something surer was seen in the same pull: one fault sets off detectors of others. @param rank place of the episode, 0 first */
export function companyOf(rank: number): Items {
  return { company: rank === 0 ? 'first' : 'after' };
}
