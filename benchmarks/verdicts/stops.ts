import { wilson } from '../../day/verdicts/weighing/calibration.ts';
import type { WeighingModel } from '../../day/verdicts/weighing/model.ts';
import { stopClassOf, withBlindTwins } from '../../day/verdicts/weighing/stop.ts';
import { weighedEpisodes } from '../../day/verdicts/weighing/weighed.ts';
import { FULL, REACHED } from './reached.ts';
import type { MeasuredPull, MeasuredSaid } from './samples.ts';

/** A cause less probable than this is not named in a verdict and stops nothing, unless it is the first. */
const NAMED = 0.02;

/** How often something was so, with the 95 % interval of its share. */
export interface Count {
  readonly hits: number;
  readonly of: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Stops called for against stops deserved, pull by pull. held: pulls with a fault of class 2 or 3 at ×1 and above whose channels were there, in which a
 * hold or an end was called for; ended: the same of class 3 and an end; falseHolds: pulls without a fault in which a stop was called for.
 */
export interface StopScore {
  readonly held: Count;
  readonly ended: Count;
  readonly falseHolds: Count;
}

/** Scores the stops of a set of pulls under a model. */
export function stopScore(pulls: readonly MeasuredPull[], model: WeighingModel): StopScore {
  const told = pulls.map((pull) => ({ pull, said: stopIn(pull, model), deserved: deservedIn(pull) }));
  const clean = told.filter(({ pull }) => pull.truths.length === 0);
  const [grave, gravest] = [2, 3].map((least) => told.filter(({ deserved }) => deserved >= least));
  return {
    held: counted(grave, ({ said }) => said >= 2),
    ended: counted(gravest, ({ said }) => said === 3),
    falseHolds: counted(clean, ({ said }) => said >= 2),
  };
}

function counted<One>(all: readonly One[], is: (one: One) => boolean): Count {
  const hits = all.filter(is).length;
  return { hits, of: all.length, ...wilson(hits, all.length) };
}

/** The stop that a pull's verdict calls for. */
export function stopIn(pull: MeasuredPull, model: WeighingModel): number {
  const episodes = weighedEpisodes<MeasuredSaid>(pull.said, model, ({ items }) => items ?? {});
  const classes = episodes.map(({ leader, causes, members }) => {
    const named = causes.filter(({ probability }, rank) => rank === 0 || probability > NAMED);
    const hypotheses = named.map(({ of, probability }) => ({
      probability,
      detection: {
        fault: of.fault,
        answer: of.answer,
        missing: of.missing,
        stopClass: of.stopClass,
        voids: 'nothing' as const,
      },
    }));
    return stopClassOf(withBlindTwins(hypotheses, { ...leader, voids: 'nothing' }), members);
  });
  return Math.max(0, ...classes);
}

function deservedIn({ truths, blind }: MeasuredPull): number {
  const seen = truths.filter(({ fault, strength }) => strength >= REACHED * FULL && !blind.includes(fault));
  return Math.max(0, ...seen.map(({ stopClass }) => stopClass));
}

/** The score in a sentence each. */
export function stopLines({ held, ended, falseHolds }: StopScore): readonly string[] {
  const share = ({ hits, of, low, high }: Count): string =>
    of === 0
      ? '0 of 0'
      : `${hits} of ${of} (${((100 * hits) / of).toFixed(1)} %; ${(100 * low).toFixed(1)}–${(100 * high).toFixed(1)} %, 95 %)`;
  return [
    `Stops: a hold or an end was called for in ${share(held)} pulls that deserve one (class 2 or 3 at ×1 and above, channels present); an end in ${share(ended)} that deserve it.`,
    `Stops without a cause: in ${share(falseHolds)} clean and decoy pulls.`,
  ];
}
