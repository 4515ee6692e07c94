import { expect, test } from 'vitest';
import { counts } from './check-ratchets.ts';

const count = (text: string, name: string): number =>
  counts([{ path: 'shell/desk/a.ts', text, imports: [] }])[name] ?? Number.NaN;

test('a planted cast is counted, the word as in comments, texts and import lists is not', () => {
  expect(count('const a = b as Thing;', 'casts outside quantities')).toBe(1);
  const harmless =
    "/** as UTF-8 */\nimport { A as B } from './b.ts';\nconst a = 'as Thing'; // as Thing\nconst c = [1] as const;";
  expect(count(harmless, 'casts outside quantities')).toBe(0);
});

test('a planted suppression is counted, one for the form of a table is not', () => {
  expect(count('// biome-ignore lint/a: b', 'lint suppressions beside tables')).toBe(1);
  expect(count('// biome-ignore format: a table', 'lint suppressions beside tables')).toBe(0);
});

test('a file of 401 lines is counted, one of 400 is not', () => {
  expect(count('a;\n'.repeat(401), 'files over 400 lines')).toBe(1);
  expect(count('a;\n'.repeat(400), 'files over 400 lines')).toBe(0);
});
