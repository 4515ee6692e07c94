import { at } from '../interpolate.ts';
import type { EntryTruth, InjectedFault, TruthCurve } from '../truth.ts';
import { type RollRun, STEP } from './roll-run.ts';

const STRIDE = 4;

/** The full-load part of a run as a truth curve. cleanTorque: as long as the run. */
export function truthCurve(run: RollRun, cleanTorque: ArrayLike<number>): TruthCurve {
  const rows = rowsBetween(run, run.tipIn, run.lift);
  const speed = rows.map((k) => at(run.engineSpeed, k));
  const torque = rows.map((k) => at(run.engineTorque, k));
  const force = rows.map((k) => at(run.tyreForce, k));
  return {
    time: rows.map((k) => timeOf(run, k)),
    engineSpeed: speed,
    torque,
    cleanTorque: rows.map((k) => at(cleanTorque, k)),
    enginePower: rows.map((k) => at(run.engineTorque, k) * at(run.engineSpeed, k)),
    tyrePower: rows.map((k) => at(run.tyreForce, k) * at(run.tyreSpeed, k)),
    rollPower: rows.map((k) => at(run.tyreForce, k) * at(run.rollSpeed, k)),
    tyreForce: force,
  };
}

/** Values of a signal (as long as the run) at the rows of the truth curve. factor, shift: to SI. */
export function truthSignal(
  run: RollRun,
  signal: ArrayLike<number>,
  unit: { factor: number; shift?: number },
): number[] {
  return rowsBetween(run, run.tipIn, run.lift).map((k) => at(signal, k) * unit.factor + (unit.shift ?? 0));
}

/** Slip over the whole run. */
export function truthSlip(run: RollRun): EntryTruth['slip'] {
  const rows = rowsBetween(run, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
  return { time: rows.map((k) => timeOf(run, k)), slip: rows.map((k) => at(run.slip, k)) };
}

/** A fault between two engine speeds [1/min] of the full-load part; an end left out is the end of the run. */
export function faultBetween(
  run: RollRun,
  fault: { kind: string; fromRpm?: number; toRpm?: number; size: Readonly<Record<string, number>>; decoy?: boolean },
): InjectedFault {
  const start = fault.fromRpm === undefined ? 0 : firstAbove(run, fault.fromRpm);
  const stop = fault.toRpm === undefined ? run.engineSpeed.length - 1 : firstAbove(run, fault.toRpm);
  return windowOf(run, { kind: fault.kind, size: fault.size, ...(fault.decoy ? { decoy: true } : {}), start, stop });
}

/** A fault between two moments [s]. */
export function faultDuring(
  run: RollRun,
  fault: { kind: string; from: number; to: number; size: Readonly<Record<string, number>>; decoy?: boolean },
): InjectedFault {
  const index = (time: number): number =>
    Math.min(run.engineSpeed.length - 1, Math.max(0, Math.round((time - run.from) / STEP)));
  return windowOf(run, {
    kind: fault.kind,
    size: fault.size,
    ...(fault.decoy ? { decoy: true } : {}),
    start: index(fault.from),
    stop: index(fault.to),
  });
}

/** First moment of the full-load part at which the engine is above a speed [1/min]; its end when it never is. [s] */
export function timeAbove(run: RollRun, rpm: number): number {
  return timeOf(run, firstAbove(run, rpm));
}

function windowOf(
  run: RollRun,
  fault: { kind: string; size: Readonly<Record<string, number>>; decoy?: true; start: number; stop: number },
): InjectedFault {
  const { start, stop, ...rest } = fault;
  const speeds = run.engineSpeed.subarray(start, stop + 1);
  return {
    ...rest,
    fromTime: timeOf(run, start),
    toTime: timeOf(run, stop),
    fromSpeed: speeds.reduce((low, speed) => Math.min(low, speed), Number.POSITIVE_INFINITY),
    toSpeed: speeds.reduce((high, speed) => Math.max(high, speed), 0),
  };
}

function firstAbove(run: RollRun, rpm: number): number {
  const wanted = (rpm * Math.PI) / 30;
  const end = Math.min(run.engineSpeed.length - 1, Math.round((run.lift - run.from) / STEP));
  for (let k = Math.max(0, Math.round((run.tipIn - run.from) / STEP)); k < end; k += 1) {
    if (at(run.engineSpeed, k) >= wanted) return k;
  }
  return end;
}

function timeOf(run: RollRun, index: number): number {
  return run.from + index * STEP;
}

function rowsBetween(run: RollRun, from: number, to: number): number[] {
  const rows: number[] = [];
  for (let k = 0; k < run.engineSpeed.length; k += STRIDE) {
    const time = timeOf(run, k);
    if (time >= from && time < to) rows.push(k);
  }
  return rows;
}
