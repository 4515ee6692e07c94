import { DEBT, IMPORT_TABLE } from './import-table.ts';
import { type SourceFile, sourceFiles } from './source-files.ts';

export interface ImportReport {
  readonly files: number;
  readonly problems: readonly string[];
}

/** Holds every import against the table, asks for the package index between packages, and finds cycles between files. */
export function checkImports(files: readonly SourceFile[]): ImportReport {
  const known = new Set(files.map((file) => file.path));
  const problems = files.filter((file) => !isTest(file.path)).flatMap((file) => fileProblems(file, known));
  return { files: files.length, problems: [...problems, ...cycles(files)] };
}

function fileProblems(file: SourceFile, known: ReadonlySet<string>): string[] {
  const from = packageOf(file.path);
  return file.imports.flatMap(({ target, written, line }) => {
    const place = `${file.path}:${line}`;
    if (target === '') return isPure(from) ? [`${place}: ${from} must not depend on the package "${written}"`] : [];
    if (!known.has(target))
      return /\.(css|json|svg|js)$/.test(target) ? [] : [`${place}: imports ${target}, which is not there`];
    const to = packageOf(target);
    if (from === undefined || to === undefined || from === to) return [];
    if (DEBT.some((debt) => debt.from === file.path && debt.to === target)) return [];
    if (!IMPORT_TABLE[from]?.includes(to)) return [`${place}: ${from} must not import ${to}`];
    return target === `${to}/index.ts` || to === 'scenarios'
      ? []
      : [`${place}: imports ${target} instead of ${to}/index.ts`];
  });
}

function packageOf(path: string): string | undefined {
  return Object.keys(IMPORT_TABLE).find((name) => path.startsWith(`${name}/`));
}

function isPure(name: string | undefined): boolean {
  return name !== undefined && /^(core|day)\//.test(name);
}

function isTest(path: string): boolean {
  return /\.test\.tsx?$/.test(path) || path.includes('/testing/');
}

/** Depth-first search; each cycle is named once, by its files in order. */
function cycles(files: readonly SourceFile[]): string[] {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const state = new Map<string, 'open' | 'done'>();
  const found: string[] = [];
  const visit = (path: string, trail: readonly string[]): void => {
    if (state.get(path) === 'done') return;
    if (state.get(path) === 'open') {
      found.push(`cycle: ${[...trail.slice(trail.indexOf(path)), path].join(' → ')}`);
      return;
    }
    state.set(path, 'open');
    for (const { target } of byPath.get(path)?.imports ?? []) if (byPath.has(target)) visit(target, [...trail, path]);
    state.set(path, 'done');
  };
  for (const file of files) visit(file.path, []);
  return found;
}

if (import.meta.main) {
  const report = checkImports(
    sourceFiles(`${import.meta.dirname}/..`, ['core', 'day', 'shell', 'scenarios', 'tools', 'benchmarks']),
  );
  for (const problem of report.problems) console.error(problem);
  console.log(`imports: ${report.files} files read, ${report.problems.length} problems`);
  process.exitCode = report.problems.length > 0 || report.files < 20 ? 1 : 0;
}
