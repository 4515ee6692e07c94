import { type KnownDeviation, repeatDeviation } from '../../../../core/numerics/index.ts';
import type { Measured, QuantityKind } from '../../../../core/quantities/index.ts';
import type { Subject } from '../../detector.ts';
import { changedBetween, differingSettings, type HealthEntry } from '../entries.ts';
import type { PullCell } from '../pull-state.ts';
import type { HealthLimits, HealthThresholdName } from '../thresholds.ts';
import { type EqualState, equalState, type StateCell } from './equal-state.ts';
import { type HealthLine, healthLine } from './health-line.ts';

/** What a quantity of a line follows besides engine speed. read: NaN where unknown. */
export interface LineRule {
  readonly name: string;
  readonly slope: Measured;
  readonly read: (cell: PullCell) => number;
}

/** One health line over pulls. read: the response of a cell; repeat: threshold with the deviation of repeats that is believed at first. */
export interface LineSpec {
  readonly name: string;
  readonly subject: Subject;
  readonly kind: QuantityKind;
  readonly worse: HealthLine['worse'];
  readonly repeat: HealthThresholdName;
  readonly read: (cell: PullCell) => number;
  readonly rules: readonly LineRule[];
}

/** A pull or a record as a line sees it. */
export interface LineSource {
  readonly key: string;
  readonly entry: HealthEntry;
  readonly cells: readonly PullCell[];
}

/** A line with the comparison that it came from. sources: as the line's points. */
export interface PullLine {
  readonly line: HealthLine;
  readonly state: EqualState;
  readonly sources: readonly LineSource[];
}

/** Share of pulls that must have a state for a line to be compared at it. @source our default */
const MOST_HAVE = 0.7;
/** Cells that a pull needs to stand on a line. @source our default */
const FEWEST_CELLS = 4;
/** Levels are believed to differ by this many repeats while slopes are learnt: changes of the day are among them. @source our default */
const LOOSELY = 1.5;

/** The line of one quantity over the day at equal engine speed and state; undefined when fewer than two pulls can be compared. */
export function pullLine(
  spec: LineSpec,
  sources: readonly LineSource[],
  { entries, limits }: { readonly entries: readonly HealthEntry[]; readonly limits: HealthLimits },
): PullLine | undefined {
  const having = sources.filter(
    ({ cells }) => cells.filter((cell) => Number.isFinite(spec.read(cell))).length >= FEWEST_CELLS,
  );
  const rules = spec.rules.filter(({ read }) => shareWith(having, read) >= MOST_HAVE);
  const usable = having.filter(({ cells }) =>
    rules.every(({ read }) => cells.some((cell) => Number.isFinite(read(cell)))),
  );
  const cells = usable.flatMap((source) => stateCells(spec, rules, source));
  const repeat = limits[spec.repeat].value;
  const learnt = equalState({ cells, rules, anchor: { random: LOOSELY * repeat }, noise: repeat / 2 });
  if (!learnt) return undefined;
  const known = rules.map((rule, j) => ({ ...rule, slope: notTooSure(learnt.slopes[j], rule.slope) }));
  const points = usable.filter(({ key }) => learnt.keys.includes(key));
  const count = Math.max(1, Math.min(limits['line.baseline'].value, points.length - 1));
  const first = points.slice(0, count).map(({ key }) => key);
  const state = equalState({ cells, rules: known, anchor: { baseline: first }, noise: repeat / 2 });
  if (!state) return undefined;
  const deviation = repeatOf(points, state, { value: repeat, degreesOfFreedom: limits['repeat.weight'].value });
  const line = healthLine(
    {
      ...{ name: spec.name, subject: spec.subject, kind: spec.kind, worse: spec.worse },
      points: points.map(({ entry }) => ({
        ...{ entry: entry.id, clock: entry.clock, block: entry.block },
        changed: points[0] ? changedBetween(entries, points[0].entry, entry) : [],
      })),
      ...{ deviations: state.levels, covariance: state.covariance, baseline: count, repeat: deviation },
      remarks: spec.rules
        .filter((rule) => !rules.includes(rule))
        .map(({ name }) => `not compared at equal ${name}: too few pulls have the channel`),
    },
    limits,
  );
  return { line, state, sources: points };
}

/** What one day taught of a slope holds within that day's range; beyond it the slope bends by so much of what was believed. @source our default */
const BENDS = 0.5;

function notTooSure({ value, standardUncertainty }: Measured, believed: Measured): Measured {
  return { value, standardUncertainty: Math.max(standardUncertainty, BENDS * believed.standardUncertainty) };
}

function shareWith(sources: readonly LineSource[], read: LineRule['read']): number {
  const with_ = sources.filter(({ cells }) => cells.some((cell) => Number.isFinite(read(cell))));
  return sources.length > 0 ? with_.length / sources.length : 0;
}

/** Cells of a pull as a comparison takes them. */
export function stateCells(
  { read }: Pick<LineSpec, 'read'>,
  rules: readonly LineRule[],
  { key, cells }: Pick<LineSource, 'key' | 'cells'>,
): readonly StateCell[] {
  return cells.map((cell) => ({
    ...{ key, step: cell.step, response: read(cell) },
    states: rules.map((rule) => rule.read(cell)),
  }));
}

/** A neighbour further off than this many believed deviations is no repeat but a change that nobody wrote down. @source our default */
const NO_REPEAT = 4;

/** Deviation of a repeat from neighbours without a change between: differences of neighbours do not see a slow drift. */
function repeatOf(points: readonly LineSource[], { levels }: EqualState, prior: KnownDeviation): KnownDeviation {
  const groups: number[][] = [];
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1].entry, points[i].entry];
    const apart = Math.abs(levels[i] - levels[i - 1]);
    if (a.block !== b.block || differingSettings(a, b).length > 0 || apart > NO_REPEAT * prior.value) continue;
    groups.push([levels[i - 1], levels[i]]);
  }
  return repeatDeviation({ groups, prior });
}
