import type { Column } from '../table.ts';

/** Columns that hold the same numbers as an earlier one: index of the copy to index of the first. Constant columns do not count. */
export function twinsOf(columns: readonly Column[]): ReadonlyMap<number, number> {
  const firsts = new Map<string, number[]>();
  const twins = new Map<number, number>();
  columns.forEach((column, index) => {
    if (column.writing === 'text' || column.writing === 'empty' || isFlat(column.samples)) return;
    const key = fingerprint(column.samples);
    const earlier = (firsts.get(key) ?? []).find((other) => sameNumbers(columns[other].samples, column.samples));
    if (earlier === undefined) firsts.set(key, [...(firsts.get(key) ?? []), index]);
    else twins.set(index, earlier);
  });
  return twins;
}

function fingerprint(samples: Float64Array): string {
  const at = (share: number) => samples[Math.floor(share * (samples.length - 1))];
  return [0, 0.25, 0.5, 0.75, 1].map(at).join();
}

function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  return a.every((value, i) => Object.is(value, b[i]) || (Number.isNaN(value) && Number.isNaN(b[i])));
}

function isFlat(samples: Float64Array): boolean {
  const first = samples.find((value) => Number.isFinite(value));
  return first === undefined || samples.every((value) => Number.isNaN(value) || value === first);
}
