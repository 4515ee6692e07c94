import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';

/** A source file of ours and the relative imports in it, resolved to paths from the root. */
export interface SourceFile {
  readonly path: string;
  readonly text: string;
  readonly imports: readonly { readonly target: string; readonly written: string; readonly line: number }[];
}

const IMPORT =
  /(?:^|\n)\s*(?:import|export)\b[^'"`;]*?\bfrom\s*['"]([^'"]+)['"]|\bimport\s*\(\s*['"]([^'"]+)['"]\s*\)|(?:^|\n)\s*import\s*['"]([^'"]+)['"]/g;

/** Every .ts and .tsx file below the named folders, with its imports. */
export function sourceFiles(root: string, folders: readonly string[]): SourceFile[] {
  return folders
    .flatMap((folder) => walk(join(root, folder)))
    .map((path) => ({ path: relative(root, path), text: readFileSync(path, 'utf8') }))
    .map(({ path, text }) => ({ path, text, imports: importsOf(path, text) }));
}

/** Imports of one file. Only relative ones are resolved; packages keep their name in `written` and an empty target. */
export function importsOf(path: string, text: string): SourceFile['imports'] {
  return [...text.matchAll(IMPORT)].map((match) => {
    const written = match[1] ?? match[2] ?? match[3] ?? '';
    const target = written.startsWith('.') ? join(dirname(path), written) : '';
    return { target, written, line: text.slice(0, match.index + match[0].length).split('\n').length };
  });
}

function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'node_modules' || entry.name === 'dist' ? [] : walk(path);
    return /\.tsx?$/.test(entry.name) && !entry.name.endsWith('.d.ts') ? [path] : [];
  });
}
