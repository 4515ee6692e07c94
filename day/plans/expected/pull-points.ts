import { humidityRatio } from '../../../core/physics/index.ts';
import { absolutePressure } from '../../../core/quantities/index.ts';
import type { Meaning } from '../../channels/index.ts';
import { lossForce, type PowerCurve } from '../../pulls/index.ts';
import {
  cellValue,
  manifoldPressure,
  type PowerQuestion,
  type PullCell,
  type PullState,
} from '../../verdicts/index.ts';
import type { Habits } from '../model/engine-model.ts';
import type { Query } from '../model/operating-point.ts';
import { camPhase, timingShift } from '../model/settings.ts';

/** Points of a pull at which the engine is asked. @source our default: bends of filling over speed are five places apart */
const POINTS = 7;
/** A cam angle beyond this is counted from somewhere else than the rest position [rad]. @source our default (50°), as in the calibration */
const LARGEST_PHASE = 0.87;

/** Torque at the crank [N·m] and power at the rolls [W] of one step of engine speed, by the same losses; ω [rad/s], p [Pa]. */
export interface Step {
  readonly step: number;
  readonly speed: number;
  readonly pressure: number;
  readonly torque: number;
  /** Power at the rolls that a torque would have made, with this step's own acceleration. */
  readonly atRolls: (torque: number) => number;
}

/** A step at which the engine is asked. unlogged: relative scatter of torque by what no channel shows [1]. */
export interface PullPoint extends Step {
  readonly query: Query;
  readonly unlogged: number;
  /** Whether the manifold's air and the exhaust's pressure were measured. */
  readonly measured: { readonly charge: boolean; readonly exhaust: boolean };
}

export interface PullPoints {
  readonly pull: PullState;
  readonly steps: readonly Step[];
  readonly points: readonly PullPoint[];
  /** What no channel shows, in words. */
  readonly unlogged: readonly string[];
}

/**
 * What a pull showed at the crank, with the losses of the last healthy coast-down before it, and the state it was made in.
 * `why` when the torque or the state is not known.
 */
export function pullPoints(
  pull: PullState,
  { lossOf }: Pick<PowerQuestion, 'lossOf'>,
  habits: Habits,
): PullPoints | { readonly why: string } {
  const air = airOf(pull);
  if (!air) return { why: 'missing ambient temperature or pressure' };
  const steps = builtUp(pull.cells).flatMap((cell) => {
    const step = stepOf(cell, pull, lossOf(pull));
    return step ? [{ cell, step }] : [];
  });
  if (steps.length < FEWEST) {
    return {
      why:
        pull.pull.curve.missing.find((text) => text.includes('not claimed')) ??
        'torque at the crank is known at too few engine speeds',
    };
  }
  const asked = spread(steps, POINTS);
  const points = asked.map(({ cell, step }): PullPoint => ({ ...step, ...stateOf({ cell, pull, habits, air, step }) }));
  const [first] = asked;
  return { pull, steps: steps.map(({ step }) => step), points, unlogged: first ? unloggedOf(first.cell) : [] };
}

/** Steps from the one on at which the manifold's pressure had come about: before it the air path is not settled. */
function builtUp(cells: readonly PullCell[]): readonly PullCell[] {
  const sorted = cells.map(manifoldPressure).sort((a, b) => a - b);
  const usual = sorted[Math.floor(sorted.length / 2)];
  return cells.slice(cells.findIndex((cell) => manifoldPressure(cell) >= THERE * usual));
}

/** Share of a pull's usual pressure from which on it is there [1]. @source our default, as in the calibration */
const THERE = 0.96;

/** Steps of engine speed a pull needs. @source our default, as for the sensitivities */
const FEWEST = 4;

/** So many of a list, both ends among them. */
function spread<Item>(items: readonly Item[], count: number): readonly Item[] {
  if (items.length <= count) return items;
  return Array.from({ length: count }, (_, k) => items[Math.round((k * (items.length - 1)) / (count - 1))]);
}

