import { powerModel } from '../day/plans/expected/power-model.ts';
import { type MadePull, madeDay } from '../day/plans/expected/testing/invented-pulls.ts';
import type { StepMemory } from '../day/pulls/index.ts';
import { shortfallHealth } from '../day/verdicts/health/shortfall/shortfall.ts';
import { healthLimitsWith } from '../day/verdicts/health/thresholds.ts';
import { KeptSteps } from '../shell/desk/kept-steps.ts';

/**
 * Power expected of each pull of an invented day of 26 pulls, in time of this process: by sensitivities alone (the peer), by the engine model anew,
 * when the last pull arrives, and when nothing changed.
 *
 *     node benchmarks/expected-power.ts      goal: the last pull costs no more than the whole day by sensitivities
 */
const RUNS = 5;
const PULLS: readonly MadePull[] = Array.from({ length: 26 }, (_, i) => ({
  pressure: 160e3 + 1500 * i,
  warmer: i % 5,
  phase: i > 15 ? 3 : 0,
  settings: { 'inlet cam phase': i > 15 ? '3 °' : '0 °' },
}));
const day = madeDay(PULLS);
const limits = healthLimitsWith();

function spent(pulls: number, memory?: StepMemory, byModel = true): number {
  const before = process.cpuUsage();
  const predict = byModel ? powerModel({ facts: day.facts, memory }) : undefined;
  const { shortfalls } = shortfallHealth({ ...day, pulls: day.pulls.slice(0, pulls), limits, predict });
  const { user, system } = process.cpuUsage(before);
  if (shortfalls.length < pulls - 2) throw new Error('pulls without an answer');
  return (user + system) / 1000;
}

const rows: Readonly<Record<string, number[]>> = { sensitivities: [], anew: [], last: [], kept: [] };
for (let run = 0; run < RUNS; run++) {
  const memory = new KeptSteps();
  rows.sensitivities?.push(spent(26, undefined, false));
  rows.anew?.push(spent(26, new KeptSteps()));
  spent(25, memory);
  rows.last?.push(spent(26, memory));
  rows.kept?.push(spent(26, memory));
}
for (const [name, took] of Object.entries(rows)) {
  console.log(
    `${name.padEnd(14)} ${Math.min(...took).toFixed(0)} … ${Math.max(...took).toFixed(0)} ms of ${RUNS} runs`,
  );
}
