import { expect, test } from 'vitest';
import type { GateView } from '../../contract/index.ts';
import { gateSentence } from './gate.ts';

const item = { id: 'a', text: '', why: '', source: '' };
type Gate = Pick<GateView, 'items' | 'open' | 'reach'>;
const fine: Gate = { items: [item, { ...item, id: 'b' }], open: [], reach: [] };
const reach = { what: 'speed', kind: 'speed' as const, from: '', limitFrom: '', over: true };

test.each<[string, Gate, number, string, string]>([
  ['nothing seen', fine, 0, 'open', '0 of 2'],
  ['one left', fine, 1, 'open', '1 of 2'],
  ['all seen', fine, 2, 'seen', 'operator’s decision'],
  ['an open finding outweighs a full list', { ...fine, open: [{ entry: 'p', findings: [] }] }, 2, 'hold', 'question'],
  ['a limit outweighs everything', { ...fine, reach: [reach] }, 2, 'hold', 'limit'],
])('%s', (...[, gate, seen, kind, words]) => {
  const sentence = gateSentence(
    { items: [...gate.items], open: [...gate.open], reach: [...gate.reach] } as never,
    seen,
  );
  expect(sentence.kind).toBe(kind);
  expect(sentence.text).toContain(words);
});
