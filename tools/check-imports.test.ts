import { expect, test } from 'vitest';
import { checkImports } from './check-imports.ts';
import { importsOf, type SourceFile, sourceFiles } from './source-files.ts';

function file(path: string, text: string): SourceFile {
  return { path, text, imports: importsOf(path, text) };
}

test('an import to the right of the chain is reported with file and line', () => {
  const report = checkImports([
    file('day/channels/a.ts', "\nimport { x } from '../pulls/index.ts';\n"),
    file('day/pulls/index.ts', ''),
  ]);
  expect(report.problems).toEqual(['day/channels/a.ts:2: day/channels must not import day/pulls']);
});

test('a package in a pure ring is reported, and so is a node module', () => {
  const report = checkImports([file('core/numerics/a.ts', "import fs from 'node:fs';\nimport z from 'zod';")]);
  expect(report.problems).toHaveLength(2);
});

test('reaching past the index of another package is reported', () => {
  const report = checkImports([
    file('core/physics/a.ts', "import { f } from '../numerics/fft.ts';"),
    file('core/numerics/fft.ts', ''),
  ]);
  expect(report.problems).toEqual([
    'core/physics/a.ts:1: imports core/numerics/fft.ts instead of core/numerics/index.ts',
  ]);
});

test('a cycle over three files is reported once, a type import counts', () => {
  const report = checkImports([
    file('core/numerics/a.ts', "import './b.ts';"),
    file('core/numerics/b.ts', "import type { C } from './c.ts';"),
    file('core/numerics/c.ts', "export { a } from './a.ts';"),
  ]);
  expect(report.problems).toEqual([
    'cycle: core/numerics/a.ts → core/numerics/b.ts → core/numerics/c.ts → core/numerics/a.ts',
  ]);
});

test('an import over several lines and a dynamic import are seen', () => {
  const seen = importsOf(
    'core/numerics/a.ts',
    "import {\n  a,\n  b,\n} from './b.ts';\nconst c = await import('./c.ts');",
  );
  expect(seen.map(({ target, line }) => `${target}:${line}`)).toEqual(['core/numerics/b.ts:4', 'core/numerics/c.ts:5']);
});

test('the house keeps its own table, and the check really read the house', () => {
  const files = sourceFiles(`${import.meta.dirname}/..`, ['core', 'day', 'shell', 'scenarios', 'tools', 'benchmarks']);
  const report = checkImports(files);
  expect(report.problems).toEqual([]);
  expect(report.files).toBeGreaterThan(100);
});
