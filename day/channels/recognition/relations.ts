import { median } from '../../../core/numerics/index.ts';
import { toSi } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import type { Column } from '../table.ts';
import type { Hypothesis } from './hypotheses.ts';

/** A column with the ways its numbers can be read; the weights change as the columns are held against one another. */
export interface Weighed {
  readonly column: Column;
  readonly hypotheses: readonly Hypothesis[];
}

/** whole = product of the parts, in SI, wherever the columns are well away from zero. */
interface Relation {
  readonly whole: readonly Meaning[];
  readonly parts: readonly (readonly Meaning[])[];
  readonly says: string;
}

const FORCES: readonly Meaning[] = ['tractive-force', 'brake-force'];

const RELATIONS: readonly Relation[] = [
  { whole: ['stated-power'], parts: [FORCES, ['roll-speed']], says: 'power = force × speed' },
  { whole: ['stated-power'], parts: [['stated-torque'], ['engine-speed']], says: 'power = torque × engine speed' },
  { whole: ['stated-power'], parts: [['roll-torque'], ['roll-rotation']], says: 'power = torque × roll rotation' },
  { whole: ['roll-speed'], parts: [['vehicle-speed', 'wheel-speed']], says: 'both speeds agree' },
  { whole: ['vehicle-speed'], parts: [['wheel-speed']], says: 'both speeds agree' },
];

/**
 * How far a law may miss, as |ln ratio|, and what that does to the weight of a combination of units. The finest step parts hp from PS
 * (1.4 %) but not kW with lbf·ft from PS with N·m (0.3 %): those are asked. @source our default
 */
const AGREEMENT: readonly (readonly [number, number])[] = [
  [0.004, 60],
  [0.015, 10],
  [0.06, 2],
];
const CLOSE = 0.015;
const DISAGREES = 0.4;
/** Samples below this share of the column's own high end are not compared. @source our default */
const SIGNIFICANT = 0.3;
/** Of any length of log, this many rows are compared. @source our default */
const COMPARED = 2000;

/**
 * Holds columns against one another: for each law that ties them, every combination of units is tried and the agreement counted
 * for every column's reading. Where nothing is tied, weights stay.
 */
export function related(columns: readonly Weighed[]): readonly Weighed[] {
  let current = columns;
  for (const relation of RELATIONS) {
    for (const whole of indicesOf(current, relation.whole)) {
      const parts = relation.parts.map((meanings) => indicesOf(current, meanings).find((index) => index !== whole));
      if (parts.every((index) => index !== undefined)) current = held({ columns: current, whole, parts, relation });
    }
  }
  return current;
}

interface Holding {
  readonly columns: readonly Weighed[];
  readonly whole: number;
  readonly parts: readonly number[];
  readonly relation: Relation;
}

function held({ columns, whole, parts, relation }: Holding): readonly Weighed[] {
  const involved = [whole, ...parts].map((index) => columns[index]);
  const ratio = writtenRatio(involved.map(({ column }) => column));
  if (!Number.isFinite(ratio) || ratio <= 0) return columns;
  const shares = involved.map(({ hypotheses }) => hypotheses.map((): number => 0));
  const agreed = involved.map(({ hypotheses }) => hypotheses.map((): boolean => false));
  for (const combination of combinations(involved.map(({ hypotheses }) => hypotheses.length))) {
    const chosen = combination.map((choice, i) => involved[i].hypotheses[choice]);
    const [first, ...rest] = chosen.map(({ unit }) => toSi(1, unit) - toSi(0, unit));
    const k = (ratio * first) / rest.reduce((product, factor) => product * factor, 1);
    const off = Math.abs(Math.log(k));
    const factor = AGREEMENT.find(([limit]) => off < limit)?.[1] ?? DISAGREES;
    const weight = chosen.reduce<number>((product, hypothesis) => product * hypothesis.weight, factor);
    combination.forEach((choice, i) => {
      shares[i][choice] += weight;
      if (off < CLOSE) agreed[i][choice] = true;
    });
  }
  const changed = new Map([whole, ...parts].map((index, i) => [index, { shares: shares[i], agreed: agreed[i] }]));
  return columns.map((each, index) => {
    const change = changed.get(index);
    if (!change) return each;
    return { ...each, hypotheses: reweighed(each.hypotheses, { ...change, says: relation.says }) };
  });
}

interface Change {
  readonly shares: readonly number[];
  readonly agreed: readonly boolean[];
  readonly says: string;
}

function reweighed(hypotheses: readonly Hypothesis[], { shares, agreed, says }: Change): readonly Hypothesis[] {
  const total = shares.reduce((sum, share) => sum + share, 0);
  const before = hypotheses.reduce((sum, { weight }) => sum + weight, 0);
  if (!(total > 0)) return hypotheses;
  return hypotheses.map((hypothesis, i) => ({
    ...hypothesis,
    weight: (before * shares[i]) / total,
    because: agreed[i] ? [...hypothesis.because, `${says} holds in this unit`] : hypothesis.because,
  }));
}

/** Median of whole over product of parts, as written, where all of them are well away from zero. */
function writtenRatio([whole, ...parts]: readonly Column[]): number {
  const all = [whole, ...parts];
  const floors = all.map(({ samples }) => SIGNIFICANT * highEnd(samples));
  const stride = Math.max(1, Math.floor(whole.samples.length / COMPARED));
  const ratios: number[] = [];
  for (let i = 0; i < whole.samples.length; i += stride) {
    if (all.every(({ samples }, k) => samples[i] > floors[k])) {
      ratios.push(whole.samples[i] / parts.reduce((product, { samples }) => product * samples[i], 1));
    }
  }
  return ratios.length < 10 ? Number.NaN : median(ratios, 'skip');
}

function highEnd(samples: Float64Array): number {
  let highest = 0;
  for (const value of samples) if (value > highest) highest = value;
  return highest;
}

function indicesOf(columns: readonly Weighed[], meanings: readonly Meaning[]): readonly number[] {
  return columns.flatMap(({ hypotheses }, index) =>
    hypotheses.length > 0 && meanings.includes(hypotheses[0].meaning) && !hypotheses[0].unit.shift ? [index] : [],
  );
}

function combinations(sizes: readonly number[]): readonly (readonly number[])[] {
  return sizes.reduce<readonly (readonly number[])[]>(
    (rows, size) => rows.flatMap((row) => Array.from({ length: size }, (_, choice) => [...row, choice])),
    [[]],
  );
}
