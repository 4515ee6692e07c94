import type { PowerCurve } from '../../../day/pulls/index.ts';

/** A stretch of a curve that must not be used: first and last index, and between which speeds of its axis [rad/s or m/s]. */
export interface VoidWindow {
  readonly from: number;
  readonly to: number;
  /** The last known speed before it and the first one after it; undefined at an end of the curve. */
  readonly low: number | undefined;
  readonly high: number | undefined;
}

type Axis = Pick<PowerCurve, 'valid' | 'axis' | 'engineSpeed' | 'rollSpeed'>;

/** Unbroken stretches of a curve that lie in gaps or void windows. */
export function voidWindows(curve: Axis): readonly VoidWindow[] {
  const { valid } = curve;
  const along = curve.axis === 'engine-speed' ? curve.engineSpeed : curve.rollSpeed;
  const windows: VoidWindow[] = [];
  let from: number | undefined;
  for (let i = 0; i <= valid.length; i++) {
    if (i < valid.length && valid[i] === 0) from ??= i;
    else if (from !== undefined) {
      windows.push({
        from,
        to: i - 1,
        low: along.subarray(0, from).findLast(isKnown),
        high: along.subarray(i).find(isKnown),
      });
      from = undefined;
    }
  }
  return windows;
}

function isKnown(value: number): boolean {
  return Number.isFinite(value);
}
