import type { PowerCurve } from '../../../day/pulls/index.ts';

/** A stretch of a curve that must not be used: first and last index. */
export interface VoidWindow {
  readonly from: number;
  readonly to: number;
}

/** Unbroken stretches of a curve that lie in gaps or void windows. */
export function voidWindows({ valid }: Pick<PowerCurve, 'valid'>): readonly VoidWindow[] {
  const windows: VoidWindow[] = [];
  let from: number | undefined;
  for (let i = 0; i <= valid.length; i++) {
    if (i < valid.length && valid[i] === 0) from ??= i;
    else if (from !== undefined) {
      windows.push({ from, to: i - 1 });
      from = undefined;
    }
  }
  return windows;
}
