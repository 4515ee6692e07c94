import { REASONS } from '../channel.ts';
import type { Column, Table } from '../table.ts';

/** One column of an example: name, numbers as written, unit if a unit row wrote one. */
export interface ExampleColumn {
  readonly name: string;
  readonly samples: ArrayLike<number>;
  readonly unit?: string;
  readonly writing?: Column['writing'];
}

/** A table as a reader would hand it on, from plain numbers. For tests and worked examples. */
export function exampleTable(columns: readonly ExampleColumn[], file = 'example.csv'): Table {
  return {
    source: '0'.repeat(64),
    file,
    format: { kind: 'parquet' },
    rows: columns[0]?.samples.length ?? 0,
    preamble: [],
    findings: [],
    columns: columns.map(({ name, samples, unit, writing }) => {
      const values = Float64Array.from(samples);
      return {
        ...{ name, unit: unit ?? '', samples: values, writing: writing ?? 'number', texts: [] },
        mask: Uint8Array.from(values, (value) => (Number.isNaN(value) ? REASONS.empty : REASONS.measured)),
      };
    }),
  };
}
