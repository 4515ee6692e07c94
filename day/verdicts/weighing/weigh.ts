import type { Detection, FaultWindow } from '../detector.ts';
import type { PullScene } from '../scene/scene.ts';
import type { Separation } from '../separation.ts';
import type { Limits } from '../thresholds.ts';
import type { Hypothesis, Occurrence } from '../verdict.ts';
import { nextCheck } from './checks.ts';
import { evidenceFor } from './evidence-text.ts';
import { inseparablePairs } from './inseparable.ts';
import { LIKELIHOODS } from './likelihoods.ts';
import type { Items, WeighingModel } from './model.ts';
import { answersTo } from './questions.ts';
import { stopClassOf, voidsOf, withBlindTwins } from './stop.ts';
import { type WeighedEpisode, weighedEpisodes } from './weighed.ts';

/** A cause less probable than this is not named, unless it is the first. @source our default */
const NAMED = 0.02;

/**
 * What went wrong in a pull, from what every detector said of it. Detections that compete for the same evidence are one occurrence with
 * the probability of each cause; what does not compete stays apart, so that several faults at once are possible. Sums to 1 at most within
 * an occurrence; the rest is the probability that nothing of the kind was there.
 */
export function weigh(scene: PullScene, detections: readonly Detection[], limits: Limits): readonly Occurrence[] {
  return weighWith(LIKELIHOODS, { scene, detections, limits });
}

/** What is weighed: one pull, what was said of it, and the thresholds in force. */
export interface WeighInput {
  readonly scene: PullScene;
  readonly detections: readonly Detection[];
  readonly limits: Limits;
}

/** The same with another model than the one that was learnt. */
export function weighWith(model: WeighingModel, { scene, detections, limits }: WeighInput): readonly Occurrence[] {
  const asked = new Map<Detection, { readonly items: Items; readonly separation: Separation }>();
  const episodes = weighedEpisodes(detections, model, (leader) => {
    const answers = answersTo(scene, windowsOf(leader, scene), limits);
    asked.set(leader, answers);
    return answers.items;
  });
  return episodes.flatMap((episode) => {
    const separation = asked.get(episode.leader)?.separation;
    return separation ? [occurrenceOf(scene, { episode, separation, model })] : [];
  });
}

interface Weighed {
  readonly episode: WeighedEpisode<Detection>;
  readonly separation: Separation;
  readonly model: WeighingModel;
}

function occurrenceOf(scene: PullScene, { episode, separation, model }: Weighed): Occurrence {
  const { items, causes, leader, members } = episode;
  const hypotheses = causes
    .filter(({ probability }, rank) => rank === 0 || probability > NAMED)
    .map(
      ({ of, probability }): Hypothesis => ({
        fault: of.fault,
        probability,
        detection: of,
        evidence: evidenceFor(of.fault, items, { model, candidates: causes.map((cause) => cause.of) }),
      }),
    );
  const first = hypotheses[0].detection;
  const shown = first.answer === 'seen' ? first : leader;
  const counted = withBlindTwins(hypotheses, leader);
  const stopClass = stopClassOf(counted, members);
  const logged = new Set(scene.tracks.map(({ meaning }) => meaning));
  const contenders = hypotheses.map(({ fault }) => fault);
  return {
    windows: windowsOf(shown, scene),
    hypotheses,
    separation,
    inseparable: inseparablePairs({ hypotheses, items, model, logged: (meaning) => logged.has(meaning) }),
    next: nextCheck(contenders, stopClass),
    stopClass,
    voids: voidsOf(counted),
    ...(first.channel === undefined ? {} : { channel: first.channel }),
  };
}

function windowsOf({ windows }: Detection, { from, to }: PullScene): readonly FaultWindow[] {
  return windows.length > 0 ? windows : [{ from, to, lowSpeed: Number.NaN, highSpeed: Number.NaN }];
}
