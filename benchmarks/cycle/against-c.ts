import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { USUAL_STEPS, workspace } from '../../core/physics/cycle/closed/workspace.ts';
import { boostedInput } from '../../core/physics/cycle/testing/boosted-input.ts';
import { closedInTypeScript, numbersForC, type Timed } from './closed-input.ts';

const CYCLES = 4000;
const ROUNDS = 7;

export interface AgainstC {
  readonly typescript: Timed;
  readonly c: Timed;
  readonly ratio: number;
}

/** Closed cycles in TypeScript and in C, by turns; the least processor time of each. Undefined without a compiler. */
export function againstC(): AgainstC | undefined {
  if (spawnSync('gcc', ['--version']).status !== 0) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'cycle-'));
  try {
    const program = join(folder, 'closed-cycle');
    execFileSync('gcc', ['-O3', '-o', program, join(import.meta.dirname, 'closed-cycle.c'), '-lm']);
    const input = boostedInput();
    writeFileSync(join(folder, 'input'), numbersForC(input, CYCLES));
    const w = workspace(USUAL_STEPS);
    closedInTypeScript(input, CYCLES, w);
    const own: Timed[] = [];
    const others: Timed[] = [];
    for (let round = 0; round < ROUNDS; round++) {
      own.push(closedInTypeScript(input, CYCLES, w));
      const [work, knock, seconds] = execFileSync(program, [join(folder, 'input')], { encoding: 'utf8' })
        .split(' ')
        .map(Number);
      others.push({ work, knock, seconds });
    }
    const typescript = least(own);
    const c = least(others);
    return { typescript, c, ratio: typescript.seconds / c.seconds };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function least(runs: readonly Timed[]): Timed {
  return runs.reduce((best, run) => (run.seconds < best.seconds ? run : best));
}

export function againstCText(result: AgainstC | undefined): string {
  if (!result) return 'Closed cycle against C: no gcc here, so not measured.';
  const { typescript, c } = result;
  const difference = Math.max(Math.abs(typescript.work / c.work - 1), Math.abs(typescript.knock / c.knock - 1));
  const micro = (seconds: number): string => (seconds * 1e6).toFixed(1);
  return [
    'One closed cycle, same steps and tables, least processor time of seven runs by turns:',
    `  TypeScript ${micro(typescript.seconds)} µs, C (gcc -O3) ${micro(c.seconds)} µs, ratio ${result.ratio.toFixed(2)} (aim 1.30)`,
    `  work and knock integral agree to ${difference.toExponential(1)}`,
  ].join('\n');
}

if (import.meta.main) console.log(againstCText(againstC()));
