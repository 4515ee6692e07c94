import { createHash } from 'node:crypto';

/** One column as the file writes it; `unit` is empty where the file gives none. */
export interface WrittenColumn {
  readonly name: string;
  readonly unit: string;
}

/** SHA-256, hex, of names and units as written, in order: one line `name TAB unit` for each column, in UTF-8. */
export function columnSetOf(columns: readonly WrittenColumn[]): string {
  return createHash('sha256')
    .update(columns.map(({ name, unit }) => `${name}\t${unit}`).join('\n'))
    .digest('hex');
}
