import {
  type DayFacts,
  daySlipReference,
  type EntryResult,
  keptStep,
  type OpenEntry,
  type StepMemory,
} from '../pulls/index.ts';
import { dayLimits } from './day-limits.ts';
import { BELIEVED, isBelieved, pullVerdict } from './pull-verdict.ts';
import { type PullScene, pullScene, type SlipReference, spoiledBy } from './scene/scene.ts';
import type { Limits } from './thresholds.ts';
import type { DayVerdicts, PullVerdict, VerdictInput } from './verdict.ts';

/** The day as far as it was computed. rated: entries on the day's clocks. */
export interface DayVerdictsInput {
  readonly facts: DayFacts;
  readonly rated: ReadonlyMap<string, OpenEntry | undefined>;
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
  /** Keeps the verdicts of pulls of which nothing changed. */
  readonly memory?: StepMemory | undefined;
}

/** Verdicts of all pulls. Each is held against the pulls before it only: what comes later was not known when it was made. */
export function dayVerdicts(input: DayVerdictsInput): DayVerdicts {
  const steps = verdictSteps(input);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** The same, pull by pull, for whoever must give way to others in between. */
export function* verdictSteps(input: DayVerdictsInput): Generator<PullVerdict, DayVerdicts> {
  const { facts, rated, results, memory } = input;
  const { limits, findings } = dayLimits(facts);
  const slip = daySlipReference(rated, memory);
  const { entries: _, ...day } = facts;
  const dayKey = JSON.stringify(day);
  const judged: JudgedPull[] = [];
  for (const [at, entry] of facts.entries.entries()) {
    const open = rated.get(entry.id);
    const result = results.get(entry.id);
    if (!open || !result || entry.kind !== 'pull') continue;
    // What comes later was not known when a pull was made: not even that there is more to come.
    const known = { ...facts, entries: facts.entries.slice(0, at + 1) };
    const key = JSON.stringify([dayKey, known.entries, slip.get(entry.id)]);
    for (const index of result.pulls.keys()) {
      const before = judged.map(({ left }) => left);
      const pull = { open, result, index, before, slip: slip.get(entry.id), facts: known, limits, key };
      const one = judgedPull(pull, memory);
      judged.push(one);
      yield one.verdict;
    }
  }
  return { pulls: judged.map(({ verdict }) => verdict), asked: judged.map(({ asked }) => asked), findings };
}

/** What one verdict is made from. before: pulls before it, the first first. key: facts up to this entry and its slip, as text. */
interface PullInput {
  readonly open: OpenEntry;
  readonly result: EntryResult;
  readonly index: number;
  readonly before: readonly PullScene[];
  readonly slip: SlipReference | undefined;
  readonly facts: DayFacts;
  readonly limits: Limits;
  readonly key: string;
}

/** left: the scene as later pulls look back at it. */
interface JudgedPull {
  readonly verdict: PullVerdict;
  readonly asked: VerdictInput;
  readonly left: PullScene;
}

const judgedPull = keptStep(
  ({ open, result, index, before, slip, facts, limits }: PullInput): JudgedPull => {
    const { factors, chosen } = result.conditions;
    const { id: entry } = open.facts;
    const scene = pullScene({
      ...{ entry, record: open.joined.record, pull: result.pulls[index], segments: open.segments, facts, slip },
      references: [...before].reverse(),
    });
    const overruled = facts.entries.find(({ id }) => id === entry)?.overruled;
    const factorSpread = factors.find(({ rule }) => rule === chosen.rule)?.standardUncertainty;
    const asked = { scene, index, limits, overruled, factorSpread };
    const verdict = pullVerdict(asked);
    return { verdict, asked, left: spoiledBy(scene, faultsOf(verdict)) };
  },
  ({ open, result, index, before, key }, nameOf) =>
    JSON.stringify([nameOf(open), nameOf(result), index, before.map(nameOf), key]),
);

/** Faults that are believed in a pull and that nobody overruled. */
function faultsOf({ occurrences }: PullVerdict) {
  return occurrences
    .filter((one) => one.overruled === undefined && isBelieved(one))
    .flatMap(({ hypotheses }) =>
      hypotheses.filter(({ probability }) => probability >= BELIEVED).map(({ fault }) => fault),
    );
}
