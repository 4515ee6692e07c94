import type { Finding } from '../../../core/quantities/index.ts';
import type { Column } from '../table.ts';
import type { Counted } from './counted.ts';
import { columnFindings, rowFindings } from './reader-findings.ts';
import { type Settled, settleColumn } from './settle.ts';
import type { ColumnTally } from './tally.ts';

/** A column once the whole file was seen, without its samples. */
export interface ColumnSummary extends Pick<Column, 'name' | 'unit' | 'writing' | 'texts'> {
  readonly settled: Settled;
  readonly tally: ColumnTally;
}

/** All that a pass over a delimited text knows beside the samples. */
export interface DelimitedSummary {
  readonly rows: number;
  readonly preamble: readonly string[];
  readonly columns: readonly ColumnSummary[];
  readonly findings: readonly Finding[];
}

/** Settles every kept column and words what must be known. */
export function summarised(counted: Counted): DelimitedSummary {
  const { layout, file } = counted;
  const columns: ColumnSummary[] = [];
  const findings: Finding[] = [...rowFindings(counted)];
  layout.kept.forEach((kept, k) => {
    if (kept < 0) return;
    const tally = counted.columns[k];
    const settled = settleColumn(tally);
    const name = layout.names[k];
    findings.push(...columnFindings(name, { tally, settled, file }));
    columns.push({
      name,
      unit: layout.units[k] || settled.cellUnit,
      writing: settled.writing,
      texts: frequent(tally.texts),
      settled,
      tally,
    });
  });
  return { rows: counted.rows.rows, preamble: layout.preamble, columns, findings };
}

function frequent(texts: ReadonlyMap<string, number>): readonly string[] {
  const order = [...texts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  return order.slice(0, SHOWN_TEXTS).map(([text]) => text);
}

const SHOWN_TEXTS = 50;
