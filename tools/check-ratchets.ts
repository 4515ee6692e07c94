import { readFileSync, writeFileSync } from 'node:fs';
import { DEBT } from './import-table.ts';
import { type SourceFile, sourceFiles } from './source-files.ts';

const RATCHET = `${import.meta.dirname}/ratchets.json`;

/** What we want to get rid of, counted. A number may only fall; a fall is written down by `--lower`. */
export function counts(files: readonly SourceFile[]): Record<string, number> {
  const product = files.filter(({ path }) => !/\.test\.tsx?$/.test(path));
  const inAll = (pattern: RegExp, keep: (path: string) => boolean): number =>
    product.filter(({ path }) => keep(path)).reduce((sum, { text }) => sum + (text.match(pattern)?.length ?? 0), 0);
  return {
    'lint suppressions': inAll(/biome-ignore/g, () => true),
    'casts outside quantities and decoders': inAll(
      /\bas (?!const\b)[A-Z{(]\w*/g,
      (path) => !path.startsWith('core/quantities/'),
    ),
    'compiler suppressions': inAll(
      /@ts-(?:ignore|expect-error|nocheck)/g,
      (path) => !path.startsWith('tools/check-ratchets'),
    ),
    'debt rows': DEBT.length,
    'files over 400 lines': product.filter(({ text }) => codeLines(text) > 400).length,
  };
}

/** Lines that are neither blank nor comment. */
function codeLines(text: string): number {
  return text.split('\n').filter((line) => !/^\s*($|\/\/|\/?\*)/.test(line)).length;
}

if (import.meta.main) {
  const files = sourceFiles(`${import.meta.dirname}/..`, ['core', 'day', 'shell', 'scenarios', 'tools', 'benchmarks']);
  const now = counts(files);
  if (process.argv.includes('--lower')) writeFileSync(RATCHET, `${JSON.stringify(now, undefined, 2)}\n`);
  const allowed: Record<string, number> = JSON.parse(readFileSync(RATCHET, 'utf8'));
  for (const [name, count] of Object.entries(now)) {
    const limit = allowed[name] ?? 0;
    if (count > limit) process.exitCode = 1;
    console.log(`ratchet: ${name} ${count} (at most ${limit})${count > limit ? '  ← rose' : ''}`);
  }
}
