import { formatQuantity, type UnitSystem } from '../../../core/quantities/index.ts';
import type { PowerCurve, PullResult } from '../../../day/pulls/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable } from './table.ts';

/** Pulls that stand side by side in one table. @source our default: what a window of 100 characters holds */
const SIDE_BY_SIDE = 4;

/** The visible lines of the chain at each pull's highest power, one column a pull. */
export function chainTables(pulls: readonly PullResult[], style: TextStyle): readonly string[] {
  const known = pulls.filter(({ refusal }) => !refusal);
  const numbered = known.map((pull) => ({ pull, number: pulls.indexOf(pull) + 1 }));
  const several = pulls.length > 1;
  const parts = Array.from({ length: Math.ceil(numbered.length / SIDE_BY_SIDE) }, (_, k) =>
    numbered.slice(k * SIDE_BY_SIDE, (k + 1) * SIDE_BY_SIDE),
  );
  return parts.flatMap((part) => {
    const columns = part.map(({ pull, number }) => chainColumn(pull, style.system, several ? number : undefined));
    const labels = columns[0]?.rows.map(({ label }) => label) ?? [];
    const all = [...new Set([...labels, ...columns.flatMap(({ rows }) => rows.map(({ label }) => label))])];
    const rows = all.map((label) => [
      label,
      ...columns.map((column) => column.rows.find((row) => row.label === label)?.value ?? ''),
    ]);
    const headings = columns.map(({ heading }) => ({ heading, align: 'right' as const }));
    return ['', indented(textTable([{ heading: 'the chain' }, ...headings], rows))];
  });
}

export interface ChainColumn {
  readonly heading: string;
  readonly rows: readonly { readonly label: string; readonly value: string }[];
}

/** The chain of one pull at its highest power: which point that is, and the power of every line. */
export function chainColumn({ curve, peaks }: PullResult, system: UnitSystem, number?: number): ChainColumn {
  const at = bestPoint(curve, peaks);
  const value = (series: Float64Array): number => series[at] ?? Number.NaN;
  const text = (power: number): string => formatQuantity(power, 'power', { system });
  const where = Number.isFinite(value(curve.engineSpeed))
    ? formatQuantity(value(curve.engineSpeed), 'engine-speed')
    : formatQuantity(value(curve.rollSpeed), 'speed', { system });
  const isWhole = curve.rollInertiaPower.every((power) => power === 0);
  const lines: readonly (readonly [string, number])[] = [
    [isWhole ? 'whole force at the roll' : 'taken by the brake', value(curve.brakePower)],
    ...(isWhole ? [] : [['+ speeding up the rolls', value(curve.rollInertiaPower)] as const]),
    ['= roll power', value(curve.rollPower)],
    ['+ slip of the tyre', value(curve.tyrePower) - value(curve.rollPower)],
    ['= wheel power', value(curve.tyrePower)],
    ['+ rolling losses', value(curve.rollingLossPower)],
    ['+ speeding up wheels and shafts', value(curve.wheelInertiaPower)],
    ['+ lost in the gears', value(curve.torqueLossPower)],
    ['+ speeding up the engine', value(curve.engineInertiaPower)],
    ['= engine power', value(curve.enginePower)],
    ...(curve.rule === 'none'
      ? []
      : [[`× ambient factor: ${curve.rule} ${curve.factor.toFixed(4)}`, value(curve.correctedPower)] as const]),
  ];
  return {
    heading: number === undefined ? `at ${where}` : `pull ${number}, ${where}`,
    rows: lines.map(([label, power]) => ({ label, value: text(power) })),
  };
}

/** The point of the highest power that is furthest up the chain. */
function bestPoint(curve: PowerCurve, peaks: PullResult['peaks']): number {
  const order = ['engine power', 'wheel power', 'roll power'];
  const peak = order.flatMap((what) => peaks.find((one) => one.what === what && one.basis === 'curve') ?? [])[0];
  return Math.max(0, curve.time.indexOf(peak?.time ?? Number.NaN));
}