/** @source the power chain, {@link PowerCurve}, with another rolling loss where one is given */
function stepOf(
  cell: PullCell,
  { pull: { curve } }: PullState,
  loss: ReturnType<PowerQuestion['lossOf']>,
): Step | undefined {
  const i = nearest(curve, cell.speed);
  const pressure = manifoldPressure(cell);
  if (i === undefined || !(pressure > 0) || !(cell.power > 0)) return undefined;
  const [roll, tyre, wheel, mesh] = [
    curve.rollPower,
    curve.tyrePower,
    curve.wheelInertiaPower,
    curve.torqueLossPower,
  ].map((line) => line[i]);
  const crank = curve.engineInertiaPower[i];
  const before = tyre + curve.rollingLossPower[i] + wheel;
  const kept = before / (before + mesh);
  const rolling = loss
    ? lossForce(loss, curve.rollSpeed[i]) * curve.rollSpeed[i] * (tyre / roll)
    : curve.rollingLossPower[i];
  const torque = (((cell.power * tyre) / roll + rolling + wheel) / kept + crank) / cell.speed;
  if (!(torque > 0)) return undefined;
  return {
    ...{ step: cell.step, speed: cell.speed, pressure, torque },
    atRolls: (made) => (((made * cell.speed - crank) * kept - rolling - wheel) * roll) / tyre,
  };
}

/** Usable place of a curve that is nearest to an engine speed; undefined where none is near. */
function nearest({ engineSpeed, valid, rollPower }: PowerCurve, speed: number): number | undefined {
  let best: number | undefined;
  for (let i = 0; i < engineSpeed.length; i++) {
    if (valid[i] !== 1 || !(rollPower[i] > 0) || !Number.isFinite(engineSpeed[i])) continue;
    if (best === undefined || Math.abs(engineSpeed[i] - speed) < Math.abs(engineSpeed[best] - speed)) best = i;
  }
  return best !== undefined && Math.abs(engineSpeed[best] - speed) < NEAR ? best : undefined;
}

/** [rad/s] @source our default: one step of engine speed */
const NEAR = 20;

interface Air {
  readonly ambientTemperature: number;
  readonly ambientPressure: number;
  readonly humidityRatio: number;
}

function airOf({ entry }: PullState): Air | undefined {
  const { temperature, pressure, vapourPressure } = entry.result?.conditions ?? {};
  if (!temperature || !pressure) return undefined;
  const vapour = absolutePressure(vapourPressure?.value ?? 1000);
  return {
    ambientTemperature: temperature.value,
    ambientPressure: pressure.value,
    humidityRatio: Math.min(0.039, humidityRatio(vapour, absolutePressure(pressure.value))),
  };
}

interface Asked {
  readonly cell: PullCell;
  readonly pull: PullState;
  readonly habits: Habits;
  readonly air: Air;
  readonly step: Step;
}

function stateOf({ cell, pull, habits, air, step: { speed, pressure } }: Asked): Omit<PullPoint, keyof Step> {
  const { settings } = pull.entry.facts;
  const read = (meaning: Meaning): number => cellValue(cell, meaning);
  const or = (value: number, otherwise: number): number => (Number.isFinite(value) ? value : otherwise);
  const known = (value: number): number | undefined => (Number.isFinite(value) ? value : undefined);
  const cam = read('cam-angle');
  const chargeTemperature = known(read('charge-temperature'));
  const exhaustPressure = known(read('exhaust-pressure'));
  return {
    query: {
      ...{ speed, manifoldPressure: pressure, ...air, chargeTemperature, exhaustPressure },
      ...{ timingShift: 0, soak: 0, inletLoss: 0 },
      loadTime: Math.max(0, habits.loadTime(speed, pressure).value),
      timing: or(read('ignition-timing'), habits.timing(speed, pressure).value + timingShift(settings)),
      lambda: or(read('lambda'), habits.lambda(speed, pressure).value),
      camPhase: held(Math.abs(cam) < LARGEST_PHASE ? cam : (camPhase(settings) ?? 0)),
    },
    unlogged: Math.hypot(...UNLOGGED.map(({ meaning, share }) => (Number.isFinite(read(meaning)) ? 0 : share))),
    measured: { charge: chargeTemperature !== undefined, exhaust: exhaustPressure !== undefined },
  };
}

/** The phase that the control holds: smaller differences are its hunting and the sensor's noise, and would teach what is not there. */
function held(phase: number): number {
  return Math.round(phase / PHASE_STEP) * PHASE_STEP;
}

/** [rad] @source our default: 1°, common practice for how well a phaser is held, no source */
const PHASE_STEP = Math.PI / 180;

/** What a state that no channel shows does to torque from pull to pull, relative [1]. @source our default: 4 K, 1° and 0.02 of lambda */
const UNLOGGED = [
  { meaning: 'charge-temperature', share: 0.012 },
  { meaning: 'ignition-timing', share: 0.006 },
  { meaning: 'lambda', share: 0.006 },
] as const;

function unloggedOf(cell: PullCell): readonly string[] {
  const missing = UNLOGGED.filter(({ meaning }) => !Number.isFinite(cellValue(cell, meaning)));
  return missing.map(({ meaning }) => meaning.replaceAll('-', ' '));
}
