import {
  answered,
  type Finding,
  type Outcome,
  type Refusal,
  refused,
  toSi,
  type Unit,
  unitNamed,
} from '../../quantities/index.ts';
import { DRY_AIR_GAS_CONSTANT } from '../air/density.ts';
import type { GasState } from './corrected-flow.ts';

/** One column of a table with the unit it is written in. Missing values are NaN. */
export interface MapColumn {
  readonly values: ArrayLike<number>;
  /** Such as `krpm`, `kg/s`, `lb/min`, `m³/s`, `%`; empty for a plain ratio. */
  readonly unit: string;
}

/** Rows of a compressor map in any order; all columns equally long. */
export interface MapColumns {
  /** Corrected shaft speed. */
  readonly speed: MapColumn;
  /** Corrected mass flow, or the volume flow at the reference state. */
  readonly flow: MapColumn;
  readonly pressureRatio: MapColumn;
  /** Isentropic, total to total; may be absent, or missing in some rows. */
  readonly efficiency?: MapColumn;
}

/** One measured speed line from the surge side to the choke side, SI. */
export interface SpeedLine {
  readonly speed: number;
  readonly flow: Float64Array;
  readonly pressureRatio: Float64Array;
  readonly efficiency: Float64Array;
}

/** Rows whose speeds differ by less than this belong to one line [1]. @source our default; measured lines are held to about ± 1 % */
export const SAME_LINE = 0.02;

/**
 * Speed lines of a map from its columns, slowest first, each sorted from surge to choke, in SI.
 *
 * Refuses an unknown unit, columns of unequal length, a row that is no state of a compressor, a line of fewer than three points,
 * fewer than two lines. Says when a line's rows were run at speeds more than a quarter of {@link SAME_LINE} apart.
 */
export function speedLines(columns: MapColumns, reference: GasState): Outcome<readonly SpeedLine[]> {
  const rows = mapRows(columns, reference);
  if (!rows.ok) return rows;
  const groups = groupsOfSpeed(rows.value);
  const findings: Finding[] = [];
  for (const group of groups) {
    const speeds = group.map(({ speed }) => speed);
    const [low, high] = [Math.min(...speeds), Math.max(...speeds)];
    const numbers = { speed: low, highest: high, rows: group.length };
    if (group.length < 3) {
      return refused({ kind: 'map-line-too-short', message: 'invalid speed line: expected at least 3 rows', numbers });
    }
    if (high / low - 1 > SAME_LINE / 4) {
      findings.push({ kind: 'map-line-spread', weight: 'note', message: 'rows of one line differ in speed', numbers });
    }
  }
  if (groups.length < 2) {
    const numbers = { lines: groups.length };
    return refused({ kind: 'map-too-few-lines', message: 'invalid map: expected at least 2 speed lines', numbers });
  }
  return answered(groups.map(lineOf), findings);
}

interface Row {
  readonly speed: number;
  readonly flow: number;
  readonly pressureRatio: number;
  readonly efficiency: number;
}

function mapRows(columns: MapColumns, reference: GasState): Outcome<readonly Row[]> {
  const speed = inSi(columns.speed, ['rotation']);
  const flow = inSi(columns.flow, ['mass-flow', 'volume-flow']);
  const pressureRatio = inSi(columns.pressureRatio, ['ratio']);
  const efficiency = inSi(columns.efficiency ?? { values: [], unit: '' }, ['ratio']);
  if (!speed.ok) return speed;
  if (!flow.ok) return flow;
  if (!pressureRatio.ok) return pressureRatio;
  if (!efficiency.ok) return efficiency;
  const n = speed.value.values.length;
  const lengths = { speed: n, flow: flow.value.values.length, pressureRatio: pressureRatio.value.values.length };
  const odd = columns.efficiency ? efficiency.value.values.length : n;
  if (lengths.flow !== n || lengths.pressureRatio !== n || odd !== n) {
    return refused({ kind: 'map-columns-unequal', message: 'invalid map: columns differ in length', numbers: lengths });
  }
  const density = reference.pressure / (DRY_AIR_GAS_CONSTANT * reference.temperature);
  const scale = flow.value.unit?.dimension === 'volume-flow' ? density : 1;
  const rows: Row[] = [];
  for (let i = 0; i < n; i++) {
    const row = {
      speed: speed.value.values[i],
      flow: flow.value.values[i] * scale,
      pressureRatio: pressureRatio.value.values[i],
      efficiency: columns.efficiency ? efficiency.value.values[i] : Number.NaN,
    };
    const refusal = rowRefusal(row, i + 1);
    if (refusal) return refused(refusal);
    rows.push(row);
  }
  return answered(rows);
}

function rowRefusal({ speed, flow, pressureRatio, efficiency }: Row, line: number): Refusal | undefined {
  const wrong = (name: string, value: number, expected: string): Refusal => ({
    kind: 'map-row-invalid',
    message: `invalid ${name}: ${value}, expected ${expected}`,
    place: { line },
    numbers: { value },
  });
  if (!(speed > 0 && speed < Number.POSITIVE_INFINITY)) return wrong('speed', speed, 'above 0');
  if (!(flow > 0 && flow < Number.POSITIVE_INFINITY)) return wrong('flow', flow, 'above 0');
  if (!(pressureRatio > 0.5 && pressureRatio < 20)) return wrong('pressure ratio', pressureRatio, '0.5 to 20');
  if (efficiency <= 0 || efficiency > 1) return wrong('efficiency', efficiency, '0 to 1');
  return undefined;
}

interface SiColumn {
  readonly values: Float64Array;
  readonly unit: Unit | undefined;
}

function inSi({ values, unit }: MapColumn, dimensions: readonly string[]): Outcome<SiColumn> {
  const found = unitNamed(unit);
  if (found === undefined && unit.trim() === '' && dimensions.includes('ratio')) {
    return answered({ values: Float64Array.from(values), unit: undefined });
  }
  if (found === undefined || !dimensions.includes(found.dimension)) {
    const numbers = { unit, expected: dimensions.join(' or ') };
    return refused({ kind: 'map-unit-unknown', message: `unknown unit: ${unit}`, numbers });
  }
  return answered({ values: Float64Array.from(values, (value) => toSi(value, found)), unit: found });
}

function groupsOfSpeed(rows: readonly Row[]): Row[][] {
  const groups: Row[][] = [];
  for (const row of [...rows].sort((a, b) => a.speed - b.speed)) {
    const open = groups.at(-1);
    if (open && row.speed <= open[0].speed * (1 + SAME_LINE)) open.push(row);
    else groups.push([row]);
  }
  return groups;
}

function lineOf(rows: readonly Row[]): SpeedLine {
  const sorted = [...rows].sort((a, b) => a.flow - b.flow || b.pressureRatio - a.pressureRatio);
  return {
    speed: rows.reduce((sum, { speed }) => sum + speed, 0) / rows.length,
    flow: Float64Array.from(sorted, ({ flow }) => flow),
    pressureRatio: Float64Array.from(sorted, ({ pressureRatio }) => pressureRatio),
    efficiency: Float64Array.from(sorted, ({ efficiency }) => efficiency),
  };
}
