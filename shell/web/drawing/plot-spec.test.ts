import { describe, expect, test } from 'vitest';
import { hasPoints, invalidStretches, type PlotLine, type PlotSpec, plotColumns, plotShape } from './plot-spec.ts';

const line = (x: (number | null)[], y: (number | null)[], spread?: (number | null)[]): PlotLine => ({
  label: 'a',
  x,
  y,
  look: 1,
  ...(spread && { spread }),
});

describe('columns', () => {
  test('no line has no x', () => {
    expect(plotColumns([])).toEqual({ data: [[]], columns: [] });
  });

  test('two lines meet on all their x: null breaks, undefined does not', () => {
    const { data } = plotColumns([line([1, 3], [10, null]), line([2, 3], [5, 6])]);
    expect(data).toEqual([
      [1, 2, 3],
      [10, undefined, null],
      [undefined, 5, 6],
    ]);
  });

  test('a band becomes an upper and a lower column, missing where its middle or width is', () => {
    const { data, columns } = plotColumns([line([1, 2, 3], [10, null, 12], [1, 1, null])]);
    expect(columns.map(({ part }) => part)).toEqual(['middle', 'upper', 'lower']);
    expect(data.slice(2)).toEqual([
      [11, null, null],
      [9, null, null],
    ]);
  });

  test('a line is broken where its x is unknown: nothing is drawn across a gap', () => {
    expect(plotColumns([line([1, null, null, 4], [10, null, null, 12], [1, null, null, 1])]).data).toEqual([
      [1, 2.5, 4],
      [10, null, 12],
      [11, null, 13],
      [9, null, 11],
    ]);
  });

  test('a point without an x at an end is left out', () => {
    expect(plotColumns([line([null, 2], [1, 2])]).data).toEqual([[2], [2]]);
  });
});

test.each([
  [[], false],
  [[line([1], [null])], false],
  [[line([null], [1])], false],
  [[line([1], [1])], true],
])('there is something to draw in %o: %s', (lines, expected) => {
  expect(hasPoints(lines)).toBe(expected);
});

describe('the shape of a drawing', () => {
  const spec = (more: Partial<PlotSpec>): PlotSpec => ({
    ...{ label: 'a', xLabel: 'x', yLabel: 'y', hatches: [], height: 'low', lines: [line([1, 2], [3, 4])], ...more },
  });
  test.each<[string, Partial<PlotSpec>, boolean]>([
    ['other values', { lines: [line([1, 2, 3], [5, 6, 7])] }, true],
    [
      'other marks and levels',
      { marks: [{ x: 1, y: 1, sign: 'ring', look: 1 }], levels: [{ y: 2, label: 'b' }] },
      true,
    ],
    ['other hatches', { hatches: [{ from: 1, to: 2 }] }, true],
    ['another unit', { yLabel: 'z' }, false],
    ['one line more', { lines: [line([1], [1]), line([1], [1])] }, false],
    ['a band', { lines: [line([1, 2], [3, 4], [1, 1])] }, false],
    ['a lonely point, which is drawn as a dot', { lines: [line([1, 2], [3, null])] }, false],
  ])('%s: the same drawing takes them? %s', (_, more, same) => {
    expect(plotShape(spec(more)) === plotShape(spec({}))).toBe(same);
  });
});

describe('stretches that are not usable', () => {
  test('reach half a step beyond their points', () => {
    expect(invalidStretches([1, 2, 3, 4], [true, false, false, true])).toEqual([{ from: 1.5, to: 3.5 }]);
  });
  test('at the ends stop at the end', () => {
    expect(invalidStretches([1, 2, 3], [false, true, false])).toEqual([
      { from: 1, to: 1.5 },
      { from: 2.5, to: 3 },
    ]);
  });
  test('reach from neighbour to neighbour where the invalid points have no x', () => {
    expect(invalidStretches([1, null, null, 4, 5], [true, false, false, false, true])).toEqual([{ from: 1, to: 4.5 }]);
  });
  test('nothing invalid, nothing hatched', () => {
    expect(invalidStretches([1, 2], [true, true])).toEqual([]);
  });
});
