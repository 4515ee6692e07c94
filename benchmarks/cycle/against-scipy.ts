import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { USUAL_STEPS, workspace } from '../../core/physics/cycle/closed/workspace.ts';
import { boostedInput } from '../../core/physics/cycle/testing/boosted-input.ts';
import { closedInTypeScript, numbersForC, type Timed } from './closed-input.ts';

const CYCLES = 5;

export interface AgainstScipy {
  readonly typescript: Timed;
  readonly scipy: Timed;
  readonly factor: number;
}

/** Closed cycles in TypeScript and with SciPy's solve_ivp; processor time. Undefined without SciPy. */
export function againstScipy(): AgainstScipy | undefined {
  if (spawnSync('python3', ['-c', 'import scipy']).status !== 0) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'cycle-'));
  try {
    const input = boostedInput();
    const file = join(folder, 'input');
    writeFileSync(file, numbersForC(input, CYCLES));
    const script = join(import.meta.dirname, 'closed_cycle_scipy.py');
    const [work, seconds] = execFileSync('python3', [script, file, String(CYCLES)], { encoding: 'utf8' })
      .split(' ')
      .map(Number);
    const w = workspace(USUAL_STEPS);
    closedInTypeScript(input, 2000, w);
    const timed = closedInTypeScript(input, 2000, w);
    const typescript = { ...closedInTypeScript(input, CYCLES, w), seconds: timed.seconds };
    return { typescript, scipy: { work, knock: Number.NaN, seconds }, factor: seconds / timed.seconds };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export function againstScipyText(result: AgainstScipy | undefined): string {
  if (!result) return 'Closed cycle against SciPy: no SciPy here, so not measured.';
  const { typescript, scipy, factor } = result;
  return [
    'One closed cycle against SciPy solve_ivp (RK45, relative tolerance 1e-6), processor time:',
    `  TypeScript ${(typescript.seconds * 1e6).toFixed(1)} µs, SciPy ${(scipy.seconds * 1e3).toFixed(1)} ms: ${factor.toFixed(0)} times as fast (aim 100)`,
    `  work agrees to ${Math.abs(scipy.work / typescript.work - 1).toExponential(1)}`,
  ].join('\n');
}

if (import.meta.main) console.log(againstScipyText(againstScipy()));
