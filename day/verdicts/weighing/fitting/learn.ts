import type { Fault, Subject } from '../../fault.ts';
import { type Claim, calibrated, fittedLine } from '../calibration.ts';
import type { WeighingModel } from '../model.ts';
import { type OpenEpisode, openEpisodes, type WeighedEpisode, weighedEpisode, weighedEpisodes } from '../weighed.ts';
import { type PullSample, type SaidSample, wasThere } from './samples.ts';
import { countedTables, type Worth } from './tables.ts';

/** A claim of the weighing about one fault in one episode, with whose it was. */
export interface WeighedClaim extends Claim {
  readonly fault: Fault;
  readonly subject: Subject;
  readonly pull: string;
  readonly raw: number;
  /** 0: the first cause of its episode. */
  readonly rank: number;
}

const PLAIN = { slope: 1, intercept: 0 };
/** Shrinkages and worths that are tried, and into how many parts the days are cut to try them. @source our default */
const SHRINKAGES = [0.3, 0.6, 1] as const;
const WORTHS: readonly Worth[] = [3, 10].flatMap((own) => [100, 400, 1200].map((silent) => ({ own, silent })));
const PARTS = 5;
/** Claims below this say nothing; they would only make the calibration look good [1]. @source our default */
const SPOKEN = 0.005;
/** Claims that the calibration of all is worth against a group's own. @source our default */
const GROUP_PRIOR = 15;

/**
 * Everything that weighing knows, learnt from pulls. Shrinkage and calibration are chosen on claims about days that their tables had not
 * seen (the days are cut into five parts), so that they do not flatter themselves.
 */
export function learntModel(pulls: readonly PullSample[], faults: readonly Fault[]): WeighingModel {
  const parts = Array.from({ length: PARTS }, (_, part) => {
    const rest = pulls.filter((pull) => partOf(pull) !== part);
    const held = pulls.filter((pull) => partOf(pull) === part);
    return { rest, open: opened(held, countedTables(rest, faults)) };
  });
  const tried = WORTHS.flatMap((worth) => {
    const folds = parts.map(({ rest, open }) => ({ tables: countedTables(rest, faults, worth), open }));
    return SHRINKAGES.flatMap((said) => SHRINKAGES.map((questions) => ({ said, questions }))).map((shrinkage) => {
      const claims = folds.flatMap(({ tables, open }) =>
        openClaims(open, { ...tables, shrinkage, calibration: { all: PLAIN } }),
      );
      return { worth, shrinkage, claims, loss: lossAfter(claims) };
    });
  }).sort((one, other) => one.loss - other.loss);
  const [{ worth, shrinkage, claims }] = tried;
  return { ...countedTables(pulls, faults, worth), shrinkage, calibration: calibrationOf(claims) };
}

/** What the model claims about pulls, for every cause that it names, against what was there. */
export function claimsOf(pulls: readonly PullSample[], model: WeighingModel): readonly WeighedClaim[] {
  return pulls.flatMap((pull) =>
    weighedEpisodes(pull.said, model, ({ items }) => items ?? {}).flatMap((episode) => claimsIn(pull, episode)),
  );
}

interface Opened {
  readonly pull: PullSample;
  readonly episode: OpenEpisode<SaidSample>;
}

/** Episodes of pulls: who competes with whom depends neither on weights nor on shrinkage. */
function opened(pulls: readonly PullSample[], model: Pick<WeighingModel, 'explains' | 'trust'>): readonly Opened[] {
  return pulls.flatMap((pull) =>
    openEpisodes(pull.said, model, { answers: ({ items }) => items ?? {} }).map((episode) => ({ pull, episode })),
  );
}

function openClaims(open: readonly Opened[], model: WeighingModel): readonly WeighedClaim[] {
  return open.flatMap(({ pull, episode }) => claimsIn(pull, weighedEpisode(episode, model)));
}

function claimsIn(pull: PullSample, { causes, leader }: WeighedEpisode<SaidSample>): readonly WeighedClaim[] {
  return causes.flatMap(({ of, probability, raw }, rank) => {
    if (raw < SPOKEN && rank > 0) return [];
    const right = wasThere(pull, of.fault, of.answer === 'seen' ? of.windows : leader.windows);
    return [{ ...{ fault: of.fault, subject: of.subject, pull: pull.pull, probability, raw, rank }, right }];
  });
}

/** Mean logarithmic loss of raw claims after the best single line. @source logarithmic score: Good, J. R. Stat. Soc. B 14 (1952) 107 */
function lossAfter(claims: readonly WeighedClaim[]): number {
  const line = fittedLine(claims.map((claim) => ({ ...claim, probability: claim.raw })));
  const loss = claims.reduce((sum, { raw, right }) => {
    const told = calibrated(raw, line);
    return sum - Math.log(right ? told : 1 - told);
  }, 0);
  return loss / claims.length;
}

/** One line for all, and one for each subject that is drawn towards it. */
export function calibrationOf(claims: readonly WeighedClaim[]): WeighingModel['calibration'] {
  const raw = claims.map((claim) => ({ ...claim, probability: claim.raw }));
  const all = roundedLine(fittedLine(raw));
  const subjects = [...new Set(raw.map(({ subject }) => subject))];
  const lines = subjects.map((subject): [Subject, typeof all] => [
    subject,
    roundedLine(
      fittedLine(
        raw.filter((claim) => claim.subject === subject),
        all,
        GROUP_PRIOR,
      ),
    ),
  ]);
  return { all, ...Object.fromEntries(lines) };
}

function roundedLine({ slope, intercept }: { readonly slope: number; readonly intercept: number }) {
  return { slope: Number(slope.toFixed(3)), intercept: Number(intercept.toFixed(3)) };
}

/** Part of the days that a pull belongs to; days of one seed stay together. */
function partOf({ seed }: PullSample): number {
  return Math.abs(Math.trunc(seed)) % PARTS;
}
