import { readFileSync, writeFileSync } from 'node:fs';
import { DEBT } from './import-table.ts';
import { type SourceFile, sourceFiles } from './source-files.ts';

const RATCHET = `${import.meta.dirname}/ratchets.json`;

/** What we want to get rid of, counted. An index lists its package's names, one a line, and may be long. A number may only fall; a fall is written down by `--lower`. */
export function counts(files: readonly SourceFile[]): Record<string, number> {
  const product = files.filter(({ path }) => !/\.test\.tsx?$/.test(path) && !path.startsWith('tools/check-ratchets'));
  const inAll = (pattern: RegExp, text: (file: SourceFile) => string): number =>
    product.reduce((sum, file) => sum + (text(file).match(pattern)?.length ?? 0), 0);
  return {
    'lint suppressions beside tables': inAll(/biome-ignore (?!format)/g, ({ text }) => text),
    'casts outside quantities': inAll(/\bas (?!const\b)[A-Z{(]/g, ({ path, text }) =>
      path.startsWith('core/quantities/') ? '' : codeOnly(text),
    ),
    'compiler suppressions': inAll(/@ts-(?:ignore|expect-error|nocheck)/g, ({ text }) => text),
    'debt rows': DEBT.length,
    'files over 400 lines': product.filter(({ path, text }) => !path.endsWith('/index.ts') && codeLines(text) > 400)
      .length,
  };
}

/** Source without comments, texts and import or export lists, where `as` is an ordinary word. */
function codeOnly(text: string): string {
  return text
    .replaceAll(/\/\*[\s\S]*?\*\//g, '')
    .replaceAll(/(^|[^:])\/\/.*$/gm, '$1')
    .replaceAll(/'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/g, "''")
    .replaceAll(/^(?:import|export)\b[^;]*?\bfrom\b/gm, '');
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
