import { expect, it } from 'vitest';
import { formatFiles, formatFilesThere } from './write-schema.ts';

it('finds the published schema and key tables up to date (else run: node tools/write-schema.ts)', () => {
  const there = formatFilesThere();
  expect(formatFiles(there.page)).toEqual(there);
});

it('notices a page that is stale', () => {
  const there = formatFilesThere();
  const stale = there.page.replace('| `tyre radius:', '| `tyre size:');
  expect(stale).not.toBe(there.page);
  expect(formatFiles(stale).page).toBe(there.page);
});
