/** One cursor that several drawings of a pull share, as a time on the record's clock [s]. Undefined: nobody points. */
export interface Cursor {
  readonly time: () => number | undefined;
  readonly move: (time: number | undefined) => void;
  readonly listen: (listener: () => void) => () => void;
}

export function makeCursor(first?: number): Cursor {
  let time = first;
  const listeners = new Set<() => void>();
  return {
    time: () => time,
    move: (next) => {
      if (next === time) return;
      time = next;
      for (const listener of listeners) listener();
    },
    listen: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** Index of the known value nearest to `value`; undefined when none is known. */
export function nearest(values: readonly (number | null)[], value: number): number | undefined {
  let found: number | undefined;
  let least = Number.POSITIVE_INFINITY;
  values.forEach((known, at) => {
    if (known === null) return;
    const distance = Math.abs(known - value);
    if (distance < least) {
      least = distance;
      found = at;
    }
  });
  return found;
}

/** What stands in `to` where `from` is nearest to `value`. */
export function translated(
  value: number | undefined,
  from: readonly (number | null)[],
  to: readonly (number | null)[],
): number | undefined {
  const at = value === undefined ? undefined : nearest(from, value);
  return at === undefined ? undefined : (to[at] ?? undefined);
}
