import { FACT_TABLE, type FactRow } from './fact-table.ts';
import { PART_ROWS } from './part-table.ts';

/** Every fact of a day that a person can write in a form, in the order of asking. */
export const FACT_ROWS: readonly FactRow[] = [...FACT_TABLE, ...PART_ROWS];
