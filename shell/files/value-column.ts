import { type Column, REASONS } from '../../day/channels/index.ts';

/** How typed values become samples: seconds for times, numbers for the rest. */
export interface ValueMeaning {
  readonly writing: 'number' | 'clock' | 'date';
  /** Samples are the value times this. */
  readonly factor: number;
}

/** Fills one column of a table from values of a columnar file, chunk by chunk. */
export class ValueColumn {
  private readonly samples: Float64Array;
  private readonly mask: Uint8Array;
  private readonly texts = new Map<string, number>();
  private readonly meaning: ValueMeaning;
  private values = 0;
  private unreadable = 0;

  constructor(rows: number, meaning: ValueMeaning) {
    this.samples = new Float64Array(rows).fill(Number.NaN);
    this.mask = new Uint8Array(rows).fill(REASONS.empty);
    this.meaning = meaning;
  }

  put(values: ArrayLike<unknown>, firstRow: number): void {
    const end = Math.min(values.length, this.samples.length - firstRow);
    for (let k = 0; k < end; k++) this.putOne(values[k], firstRow + k);
  }

  column(name: string, unit: string): Column {
    const filled = this.values + this.unreadable;
    const writing = filled === 0 ? 'empty' : this.values > 0 ? this.meaning.writing : 'text';
    const texts = [...this.texts].sort((a, b) => b[1] - a[1]).slice(0, 50);
    return { name, unit, samples: this.samples, mask: this.mask, writing, texts: texts.map(([text]) => text) };
  }

  private putOne(value: unknown, row: number): void {
    const number = numberOf(value);
    if (number !== undefined) {
      if (!Number.isFinite(number)) return;
      this.samples[row] = number * this.meaning.factor;
      this.mask[row] = REASONS.measured;
      this.values++;
      return;
    }
    if (value === undefined || value === null || value === '') return;
    this.mask[row] = REASONS.unreadable;
    this.unreadable++;
    if (typeof value !== 'string') return;
    const count = this.texts.get(value);
    if (count !== undefined || this.texts.size < 1000) this.texts.set(value, (count ?? 0) + 1);
  }
}

function numberOf(value: unknown): number | undefined {
  if (typeof value === 'number') return value;
  if (typeof value === 'bigint') return Number(value);
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (value instanceof Date) return value.getTime();
  return undefined;
}
