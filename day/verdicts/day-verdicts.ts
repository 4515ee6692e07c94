import { type DayFacts, daySlipReference, type EntryResult, type OpenEntry } from '../pulls/index.ts';
import { dayLimits } from './day-limits.ts';
import { BELIEVED, isBelieved, pullVerdict } from './pull-verdict.ts';
import { type PullScene, pullScene, spoiledBy } from './scene/scene.ts';
import type { DayVerdicts, PullVerdict, VerdictInput } from './verdict.ts';

/** The day as far as it was computed. rated: entries on the day's clocks. */
export interface DayVerdictsInput {
  readonly facts: DayFacts;
  readonly rated: ReadonlyMap<string, OpenEntry | undefined>;
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
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
export function* verdictSteps({ facts, rated, results }: DayVerdictsInput): Generator<PullVerdict, DayVerdicts> {
  const { limits, findings } = dayLimits(facts);
  const slip = daySlipReference(rated);
  const before: PullScene[] = [];
  const pulls: PullVerdict[] = [];
  const asked: VerdictInput[] = [];
  for (const entry of facts.entries) {
    const open = rated.get(entry.id);
    const result = results.get(entry.id);
    if (!open || !result || entry.kind !== 'pull') continue;
    const { factors, chosen } = result.conditions;
    const factorSpread = factors.find(({ rule }) => rule === chosen.rule)?.standardUncertainty;
    for (const [index, pull] of result.pulls.entries()) {
      const scene = pullScene({
        ...{ entry: entry.id, record: open.joined.record, pull, segments: open.segments, facts },
        slip: slip.get(entry.id),
        references: [...before].reverse(),
      });
      const question = { scene, index, limits, overruled: entry.overruled, factorSpread };
      const verdict = pullVerdict(question);
      asked.push(question);
      before.push(spoiledBy(scene, faultsOf(verdict)));
      pulls.push(verdict);
      yield verdict;
    }
  }
  return { pulls, asked, findings };
}

/** Faults that are believed in a pull and that nobody overruled. */
function faultsOf({ occurrences }: PullVerdict) {
  return occurrences
    .filter((one) => one.overruled === undefined && isBelieved(one))
    .flatMap(({ hypotheses }) =>
      hypotheses.filter(({ probability }) => probability >= BELIEVED).map(({ fault }) => fault),
    );
}
