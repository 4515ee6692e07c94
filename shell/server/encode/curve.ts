import type { BudgetLine, Peak, PowerCurve, PullResult, Segment } from '../../../day/pulls/index.ts';
import type { BudgetView, CurveView, PeakLine, PullView, SegmentLine } from '../../contract/index.ts';
import { plainFinding, plainNumber, plainRefusal, plainSamples } from './plain.ts';

export function encodePull({ segment, curve, peaks, budget, refusal, findings }: PullResult): PullView {
  return {
    segment: encodeSegment(segment),
    curve: encodeCurve(curve),
    peaks: peaks.filter(({ value }) => Number.isFinite(value)).map(encodePeak),
    budget: budget.map(encodeBudget),
    refusal: refusal && plainRefusal(refusal),
    findings: findings.map(plainFinding),
  };
}

function encodePeak(peak: Peak): PeakLine {
  const { basis, what, value, standardUncertainty, engineSpeed, rollSpeed, time } = peak;
  return {
    basis,
    what,
    value,
    standardUncertainty: plainNumber(standardUncertainty),
    engineSpeed: finite(engineSpeed),
    rollSpeed: plainNumber(rollSpeed),
    time: plainNumber(time),
  };
}

function encodeBudget(line: BudgetLine): BudgetView {
  const { name, roll, tyre, engine, sharing, origin, degreesOfFreedom } = line;
  const effects = { roll: plainNumber(roll), tyre: plainNumber(tyre), engine: plainNumber(engine) };
  return { name, ...effects, sharing, origin, degreesOfFreedom: finite(degreesOfFreedom) };
}

/** Arrays as long as the curve's engine speed. Torque is power over engine speed; without an engine speed it is unknown. */
export function encodeCurve(curve: PowerCurve): CurveView {
  const { factor, rule, missing, bandwidth, peakBias, valid } = curve;
  const overEngineSpeed = (power: Float64Array) =>
    plainSamples(power.map((watts, at) => watts / (curve.engineSpeed[at] ?? Number.NaN)));
  return {
    axis: curve.axis,
    ...encodedColumns(curve),
    rollTorque: overEngineSpeed(curve.rollPower),
    engineTorque: overEngineSpeed(curve.enginePower),
    valid: Array.from(valid, (flag) => flag === 1),
    factor: Number.isFinite(factor) ? factor : 1,
    rule,
    missing: [...missing],
    bandwidth: plainNumber(bandwidth),
    peakBias: plainNumber(peakBias),
  };
}

function encodedColumns(curve: PowerCurve) {
  return {
    engineSpeed: plainSamples(curve.engineSpeed),
    time: plainSamples(curve.time),
    rollSpeed: plainSamples(curve.rollSpeed),
    brakePower: plainSamples(curve.brakePower),
    rollInertiaPower: plainSamples(curve.rollInertiaPower),
    rollPower: plainSamples(curve.rollPower),
    slip: plainSamples(curve.slip),
    tyrePower: plainSamples(curve.tyrePower),
    rollingLossPower: plainSamples(curve.rollingLossPower),
    wheelInertiaPower: plainSamples(curve.wheelInertiaPower),
    torqueLossPower: plainSamples(curve.torqueLossPower),
    engineInertiaPower: plainSamples(curve.engineInertiaPower),
    enginePower: plainSamples(curve.enginePower),
    correctedPower: plainSamples(curve.correctedPower),
    rollPowerUncertainty: plainSamples(curve.rollPowerUncertainty),
    tyrePowerUncertainty: plainSamples(curve.tyrePowerUncertainty),
    enginePowerUncertainty: plainSamples(curve.enginePowerUncertainty),
  };
}

export function encodeSegment(segment: Segment): SegmentLine {
  const { kind, fromTime, toTime, ratio, gear, lowSpeed, highSpeed, lowEngineSpeed, highEngineSpeed, reason } = segment;
  return {
    kind,
    fromTime,
    toTime,
    gear: finite(gear),
    ratio: finite(ratio),
    lowSpeed: plainNumber(lowSpeed),
    highSpeed: plainNumber(highSpeed),
    lowEngineSpeed: finite(lowEngineSpeed),
    highEngineSpeed: finite(highEngineSpeed),
    reason,
  };
}

function finite(value: number | undefined): number | undefined {
  return value !== undefined && Number.isFinite(value) ? value : undefined;
}
