import { type DayFacts, daySlipReference, type EntryResult, type OpenEntry } from '../pulls/index.ts';
import { dayLimits } from './day-limits.ts';
import { pullVerdict } from './pull-verdict.ts';
import { type PullScene, pullScene } from './scene/scene.ts';
import type { DayVerdicts, PullVerdict } from './verdict.ts';

/** The day as far as it was computed. rated: entries on the day's clocks. */
export interface DayVerdictsInput {
  readonly facts: DayFacts;
  readonly rated: ReadonlyMap<string, OpenEntry | undefined>;
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
}

/** Verdicts of all pulls. Each is held against the pulls before it only: what comes later was not known when it was made. */
export function dayVerdicts({ facts, rated, results }: DayVerdictsInput): DayVerdicts {
  const { limits, findings } = dayLimits(facts);
  const slip = daySlipReference(rated);
  const before: PullScene[] = [];
  const pulls: PullVerdict[] = [];
  for (const entry of facts.entries) {
    const open = rated.get(entry.id);
    const result = results.get(entry.id);
    if (!open || !result || entry.kind !== 'pull') continue;
    const { factors, chosen } = result.conditions;
    const factorSpread = factors.find(({ rule }) => rule === chosen.rule)?.standardUncertainty;
    result.pulls.forEach((pull, index) => {
      const scene = pullScene({
        ...{ entry: entry.id, record: open.joined.record, pull, segments: open.segments, facts },
        slip: slip.get(entry.id),
        references: [...before].reverse(),
      });
      const verdict = pullVerdict({ scene, index, limits, overruled: entry.overruled, factorSpread });
      before.push(scene);
      pulls.push(verdict);
    });
  }
  return { pulls, findings };
}
