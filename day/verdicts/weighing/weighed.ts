import type { Detection } from '../detector.ts';
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

/** Episodes of one pull with their items. answers: what is known of a leader's windows besides what the detectors say. */
export function openEpisodes<Kind extends ToldCandidate>(
  detections: readonly Kind[],
  model: Pick<WeighingModel, 'explains' | 'trust'>,
  answers: (leader: Kind) => Items,
): readonly OpenEpisode<Kind>[] {
  const lookAlikes = lookAlikesOf(detections, model.explains);
  return episodesOf(detections, lookAlikes, model.trust).map((episode, rank, all) => {
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

/** Episodes of one pull, each weighed. */
export function weighedEpisodes<Kind extends ToldCandidate>(
  detections: readonly Kind[],
  model: WeighingModel,
  answers: (leader: Kind) => Items,
): readonly WeighedEpisode<Kind>[] {
  return openEpisodes(detections, model, answers).map((episode) => weighedEpisode(episode, model));
}

/** The leader and its look-alikes, except those that were seen and stand for another episode, and the summary, which a cause of its own explains. */
function candidatesOf<Kind extends ToldCandidate>(
  { leader }: Episode<Kind>,
  {
    detections,
    lookAlikes,
    elsewhere,
  }: { readonly detections: readonly Kind[]; readonly lookAlikes: LookAlikes; readonly elsewhere: readonly Kind[] },
): readonly Kind[] {
  const like = lookAlikes.get(leader.fault);
  const others = detections.filter(({ fault }) => like?.has(fault) === true);
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
