/**
 * What a reducing function does with NaN among its samples.
 *
 * - `skip`: the rest is used; nothing left gives NaN
 * - `refuse`: the caller promised that nothing is missing, so a NaN is a bug and throws
 * - `propagate`: one NaN makes the result NaN
 *
 * NaN is how this ring says "no answer": it has no words of its own.
 */
export type MissingPolicy = 'skip' | 'refuse' | 'propagate';

/**
 * A copy of the samples that may be used, or undefined when one missing sample spoils the result.
 *
 * @param samples any length, NaN = missing
 * @param missing see {@link MissingPolicy}; `refuse` throws a RangeError that names the index
 */
export function usableSamples(samples: ArrayLike<number>, missing: MissingPolicy): Float64Array | undefined {
  const kept = new Float64Array(samples.length);
  let count = 0;
  for (let i = 0; i < samples.length; i++) {
    const value = samples[i];
    if (!Number.isNaN(value)) kept[count++] = value;
    else if (missing === 'refuse') throw new RangeError(`missing sample at index ${i}`);
    else if (missing === 'propagate') return undefined;
  }
  return kept.subarray(0, count);
}

/** Indices at which every one of the paired arrays has a value: paired inputs drop pairs. Follows the same policy. */
export function usablePairs(
  arrays: readonly ArrayLike<number>[],
  missing: MissingPolicy,
): readonly Float64Array[] | undefined {
  const length = arrays[0]?.length ?? 0;
  if (arrays.some((array) => array.length !== length)) throw new RangeError('paired arrays of unequal length');
  const kept = arrays.map(() => new Float64Array(length));
  let count = 0;
  for (let i = 0; i < length; i++) {
    if (arrays.some((array) => Number.isNaN(array[i]))) {
      if (missing === 'refuse') throw new RangeError(`missing sample at index ${i}`);
      if (missing === 'propagate') return undefined;
      continue;
    }
    for (let k = 0; k < arrays.length; k++) kept[k][count] = arrays[k][i];
    count++;
  }
  return kept.map((array) => array.subarray(0, count));
}
