import type { CurveView } from '../../contract/index.ts';
import { invalidStretches, type PlotLine, type PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/use-preferences.ts';

/** What a curve runs against, in display units. */
export function curveX(curve: CurveView, writing: Writing): readonly (number | null)[] {
  const kind = axisKind(curve);
  const column = curve.axis === 'engine-speed' ? curve.engineSpeed : curve.rollSpeed;
  return column.map((value) => writing.plain(value, kind));
}

export function axisKind({ axis }: CurveView): 'engine-speed' | 'speed' {
  return axis === 'engine-speed' ? 'engine-speed' : 'speed';
}

/** Power against engine speed: engine, wheel and roll power with bands of two standard uncertainties; what is not usable is hatched. */
export function powerFigure(curve: CurveView, writing: Writing): PlotSpec {
  const x = curveX(curve, writing);
  const line = (wish: Pick<LineWish, 'label' | 'look' | 'values' | 'spread'>) =>
    lineOf({ ...wish, x, kind: 'power' }, writing);
  const lines = [
    line({ label: 'engine', look: 1, values: curve.enginePower, spread: curve.enginePowerUncertainty }),
    line({ label: 'wheel', look: 2, values: curve.tyrePower }),
    line({ label: 'roll, as measured', look: 3, values: curve.rollPower, spread: curve.rollPowerUncertainty }),
    ...(curve.rule === 'none'
      ? []
      : [line({ label: `engine under ${curve.rule}`, look: 4, values: curve.correctedPower })]),
  ].filter(isKnown);
  return {
    ...frameOf(curve, { x, writing, what: 'Power' }),
    yLabel: `power, ${writing.symbol('power')}`,
    lines,
    height: 'tall',
    floor: 0,
  };
}

/** Torque against engine speed. Without an engine speed there is none. */
export function torqueFigure(curve: CurveView, writing: Writing): PlotSpec {
  const x = curveX(curve, writing);
  const spread = curve.enginePowerUncertainty.map((watts, at) => over(watts, curve.engineSpeed[at]));
  const lines = [
    lineOf({ label: 'engine torque', look: 1, x, kind: 'torque', values: curve.engineTorque, spread }, writing),
    lineOf({ label: 'roll power over engine speed', look: 3, x, kind: 'torque', values: curve.rollTorque }, writing),
  ].filter(isKnown);
  return {
    ...frameOf(curve, { x, writing, what: 'Torque' }),
    yLabel: `torque, ${writing.symbol('torque')}`,
    lines,
    height: 'middle',
    floor: 0,
  };
}

function frameOf(
  curve: CurveView,
  { x, writing, what }: { x: readonly (number | null)[]; writing: Writing; what: string },
) {
  const kind = axisKind(curve);
  const against = curve.axis === 'engine-speed' ? 'engine speed' : 'roll speed';
  return {
    label: `${what} against ${against}`,
    xLabel: `${against}, ${writing.symbol(kind)}`,
    hatches: invalidStretches(x, curve.valid),
  };
}

interface LineWish {
  readonly label: string;
  readonly look: number;
  readonly x: readonly (number | null)[];
  readonly kind: 'power' | 'torque';
  readonly values: readonly (number | null)[];
  readonly spread?: readonly (number | null)[] | undefined;
}

function lineOf({ label, look, x, kind, values, spread }: LineWish, writing: Writing): PlotLine {
  const y = values.map((value) => writing.plain(value, kind));
  if (!spread?.some((value) => value !== null)) return { label, look, x, y };
  // Power and torque have units without a shift, so a half width converts like a value.
  return {
    label: `${label} ±2u`,
    look,
    x,
    y,
    spread: spread.map((value) => writing.plain(value === null ? null : 2 * value, kind)),
  };
}

function over(watts: number | null, speed: number | null | undefined): number | null {
  return watts === null || speed === null || speed === undefined || speed <= 0 ? null : watts / speed;
}

function isKnown({ y }: PlotLine): boolean {
  return y.some((value) => value !== null);
}
