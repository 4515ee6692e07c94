import { at } from '../interpolate.ts';
import { STEP } from '../rig/roll-run.ts';
import { faultDuring } from '../rig/run-truth.ts';
import type { InjectedFault } from '../truth.ts';
import { mostOf } from './built.ts';
import type { Day } from './day.ts';
import { CLEAN_TURBO_SHARE } from './faults-air.ts';
import { MISSED, missedIn, RETARD } from './faults-spark.ts';
import type { VirtualRun } from './run.ts';
import { struckIn } from './truths.ts';

/** From this share of the trade's threshold on a state is recorded: nearly passed is no false alarm, and no miss. */
const NEARLY = 0.8;

/** A state that is a fault by itself, whatever brought it about. size: over the threshold of the trade [1] at a row; lasting: s. */
interface State {
  readonly kind: string;
  readonly lasting: number;
  readonly stopClass: (strength: number) => 0 | 1 | 2 | 3;
  readonly moved: readonly string[];
  readonly size: (row: number) => number;
  /** Looked at from so long after tip-in on, 0.5 when absent; a stretch that lasts longer than `longest` is another fault [s]. */
  readonly from?: number;
  readonly longest?: number;
  /** From this share of the threshold on it is recorded; `NEARLY` when absent. */
  readonly nearly?: number;
  /** Twice the threshold counts although it lasts but so long [s]; `lasting` when absent. */
  readonly grave?: number;
}

/** Light knock that a degree of retard takes away is knock, and need not be found [1]. */
const LIGHT = 0.5;

/** An overshoot comes back within this [s]. @source our default */
const SOON = 2.5;

/**
 * States that the engine truly passed in the full-load part although nobody put them in: engine speed 3 % over the redline, wheel speed over 97 % of its limit,
 * pressure 8 kPa over its target soon after it was reached and back again, mixture 0.04 lean of its target, injectors open for 90 % of the time, 2 % of the
 * firings of a second not lit, timing taken back for knock by a degree. Those that were put in are left to their own
 * record, and so are a pressure that creeps or swings and a mixture whose cause was put in.
 *
 * @source the thresholds: common practice, no source
 */
export function passedStates(made: VirtualRun, day: Day, put: readonly InjectedFault[]): readonly InjectedFault[] {
  const { run, signals } = made;
  const { engine } = day.nature;
  const limit = mostOf(day.clean, (of) => of('turbo')) / CLEAN_TURBO_SHARE;
  const states: readonly State[] = [
    {
      kind: 'over-rev',
      lasting: 0.05,
      stopClass: () => 2,
      moved: ['engine-speed'],
      size: (row) => (at(run.engineSpeed, row) / engine.redline - 1) / 0.03,
    },
    {
      kind: 'turbo-overspeed',
      lasting: 0.2,
      grave: 0.05,
      stopClass: (strength) => (strength > 2 ? 3 : strength >= 1 ? 2 : 0),
      moved: ['turbo-speed'],
      size: (row) => (engine.turbo ? 1 + (at(signals.turbo, row) / limit - 0.97) / 0.05 : 0),
    },
    {
      kind: 'boost-overshoot',
      lasting: 0.1,
      stopClass: () => 1,
      moved: ['manifold-pressure'],
      from: 0,
      longest: SOON,
      size: (row) => (engine.turbo ? (at(signals.map, row) - at(signals.target, row)) / 8e3 : 0),
    },
    {
      kind: 'lean-mixture',
      lasting: 0.3,
      stopClass: () => 1,
      moved: ['lambda'],
      size: (row) =>
        engine.ignition === 'spark' ? (at(signals.lambda, row) - at(signals.lambdaTarget, row)) / 0.04 : 0,
    },
    {
      kind: 'injector-saturation',
      lasting: 0.2,
      stopClass: (strength) => (strength > 2 ? 2 : 1),
      moved: ['injector-duty', 'injector-pulse'],
      size: (row) => 1 + (at(signals.injectorDuty, row) / 0.9 - 1) / 0.1,
    },
    {
      kind: 'knock',
      lasting: 0.1,
      nearly: LIGHT,
      stopClass: (strength) => (strength * RETARD > 6 ? 2 : 1),
      moved: ['knock-level', 'knock-retard', 'knock-count'],
      size: (row) => (engine.ignition === 'spark' ? at(signals.knockRetard, row) / RETARD : 0),
    },
  ];
  const named = new Set(put.map(({ kind }) => kind));
  if (named.has('boost-creep') || named.has('boost-oscillation')) named.add('boost-overshoot');
  if (named.has('pre-ignition')) named.add('knock');
  if (named.has('fuel-pressure-drop') || named.has('injector-saturation')) named.add('lean-mixture');
  const found = states.filter(({ kind }) => !named.has(kind)).flatMap((state) => passed(made, state));
  return put.some(({ kind }) => LEAVES_UNBURNT.has(kind)) ? found : [...found, ...unlit(made)];
}

/** Faults whose failed firings belong to their own record. */
const LEAVES_UNBURNT: ReadonlySet<string> = new Set([
  ...['ignition-breakup', 'spark-energy', 'lost-sync', 'rev-or-torque-cut'],
  ...['lean-mixture', 'rich-mixture', 'fuel-pressure-drop', 'injector-saturation'],
]);

/** From this share on failed firings are recorded: two of one burst are misfire, however seldom it comes. */
const STRUCK = 0.4;

/** Firings whose spark did not get through, although nobody put that in: more pressure or a later spark asked for more voltage than there is. */
function unlit(made: VirtualRun): readonly InjectedFault[] {
  const strength = missedIn(made) / MISSED;
  const struck = strength >= STRUCK ? struckIn(made) : undefined;
  if (!struck) return [];
  const { run } = made;
  const window = { from: run.from + struck.from * STEP, to: run.from + struck.to * STEP };
  const shown = faultDuring(run, { kind: 'ignition-breakup', ...window, size: { missedShare: strength * MISSED } });
  const moved = ['engine-torque', 'lambda', 'exhaust-temperature'];
  return [{ ...shown, strength, variant: 'passed', stopClass: strength * MISSED > 0.1 ? 2 : 1, moved }];
}

/** The longest stretch at full load in which a state lasts, when it lasts long enough. */
function passed({ run }: VirtualRun, state: State): readonly InjectedFault[] {
  const { kind, lasting, stopClass, moved, size, from = 0.5, longest = Number.POSITIVE_INFINITY } = state;
  const { nearly = NEARLY, grave = lasting } = state;
  const first = Math.round((run.tipIn + from - run.from) / STEP);
  const last = Math.round((run.lift - run.from) / STEP);
  let best = { from: 0, to: -1, most: 0 };
  let now = best;
  for (let row = first; row < last; row += 1) {
    const much = size(row);
    if (!(much >= nearly)) {
      now = { from: 0, to: -1, most: 0 };
      continue;
    }
    now = now.to < 0 ? { from: row, to: row, most: much } : { ...now, to: row, most: Math.max(now.most, much) };
    if (now.to - now.from > best.to - best.from) best = now;
  }
  const seconds = (best.to - best.from) * STEP;
  if (seconds < (best.most >= 2 ? grave : lasting) || seconds > longest) return [];
  const window = { from: run.from + best.from * STEP, to: run.from + best.to * STEP };
  const shown = faultDuring(run, { kind, ...window, size: { overThreshold: best.most } });
  return [{ ...shown, strength: best.most, variant: 'passed', stopClass: stopClass(best.most), moved }];
}
