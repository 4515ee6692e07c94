import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { AmbientRuleName } from '../pulls/index.ts';
import type { EntryReport } from './day-report.ts';

/** What the guard looks at: which entry, and under which rule its powers stand. */
export type RuledEntry = Pick<EntryReport, 'facts' | 'result'>;

/**
 * The one ambient rule under which all these entries stand. Corrected powers of different rules are different quantities: they are never
 * set against each other. Entries without any pull have no rule and do not count; without one that counts the rule is `none`.
 *
 * Refusals: `mixed-rules`, naming each rule with its entries.
 */
export function sameRule(entries: readonly RuledEntry[]): Outcome<AmbientRuleName> {
  const byRule = new Map<AmbientRuleName, string[]>();
  for (const { facts, result } of entries) {
    const rules = new Set((result?.pulls ?? []).filter(({ refusal }) => !refusal).map(({ curve }) => curve.rule));
    for (const rule of rules) byRule.set(rule, [...(byRule.get(rule) ?? []), facts.id]);
  }
  const [first, ...others] = byRule.keys();
  if (others.length === 0) return answered(first ?? 'none');
  const parts = [...byRule].map(([rule, ids]) => `${rule} (${ids.join(', ')})`);
  return refused({
    kind: 'mixed-rules',
    message: `ambient rules are mixed: ${parts.join('; ')}; powers under different rules cannot be compared, choose one for all`,
    numbers: { rules: [...byRule.keys()].join(', '), entries: [...byRule.values()].flat().join(', ') },
  });
}
