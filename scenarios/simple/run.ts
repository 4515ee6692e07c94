import { at, easeBetween } from '../interpolate.ts';
import { faultCourse } from '../plateau/fault-effects.ts';
import type { PullFaults } from '../plateau/faults.ts';
import { chanceOf } from '../random.ts';
import type { Rig } from '../rig/rig.ts';
import { coastRun, pullRun, type RollRun, STEP } from '../rig/roll-run.ts';
import { fullTorque, peakTorque, type SimpleEngine, type SimplePlace, topSpeed } from './draw.ts';

/** One run with the engine's signals. map: Pa; throttle, lambda: 1; engineSpeed: of the engine, beyond the converter [rad/s]. As long as the run. */
export interface SimpleRun {
  readonly run: RollRun;
  readonly engineSpeed: Float64Array;
  readonly engineTorque: Float64Array;
  readonly cleanTorque: Float64Array;
  readonly map: Float64Array;
  readonly throttle: Float64Array;
  readonly lambda: Float64Array;
  readonly sync: Float64Array;
  readonly end: number;
}

interface Setup {
  readonly seed: number;
  readonly id: string;
  readonly engine: SimpleEngine;
  readonly rig: Rig;
  readonly place: SimplePlace;
  readonly from: number;
}

/** A full-load pull from a third of the redline, with lift-off and overrun. scatter: factor of this pull's torque. */
export function simplePull(setup: Setup & { faults: PullFaults; scatter: number }): SimpleRun {
  const { engine, rig, place, faults } = setup;
  const chance = chanceOf(setup.seed, `${setup.id} pull`);
  const course = faultCourse(faults, chanceOf(setup.seed, `${setup.id} faults`));
  const signals = {
    clean: [] as number[],
    map: [] as number[],
    throttle: [] as number[],
    lambda: [] as number[],
    sync: [] as number[],
  };
  const peak = peakTorque(engine);
  const spool = engine.boosted ? chance.between(0.5, 1.1) : 0.12;
  const charged = engine.boosted ? place.pressure + chance.between(60e3, 140e3) : 0.97 * place.pressure;
  let torque = 0;
  let map = 0.45 * place.pressure;
  const script = {
    from: setup.from,
    tipIn: chance.between(2.5, 5),
    holdSpeed: 0.32 * engine.redline,
    rate: (0.66 * engine.redline) / chance.between(8, 15),
    topSpeed: 0.98 * engine.redline,
    overrun: chance.between(5, 9) + 2,
  };
  const run = pullRun(rig, script, (moment) => {
    const effects = course(moment);
    const full = moment.stage === 'full';
    const asked = full
      ? fullTorque(engine, moment.speed) * setup.scatter
      : moment.stage === 'overrun'
        ? -0.1 * peak
        : rig.brakeLimit > 0
          ? 0.22 * peak
          : moment.holding;
    const lag = moment.stage === 'hold' ? 0.02 : full ? spool / 2.5 : 0.08;
    torque += (asked - torque) * Math.min(1, STEP / lag);
    const wanted = full ? charged : moment.stage === 'overrun' ? 0.35 * place.pressure : 0.45 * place.pressure;
    map += (wanted - map) * Math.min(1, STEP / lag);
    signals.clean.push(torque);
    signals.map.push(map);
    signals.throttle.push(
      full ? easeBetween(0, 0.12, moment.sinceTipIn) * 0.8 + 0.2 : moment.stage === 'hold' ? 0.2 : 0,
    );
    signals.lambda.push(lambdaOf(engine, moment.stage) + effects.lambdaA);
    signals.sync.push(effects.sync);
    return { torque: effects.lost ? -0.1 * peak : torque * effects.torque, extraSlip: effects.slip, extraAxle: 0 };
  });
  return { ...withConverter(run, engine, rig), ...frozen(signals), run, end: run.lift + script.overrun - 2 };
}

/** A coast-down from near the top speed with the clutch open, at most about 100 s long. */
export function simpleCoast(setup: Setup): SimpleRun {
  const { engine, rig, place } = setup;
  const high = 0.93 * topSpeed(rig, engine);
  const slowing =
    (rig.dragAtRest + rig.dragPerSpeed * high * 0.7) / (rig.rollMass + rig.wheelInertia / rig.radius ** 2);
  const low = Math.max(0.25 * high, high - slowing * 100);
  const run = coastRun(rig, { from: setup.from, high, low, extraDrag: 0, idleSpeed: 0.13 * engine.redline });
  const size = run.rollSpeed.length;
  const flat = (value: number): Float64Array => new Float64Array(size).fill(value);
  return {
    run,
    engineSpeed: run.engineSpeed,
    engineTorque: flat(0),
    cleanTorque: flat(0),
    map: flat(0.38 * place.pressure),
    throttle: flat(0.02),
    lambda: flat(1),
    sync: flat(0),
    end: run.from + (size - 1) * STEP,
  };
}

function lambdaOf(engine: SimpleEngine, stage: 'hold' | 'full' | 'overrun'): number {
  if (engine.ignition === 'compression') return stage === 'full' ? 1.25 : stage === 'hold' ? 2.4 : 5;
  return stage === 'full' ? 0.84 : stage === 'hold' ? 1 : 1.4;
}

/**
 * Engine speed and torque beyond the converter: it slips with the torque and passes the torque on unchanged, so only speed is lost.
 * The run was made with the inertia at the driven side; the faster engine needs a little more.
 */
function withConverter(
  run: RollRun,
  engine: SimpleEngine,
  rig: Rig,
): { engineSpeed: Float64Array; engineTorque: Float64Array } {
  const peak = peakTorque(engine);
  const slipAt = (k: number): number => engine.converterSlip * Math.max(0, at(run.engineTorque, k) / peak);
  return {
    engineSpeed: run.engineSpeed.map((speed, k) => speed / (1 - slipAt(k))),
    engineTorque: run.engineTorque.map((torque, k) => {
      const faster = at(run.engineAcceleration, k) * (1 / (1 - slipAt(k)) - 1);
      return torque + rig.engineInertia * faster;
    }),
  };
}

function frozen(signals: { clean: number[]; map: number[]; throttle: number[]; lambda: number[]; sync: number[] }) {
  return {
    cleanTorque: Float64Array.from(signals.clean),
    map: Float64Array.from(signals.map),
    throttle: Float64Array.from(signals.throttle),
    lambda: Float64Array.from(signals.lambda),
    sync: Float64Array.from(signals.sync),
  };
}
