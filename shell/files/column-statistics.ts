import { applySettled, CELL, type RowBlock, type Settled } from '../../day/channels/index.ts';

/** Count, range and sum of the cells of one code. */
interface Range {
  count: number;
  min: number;
  max: number;
  sum: number;
}

/** Statistics of one column, kept per cell code until the end of the file says which codes are values. */
export class ColumnStatistics {
  private readonly ranges = new Map<number, Range>();
  private sketch = new Float64Array(SKETCH);
  private codes = new Uint8Array(SKETCH);
  private kept = 0;
  private step = 1;

  add(block: RowBlock, column: number): void {
    const samples = block.samples[column];
    const mask = block.mask[column];
    if (!samples || !mask) throw new Error(`no column ${column} in the block`);
    this.addRanges(samples, mask);
    const late = block.firstRow % this.step;
    for (let k = late === 0 ? 0 : this.step - late; k < block.rows; k += this.step)
      this.keep(samples[k] ?? Number.NaN, mask[k] ?? 0);
  }

  /** Values are the cells whose codes the settled column names. Open dates that turned out day first have no range. */
  result(settled: Settled, rows: number) {
    const sketch = this.sketch.slice(0, this.kept);
    applySettled(settled, sketch, this.codes.slice(0, this.kept));
    const all: Range = noRange();
    for (const [code, range] of this.ranges) if (settled.values.has(code)) addRange(all, range);
    const isTurned = settled.dayFirst && this.ranges.has(CELL.dateOpen);
    const hasRange = all.count > 0 && !isTurned;
    return {
      count: all.count,
      missing: rows - all.count,
      min: hasRange ? all.min : Number.NaN,
      max: hasRange ? all.max : Number.NaN,
      mean: hasRange ? all.sum / all.count : Number.NaN,
      sketch,
      sketchStep: this.step,
    };
  }

  private addRanges(samples: Float64Array, mask: Uint8Array): void {
    let code = -1;
    let range = noRange();
    for (let k = 0; k < samples.length; k++) {
      const own = mask[k] ?? 0;
      if (own === CELL.empty || own === CELL.text) continue;
      if (own !== code) {
        code = own;
        range = this.ranges.get(code) ?? noRange();
        this.ranges.set(code, range);
      }
      const value = samples[k] ?? 0;
      range.count++;
      range.sum += value;
      if (value < range.min) range.min = value;
      if (value > range.max) range.max = value;
    }
  }

  /** When the sketch is full every second sample goes and the step doubles. */
  private keep(value: number, code: number): void {
    if (this.kept === SKETCH) {
      for (let k = 0; k < SKETCH / 2; k++) {
        this.sketch[k] = this.sketch[2 * k] ?? Number.NaN;
        this.codes[k] = this.codes[2 * k] ?? 0;
      }
      this.kept = SKETCH / 2;
      this.step *= 2;
    }
    this.sketch[this.kept] = value;
    this.codes[this.kept] = code;
    this.kept++;
  }
}

function noRange(): Range {
  return { count: 0, min: Number.POSITIVE_INFINITY, max: Number.NEGATIVE_INFINITY, sum: 0 };
}

function addRange(into: Range, range: Range): void {
  into.count += range.count;
  into.sum += range.sum;
  into.min = Math.min(into.min, range.min);
  into.max = Math.max(into.max, range.max);
}

/** Samples of a sketch. @source our default: twice the pixels of a wide screen */
const SKETCH = 4096;
