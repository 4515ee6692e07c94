import type { CurveView } from '../../contract/index.ts';

/** One line of the way from the force at the roll to the power at the engine. */
export interface ChainLine {
  readonly label: string;
  /** [W]; for slip and factor a plain ratio. */
  readonly value: number | null;
  readonly kind: 'power' | 'fraction' | 'ratio';
  /** measured: seen at the roll. added: put on top by us. sum: what stands so far. factor: multiplies. */
  readonly role: 'measured' | 'added' | 'sum' | 'factor';
  readonly standardUncertainty?: number | null;
  /** Start and end of its piece of the stack, as shares of the engine power (or the highest sum that is known). */
  readonly from: number;
  readonly to: number;
}

/** The chain at one point of a curve. Sums are the curve's own, not added up here; the pieces between them show where they come from. */
export function chainLines(curve: CurveView, at: number): readonly ChainLine[] {
  const value = (column: readonly (number | null)[]) => column[at] ?? null;
  const [roll, tyre, engine] = [value(curve.rollPower), value(curve.tyrePower), value(curve.enginePower)];
  const whole = Math.max(engine ?? 0, tyre ?? 0, roll ?? 0);
  const share = (power: number) => (whole > 0 ? Math.min(1, Math.max(0, power / whole)) : 0);
  let reached = 0;
  const piece = (label: string, role: 'measured' | 'added', column: readonly (number | null)[]): ChainLine => {
    const power = value(column);
    const from = share(reached);
    reached += power ?? 0;
    return { label, role, kind: 'power', value: power, from, to: share(reached) };
  };
  const sum = (label: string, power: number | null, spread: readonly (number | null)[]): ChainLine => {
    if (power !== null) reached = power;
    return {
      label,
      role: 'sum',
      kind: 'power',
      value: power,
      standardUncertainty: value(spread),
      from: 0,
      to: share(power ?? 0),
    };
  };
  const slipped = tyre !== null && roll !== null ? tyre - roll : 0;
  const isWhole = curve.rollInertiaPower.every((power) => power === 0);
  return [
    piece(isWhole ? 'whole force at the roll' : 'taken by the brake', 'measured', curve.brakePower),
    ...(isWhole ? [] : [piece('speeding up the rolls', 'measured', curve.rollInertiaPower)]),
    sum('roll power', roll, curve.rollPowerUncertainty),
    {
      label: 'slip of the tyre',
      role: 'added',
      kind: 'fraction',
      value: value(curve.slip),
      from: share(roll ?? 0),
      to: share((roll ?? 0) + slipped),
    },
    sum('wheel power', tyre, curve.tyrePowerUncertainty),
    piece('rolling losses', 'added', curve.rollingLossPower),
    piece('speeding up wheels and shafts', 'added', curve.wheelInertiaPower),
    piece('lost in the gears', 'added', curve.torqueLossPower),
    piece('speeding up the engine', 'added', curve.engineInertiaPower),
    sum('engine power', engine, curve.enginePowerUncertainty),
    { label: `ambient factor: ${curve.rule}`, role: 'factor', kind: 'ratio', value: curve.factor, from: 0, to: 0 },
    ...(curve.rule === 'none' ? [] : [sum('corrected', value(curve.correctedPower), [])]),
  ];
}

/** Index of the highest known value; undefined when all are missing. */
export function highestAt(values: readonly (number | null)[]): number | undefined {
  let found: number | undefined;
  values.forEach((value, at) => {
    if (value !== null && (found === undefined || value > (values[found] ?? Number.NEGATIVE_INFINITY))) found = at;
  });
  return found;
}
