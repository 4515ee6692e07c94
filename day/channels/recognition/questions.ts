import type { Alternative } from '../mapping.ts';
import { MEANINGS } from '../meanings.ts';
import type { Assessed } from './assessed.ts';
import { BAR, MARGIN } from './bar.ts';
import { countsRows } from './time-column.ts';

/** From this name score on only the unit is asked. @source our default */
const NAMED = 0.6;

/** The sentence to ask about one column: answered from what is at hand, the numbers shown. */
export function questionFor(
  { column, shape, candidates, hypotheses, stated }: Assessed,
  others: readonly Alternative[],
): string {
  const [first] = candidates;
  const title = first ? MEANINGS[first.meaning].title : 'this';
  const span = `values ${shown(shape.lowest)} to ${shown(shape.highest)}`;
  const unit = first?.reading.unitText ?? '';
  if (first?.meaning === 'time' && countsRows(column, shape))
    return `"${column.name}" goes up by one per row: how many rows per second were written?`;
  if (first?.meaning === 'row-counter') return `"${column.name}" counts rows: how many rows per second were written?`;
  if (stated === 'contradicts' && (first?.score ?? 0) < BAR && others.length > 0) {
    return `What is "${column.name}" (${span}): ${joined([...new Set(others.map((other) => MEANINGS[other.meaning].title))].slice(0, 4))}?`;
  }
  if (stated === 'contradicts') {
    const fit = hypotheses
      .toSorted((a, b) => b.weight - a.weight)
      .find((each) => each.unit.symbol !== first?.reading.unit?.symbol);
    return `"${column.name}" says ${unit}, but ${span} do not fit ${title} in ${unit}${fit ? `; they would in ${fit.unit.symbol}` : ''}. Which unit is it?`;
  }
  if (stated === 'foreign')
    return `"${column.name}" is written in ${unit}, which is no unit of ${title} (${span}). What is it, and what is its full value?`;
  const names = [...new Set([title, ...others.map((other) => MEANINGS[other.meaning].title)])];
  const settled =
    (candidates[0]?.score ?? 0) - (candidates[1]?.score ?? 0) > MARGIN && (candidates[0]?.score ?? 0) >= NAMED;
  if (!settled && names.length > 1) return `What is "${column.name}" (${span}): ${joined(names.slice(0, 4))}?`;
  if (hypotheses.some(({ divisor }) => divisor !== 1)) {
    return `"${column.name}" looks like an air-fuel ratio (${span}): for which fuel is it scaled, that is, which value does it show at lambda 1?`;
  }
  const readings = [...new Set(hypotheses.toSorted((a, b) => b.weight - a.weight).map(reading))].slice(0, 4);
  if (readings.length < 2) return `Is "${column.name}" (${span}) ${title} in ${readings[0] ?? 'which unit'}?`;
  return `In which unit is "${column.name}", ${title} (${span}): ${joined(readings)}?`;
}

function reading({ unit, zero }: { unit: { symbol: string }; zero: string | undefined }): string {
  if (!zero) return unit.symbol;
  return zero === 'vacuum' ? `${unit.symbol} absolute` : `${unit.symbol} above ambient`;
}

function joined(texts: readonly string[]): string {
  return texts.length < 2 ? texts.join('') : `${texts.slice(0, -1).join(', ')} or ${texts[texts.length - 1]}`;
}

function shown(value: number): string {
  return Number.isFinite(value) ? String(Number(value.toPrecision(4))) : '–';
}
