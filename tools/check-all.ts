import { spawnSync } from 'node:child_process';
import { ensureChromium } from './chromium.ts';

/** Everything a change must pass, in the order that fails fastest. Any argument is handed on to the test runner. */
const steps: readonly { readonly name: string; readonly command: readonly string[] }[] = [
  { name: 'types', command: ['npm', 'run', '--silent', 'types'] },
  { name: 'lint and format', command: ['npm', 'run', '--silent', 'lint'] },
  { name: 'import table and cycles', command: ['node', 'tools/check-imports.ts'] },
  { name: 'ratchets', command: ['node', 'tools/check-ratchets.ts'] },
  { name: 'page build', command: ['npx', 'vite', 'build', '--logLevel', 'warn'] },
  { name: 'tests', command: ['npx', 'vitest', 'run', ...process.argv.slice(2)] },
];

console.log(ensureChromium());
let failed = 0;
for (const { name, command } of steps) {
  const started = performance.now();
  const [program = '', ...words] = command;
  const { status } = spawnSync(program, words, {
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${status === 0 ? 'passed' : 'FAILED'}: ${name} (${seconds} s)`);
  if (status !== 0) failed += 1;
}
console.log(`steps: ${steps.length - failed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
