import type { Detection, Fault } from '../detector.ts';
import type { Candidate } from './candidate.ts';
import { companyOf, type Episode, episodesOf, saidOf, type Told } from './episodes.ts';
import { type LookAlikes, lookAlikesOf, SUMMARY } from './look-alikes.ts';
import type { Items, WeighingModel } from './model.ts';
import { calibratedShares, uncalibrated } from './posterior.ts';

/** What weighing needs of a detection; a stored one will do. */
export type ToldCandidate = Told & Candidate & Pick<Detection, 'lookAlikes'>;

/** An episode with everything that is known about it: whose faults could lie behind it, and the answers to all items. */
export interface OpenEpisode<Kind extends ToldCandidate> extends Episode<Kind> {
  readonly candidates: readonly Kind[];
  readonly items: Items;
}

/** The same with the probability of each candidate, the most probable first. raw: before calibration. */
export interface WeighedEpisode<Kind extends ToldCandidate> extends OpenEpisode<Kind> {
  readonly causes: readonly { readonly of: Kind; readonly probability: number; readonly raw: number }[];
}

/** Episodes of one pull with their items. answers: what is known of a leader's windows besides what the detectors say; leads: faults that lead before all others. */
export function openEpisodes<Kind extends ToldCandidate>(
  detections: readonly Kind[],
  { explains, trust }: Pick<WeighingModel, 'explains' | 'trust'>,
  { answers, leads }: { readonly answers: (leader: Kind) => Items; readonly leads?: ReadonlySet<Fault> },
): readonly OpenEpisode<Kind>[] {
  const lookAlikes = lookAlikesOf(detections, explains);
  return episodesOf(detections, lookAlikes, { trust, leads }).map((episode, rank, all) => {
    const elsewhere = all.filter((other) => other !== episode).flatMap(({ members }) => members);
    const candidates = candidatesOf(episode, { detections, lookAlikes, elsewhere });
    const items: Items = {
      ...answers(episode.leader),
      ...companyOf(rank),
      ...saidItems(candidates, episode.leader),
    };
    return { ...episode, candidates, items };
  });
}

/** An episode weighed. */
export function weighedEpisode<Kind extends ToldCandidate>(
  episode: OpenEpisode<Kind>,
  model: WeighingModel,
): WeighedEpisode<Kind> {
  const { candidates, items } = episode;
  const raw = uncalibrated(candidates, items, model);
  const told = calibratedShares(candidates, raw, model);
  const causes = candidates
    .map((of, i) => ({ of, probability: told[i], raw: raw[i] }))
    .sort((one, other) => other.probability - one.probability);
  return { ...episode, causes };
}

/** From here on a cause behind the leader takes the lead itself [1]. @source our default: more likely than not */
const TAKES_THE_LEAD = 0.5;

/**
 * Episodes of one pull, each weighed. Where a member is the likely cause in place of its leader, it leads, and what else looks like it goes with it: a turbocharger's
 * speed that lies sets off more than one detector.
 */
export function weighedEpisodes<Kind extends ToldCandidate>(
  detections: readonly Kind[],
  model: WeighingModel,
  answers: (leader: Kind) => Items,
): readonly WeighedEpisode<Kind>[] {
  const weighed = (leads?: ReadonlySet<Fault>): readonly WeighedEpisode<Kind>[] =>
    openEpisodes(detections, model, { answers, ...(leads && { leads }) }).map((episode) =>
      weighedEpisode(episode, model),
    );
  const first = weighed();
  const leads = first.flatMap(({ causes: [cause], leader }) =>
    cause.of !== leader && cause.of.answer === 'seen' && cause.probability >= TAKES_THE_LEAD ? [cause.of.fault] : [],
  );
  if (leads.length === 0) return first;
  const led = weighed(new Set(leads));
  // What would split an occurrence explains less.
  return led.length <= first.length ? led : first;
}

/**
 * The leader and its look-alikes, except those that were seen and stand for another episode, and the summary, which a cause of its own explains. Beside a summary that
 * leads no cause stands that nobody could look for: it would be behind the same shortfall.
 */
function candidatesOf<Kind extends ToldCandidate>(
  { leader }: Episode<Kind>,
  {
    detections,
    lookAlikes,
    elsewhere,
  }: { readonly detections: readonly Kind[]; readonly lookAlikes: LookAlikes; readonly elsewhere: readonly Kind[] },
): readonly Kind[] {
  const like = lookAlikes.get(leader.fault);
  const others = detections.filter(
    ({ fault, answer }) => like?.has(fault) === true && !(leader.fault === SUMMARY && answer === 'cannot tell'),
  );
  return [leader, ...others.filter((one) => one !== leader && one.fault !== SUMMARY && !elsewhere.includes(one))];
}

/** What the detectors of all candidates say about the leader's windows. */
function saidItems(candidates: readonly Told[], { windows }: Told): Items {
  return Object.fromEntries(
    candidates.flatMap((one) => {
      const said = saidOf(one, windows);
      return said === undefined ? [] : [[`said:${one.fault}`, said]];
    }),
  );
}
