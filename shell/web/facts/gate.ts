import type { GateView } from '../../contract/index.ts';

/** Where the list stands. It never says that a pull is safe. */
export function gateSentence(
  gate: Pick<GateView, 'items' | 'open' | 'reach' | 'stop'>,
  seen: number,
): { readonly kind: 'hold' | 'open' | 'seen'; readonly text: string } {
  if (gate.stop) return { kind: 'hold', text: `${gate.stop.stop.word.toUpperCase()}. ${gate.stop.stop.meaning}` };
  if (gate.reach.some(({ over }) => over))
    return { kind: 'hold', text: 'Hold: a limit of the roller was exceeded today.' };
  if (gate.open.length > 0)
    return { kind: 'hold', text: 'Hold: the last pull left a question that wants an answer first.' };
  const left = gate.items.length - seen;
  if (left > 0) return { kind: 'open', text: `${seen} of ${gate.items.length} seen.` };
  return { kind: 'seen', text: `All ${gate.items.length} seen. Whether to pull is the operator’s decision.` };
}
