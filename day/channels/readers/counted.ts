import type { Layout } from './layout.ts';
import type { ColumnTally, RowTally } from './tally.ts';

/** What was counted over the whole file. `lastLine`: how the last line ended. */
export interface Counted {
  readonly file: string;
  readonly layout: Layout;
  /** As long as the columns of the file. */
  readonly columns: readonly ColumnTally[];
  readonly rows: RowTally;
  /** Number of the line at which the rows begin. */
  readonly firstLine: number;
  readonly lastLine: 'ended' | 'kept' | 'dropped';
}
