import type { BudgetLine, Peak, PowerCurve, PullResult } from '../../../day/pulls/index.ts';

const RPM = Math.PI / 30;
const POINTS = 90;

export interface CurveWish {
  /** Multiplies every power. */
  readonly level?: number;
  /** Points [from, to) that are void. */
  readonly void?: readonly [number, number];
  readonly rule?: PowerCurve['rule'];
}

/** An invented curve for tests: a smooth hump from 3 000 to 6 900 rpm, no real engine. */
export function smallCurve({ level = 1, void: gap = [0, 0], rule = 'none' }: CurveWish = {}): PowerCurve {
  const column = (of: (share: number) => number) =>
    Float64Array.from({ length: POINTS }, (_, at) =>
      at >= gap[0] && at < gap[1] ? Number.NaN : of(at / (POINTS - 1)),
    );
  const rpm = (share: number) => 3000 + 3900 * share;
  const engine = (share: number) => level * (300 + 120 * Math.sin(Math.PI * (0.2 + 0.6 * share))) * rpm(share) * RPM;
  const power = (part: number) => column((share) => engine(share) * part);
  return {
    axis: 'engine-speed',
    engineSpeed: Float64Array.from({ length: POINTS }, (_, at) => rpm(at / (POINTS - 1)) * RPM),
    time: Float64Array.from({ length: POINTS }, (_, at) => 3 + (9 * at) / (POINTS - 1)),
    rollSpeed: Float64Array.from({ length: POINTS }, (_, at) => rpm(at / (POINTS - 1)) * RPM * 0.075),
    brakePower: power(0.74),
    rollInertiaPower: power(0.1),
    rollPower: power(0.84),
    slip: column((share) => 0.02 + 0.01 * share),
    tyrePower: power(0.86),
    rollingLossPower: power(0.05),
    wheelInertiaPower: power(0.01),
    torqueLossPower: power(0.055),
    engineInertiaPower: power(0.025),
    enginePower: power(1),
    correctedPower: column(() => Number.NaN),
    factor: 1,
    rule,
    rollPowerUncertainty: power(0.006),
    tyrePowerUncertainty: power(0.008),
    enginePowerUncertainty: power(0.014),
    valid: Uint8Array.from({ length: POINTS }, (_, at) => (at >= gap[0] && at < gap[1] ? 0 : 1)),
    missing: [],
    bandwidth: 1.5,
    peakBias: -0.002,
  };
}

/** A pull around the invented curve, with its peaks and a short budget. */
export function smallPull(wish: CurveWish = {}, findings: PullResult['findings'] = []): PullResult {
  const curve = smallCurve(wish);
  return {
    segment: {
      kind: 'full-load',
      from: 150,
      to: 600,
      fromTime: 3,
      toTime: 12,
      lowSpeed: 23.6,
      highSpeed: 54.2,
      lowEngineSpeed: 3000 * RPM,
      highEngineSpeed: 6900 * RPM,
      gear: 4,
      ratio: 13.3,
      reason: 'throttle open, speed rising',
    },
    curve,
    peaks: peaksOf(curve),
    budget: BUDGET.map((line) => ({ ...line })),
    findings,
  };
}

function peaksOf(curve: PowerCurve): readonly Peak[] {
  const peak = (what: Peak['what'], values: Float64Array, relative: number): Peak => {
    let at = 0;
    values.forEach((value, index) => {
      if (value > (values[at] ?? 0) || Number.isNaN(values[at])) at = index;
    });
    const value = values[at] ?? 0;
    const [engineSpeed = 0, rollSpeed = 0, time = 0] = [curve.engineSpeed[at], curve.rollSpeed[at], curve.time[at]];
    return { basis: 'curve', what, value, standardUncertainty: value * relative, engineSpeed, rollSpeed, time };
  };
  const over = (power: Float64Array) => power.map((watts, at) => watts / (curve.engineSpeed[at] ?? 1));
  return [
    peak('engine power', curve.enginePower, 0.014),
    peak('wheel power', curve.tyrePower, 0.008),
    peak('roll power', curve.rollPower, 0.006),
    peak('engine torque', over(curve.enginePower), 0.014),
  ];
}

const BUDGET: readonly BudgetLine[] = [
  {
    name: 'force calibration',
    roll: 900,
    tyre: 900,
    engine: 1000,
    sharing: 'shared',
    origin: 'default of ours: 0.5 %',
  },
  { name: 'rolling loss', roll: 0, tyre: 0, engine: 2400, sharing: 'shared', origin: 'coast-downs of today' },
  { name: 'torque loss in the gears', roll: 0, tyre: 0, engine: 2000, sharing: 'shared', origin: 'stated' },
  {
    name: 'force noise after smoothing',
    roll: 400,
    tyre: 400,
    engine: 420,
    sharing: 'random',
    origin: 'scatter of this pull',
  },
  { name: 'slip', roll: Number.NaN, tyre: 700, engine: 800, sharing: 'random', origin: 'scatter of this pull' },
];
