import type { Step } from '../model/engine-model.ts';
import { judgedFrom } from '../model/held.ts';
import { highestPressure } from './applies.ts';
import type { Foresight } from './foresight.ts';
import { ledgerOf } from './ledger.ts';
import type { Limit, LimitName, NextLimit } from './limit.ts';
import { LIMIT_NAMES } from './limits-of.ts';
import { usualSpeeds } from './speeds.ts';
import { outsideAir } from './surroundings.ts';
import { limitOverSweep, passedFrom, type Sweep, sweepOf } from './sweep.ts';

/** @param speeds [rad/s]; default {@link usualSpeeds} */
export interface NextQuestion {
  readonly speeds?: Float64Array;
}

/**
 * Which limit comes first when manifold pressure rises and nothing else changes: for each that can be passed, the pressure at which it is
 * passed with even odds at its worst engine speed. Lowest first.
 *
 *     u(p) = √(u(required)² + u(available)²)/|d(required − available)/dp|
 *
 * Engine speeds at which the turbine cannot hold the pressure, or at which the day's pulls did not yet have it, are left out. The gate itself is
 * at its end only where no engine speed holds the pressure.
 * Without a compressor nothing above the pressure outside is listed. Limits that are not passed up to 1.75 times the step's pressure, and those that cannot be known, are not in the list.
 *
 * @source  root between pressures 5 % apart; JCGM 100:2008, equation 10
 */
export function nextLimitsOf(foresight: Foresight, step: Step, question: NextQuestion = {}): readonly NextLimit[] {
  const speeds = question.speeds ?? usualSpeeds(foresight.model);
  const sweep = sweepOf(foresight, step, speeds);
  const gate = limitOverSweep(foresight, { sweep, step }, 'wastegate authority');
  const found: NextLimit[] = [];
  const outside = outsideAir(step, ledgerOf(foresight.model)).pressure;
  // a pressure that somebody asks for is answered, whoever is to make it
  const highest = Math.max(highestPressure(foresight.model, outside), step.manifoldPressure);
  for (const name of LIMIT_NAMES) {
    const gateItself = name === 'wastegate authority';
    const limits = gateItself ? gate : limitOverSweep(foresight, { sweep, step }, name);
    const next = gateItself ? gateAtItsEnd(foresight, sweep, gate) : nextOf(foresight, sweep, { limits, gate, name });
    if (next && next.manifoldPressure <= highest) found.push(next);
  }
  return found.sort((a, b) => a.manifoldPressure - b.manifoldPressure);
}

interface Swept {
  readonly name: LimitName;
  readonly limits: readonly Limit[];
  readonly gate: readonly Limit[];
}

function nextOf({ model }: Foresight, sweep: Sweep, { limits, gate, name }: Swept): NextLimit | undefined {
  const speeds = sweep.predictions[0].speed;
  let best: NextLimit | undefined;
  for (let i = 0; i < speeds.length; i++) {
    const here = passedAt(sweep, limits, i);
    if (!here || (best && best.manifoldPressure <= here.manifoldPressure)) continue;
    // below the boost threshold an engine speed is no worst case: the pressure does not come about there
    const judged = judgedFrom(model, Math.max(here.manifoldPressure, here.everywhere ? sweep.pressures[sweep.own] : 0));
    if (!isHeld(gate[here.index], i) || speeds[i] < judged) continue;
    const { index: _index, ...rest } = here;
    best = { name, speed: speeds[i], assumed: limits[0].assumed, ...rest };
  }
  return best;
}

/**
 * Pressure that the turbine cannot hold with the gate shut at any engine speed: the gate is truly at its end. That only low speeds lack it is
 * the boost threshold, which every engine has. What pulls of the day held is no end, whatever the balance says.
 */
function gateAtItsEnd({ model }: Foresight, sweep: Sweep, gate: readonly Limit[]): NextLimit | undefined {
  const speeds = sweep.predictions[0].speed;
  let last: NextLimit | undefined;
  for (let i = 0; i < speeds.length; i++) {
    if (gate.every(({ required, available }) => Number.isNaN(required[i] / available[i]))) continue;
    const here = passedAt(sweep, gate, i);
    if (!here) return undefined;
    if (last && last.manifoldPressure >= here.manifoldPressure) continue;
    const { index: _index, ...rest } = here;
    last = { name: 'wastegate authority', speed: speeds[i], assumed: gate[0].assumed, ...rest };
  }
  const held = model.held?.[model.held.length - 1]?.pressure ?? 0;
  return last && last.everywhere !== true && last.manifoldPressure > held ? last : undefined;
}

/** Whether the turbine can hold the pressure at an engine speed; taken as so where nothing is known of it. */
function isHeld(gate: Limit, i: number): boolean {
  return !(gate.required[i] > gate.available[i]);
}

/** index: of the pressure of the sweep at which, or just below which, the limit is passed. */
type Passed = Pick<NextLimit, 'manifoldPressure' | 'standardUncertainty' | 'everywhere'> & { readonly index: number };

function passedAt(sweep: Sweep, limits: readonly Limit[], i: number): Passed | undefined {
  // use of the limit: near straight over pressure, where its margin is not
  const passed = passedFrom(
    sweep,
    limits.map(({ required, available }) => required[i] / available[i] - 1),
  );
  if (!passed) return undefined;
  if (passed.kind === 'everywhere') {
    const { index } = passed;
    return {
      manifoldPressure: sweep.pressures[index],
      standardUncertainty: Number.NaN,
      everywhere: true,
      index: sweep.own,
    };
  }
  const spread = (limit: Limit): number =>
    Math.hypot(limit.requiredUncertainty[i], limit.availableUncertainty[i]) / limit.available[i];
  const { index, share, slope, pressure } = passed.crossing;
  const there = (1 - share) * spread(limits[index]) + share * spread(limits[index + 1]);
  return { manifoldPressure: pressure, standardUncertainty: there / slope, index };
}
