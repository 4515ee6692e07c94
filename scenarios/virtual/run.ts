import { at } from '../interpolate.ts';
import { type Rig, radiusAt } from '../rig/rig.ts';
import { coastRun, type Moment, pullRun, type RollRun, STEP } from '../rig/roll-run.ts';
import type { Asked } from './asked.ts';
import { type Knobs, neutralKnobs } from './knobs.ts';
import { engineStep, pressureFor } from './model.ts';
import { emptySignals, SIGNALS, type Signals } from './signals.ts';
import type { EngineState } from './state.ts';

/** What a fault sees before it changes anything. share: engine speed over the redline [1]; torque: of the step before [N·m]. */
export interface Instant {
  readonly time: number;
  readonly stage: Moment['stage'];
  readonly sinceTipIn: number;
  readonly sinceLift: number;
  readonly speed: number;
  readonly share: number;
  readonly torque: number;
  readonly state: EngineState;
}

/** Turns knobs and answers how strongly it acts, 0 … 1; above 0.2 counts as inside its window. */
export type Act = (instant: Instant, knobs: Knobs) => number;

/** One run with everything the engine did. active: first and last step in which each act acted, by its place; none when it never did. */
export interface VirtualRun {
  readonly run: RollRun;
  readonly signals: Signals;
  readonly active: readonly ({ readonly from: number; readonly to: number } | undefined)[];
  readonly end: number;
}

/** How a pull is driven. Times [s] on the roller's clock, speeds [rad/s], rate [rad/s²]. */
export interface PullPlan {
  readonly from: number;
  readonly tipIn: number;
  readonly holdShare: number;
  readonly rate: number;
  readonly topShare: number;
  readonly overrun: number;
  readonly longest: number;
  readonly luck: number;
}

/** How a coast-down is driven: tyre surface speeds [m/s], idle [rad/s]; tail: with the clutch open after one in gear [s]. */
export interface CoastPlan {
  readonly from: number;
  readonly high: number;
  readonly low: number;
  readonly inGear: boolean;
  readonly idle: number;
  readonly tail: number;
}

/** Lag of what slips between engine and gears [s]. @source our default */
const SLIP_LAG = 0.06;

/** A full-load pull of the engine on the rig. */
export function virtualPull(
  rig: Rig,
  state: EngineState,
  { plan, acts }: { plan: PullPlan; acts: readonly Act[] },
): VirtualRun {
  const { engine } = state;
  const signals = emptySignals();
  const watch = watcher(acts);
  const before = { engine: Number.NaN, driven: Number.NaN, torque: 0, slip: 0 };
  const script = {
    from: plan.from,
    tipIn: plan.tipIn,
    holdSpeed: plan.holdShare * engine.redline,
    rate: plan.rate,
    topSpeed: plan.topShare * engine.redline,
    overrun: plan.overrun + 2,
    longest: plan.longest,
  };
  const run = pullRun(rig, script, (moment) => {
    const knobs = neutralKnobs();
    knobs.luck = plan.luck;
    const converter = engine.converterSlip * Math.max(0, before.torque / (engine.power / (0.7 * engine.redline)));
    const share = moment.speed / engine.redline;
    watch.look({ ...moment, share, torque: before.torque, state }, knobs, moment.index);
    // No slip comes in one step: the engine has to be turned faster first.
    const slip = Math.min(0.3, converter) + knobs.converterSlip + knobs.clutchSlip;
    before.slip += ((Math.min(0.6, slip) - before.slip) * STEP) / SLIP_LAG;
    const speed = moment.speed / (1 - before.slip);
    const holding = rig.brakeLimit > 0 ? 0.2 * (engine.power / engine.redline) : moment.holding;
    const asked: Asked = {
      dt: STEP,
      time: moment.time,
      speed,
      stage: moment.stage,
      sinceTipIn: moment.sinceTipIn,
      holdingPressure: pressureFor(state, { torque: holding, speed }),
      knobs,
    };
    const row = engineStep(state, asked);
    for (const name of SIGNALS) signals[name].push(row[name]);
    // What turns the engine faster than the gears do stays in the engine.
    const faster = Number.isFinite(before.engine) ? (speed - before.engine - (moment.speed - before.driven)) / STEP : 0;
    before.engine = speed;
    before.driven = moment.speed;
    before.torque += (row.engineTorque - before.torque) * 0.2;
    const passed = row.engineTorque - rig.engineInertia * faster;
    return {
      torque: passed,
      extraSlip: knobs.slip,
      extraAxle: knobs.axleTorque + knobs.drag * rig.radius,
      // The driver lifts by the engine's speed, whatever slips behind it.
      lift: speed >= script.topSpeed,
    };
  });
  return finished(rig, { run, signals, active: watch.active }, run.lift + plan.overrun);
}

/** A coast-down: with the clutch open at idle, or in gear with the engine dragged along and the clutch opened at the end. */
export function virtualCoast(
  rig: Rig,
  state: EngineState,
  { plan, acts }: { plan: CoastPlan; acts: readonly Act[] },
): VirtualRun {
  const signals = emptySignals();
  const watch = watcher(acts);
  let index = 0;
  const knobs = { now: neutralKnobs() };
  const stepAt = (speed: number, stage: 'overrun' | 'idle'): number => {
    knobs.now = neutralKnobs();
    const time = plan.from + index * STEP;
    const seen = { time, stage: 'overrun', sinceTipIn: Number.NaN, sinceLift: time - plan.from } as const;
    watch.look({ ...seen, speed, share: speed / state.engine.redline, torque: 0, state }, knobs.now, index);
    index += 1;
    const asked = { dt: STEP, time, speed, stage, sinceTipIn: Number.NaN, holdingPressure: 0, knobs: knobs.now };
    const row = engineStep(state, asked);
    if (stage === 'idle') row.engineTorque = 0;
    for (const name of SIGNALS) signals[name].push(row[name]);
    return row.engineTorque;
  };
  const dragOf = (): number => knobs.now.drag + knobs.now.axleTorque / rig.radius;
  const base = { from: plan.from, high: plan.high, idleSpeed: plan.idle };
  if (!plan.inGear) {
    const run = coastRun(rig, {
      ...base,
      low: plan.low,
      extraDrag: () => {
        stepAt(plan.idle, 'idle');
        return dragOf();
      },
    });
    return finished(rig, { run, signals, active: watch.active }, plan.from + (run.rollSpeed.length - 1) * STEP);
  }
  const geared = coastRun(rig, {
    ...base,
    low: plan.low,
    extraDrag: () => dragOf(),
    engineTorque: (speed) => stepAt(speed, 'overrun'),
  });
  const left = at(geared.rollSpeed, geared.rollSpeed.length - 1);
  let [steps, speed] = [0, at(geared.engineSpeed, geared.engineSpeed.length - 1)];
  const tail = coastRun(rig, {
    ...base,
    high: left,
    low: 0.1,
    longest: plan.tail,
    extraDrag: () => {
      // With the clutch open the engine falls to its idle, or stops when nothing catches it.
      const goal = knobs.now.stalls ? -0.4 * plan.idle : plan.idle;
      speed = Math.max(0, speed + ((goal - speed) * STEP) / 0.5);
      steps += 1;
      stepAt(speed, speed > 0 ? 'idle' : 'overrun');
      return dragOf();
    },
  });
  const joined = joinedRuns(geared, { ...tail, engineSpeed: Float64Array.from(signals.engineSpeed.slice(-steps)) });
  return finished(
    rig,
    { run: joined, signals, active: watch.active },
    plan.from + (joined.rollSpeed.length - 1) * STEP,
  );
}

/** A run that goes on after another. */
function joinedRuns(first: RollRun, second: RollRun): RollRun {
  const both = (name: Exclude<keyof RollRun, 'from' | 'tipIn' | 'lift'>): Float64Array =>
    Float64Array.from([...first[name], ...second[name]]);
  return {
    from: first.from,
    tipIn: first.tipIn,
    lift: first.lift,
    engineSpeed: both('engineSpeed'),
    engineTorque: both('engineTorque'),
    engineAcceleration: both('engineAcceleration'),
    tyreSpeed: both('tyreSpeed'),
    rollSpeed: both('rollSpeed'),
    rollAcceleration: both('rollAcceleration'),
    slip: both('slip'),
    tyreForce: both('tyreForce'),
    brakeForce: both('brakeForce'),
  };
}

function watcher(acts: readonly Act[]): {
  look: (instant: Instant, knobs: Knobs, index: number) => void;
  active: ({ from: number; to: number } | undefined)[];
} {
  const active: ({ from: number; to: number } | undefined)[] = acts.map(() => undefined);
  return {
    active,
    look: (instant, knobs, index) => {
      acts.forEach((act, k) => {
        if (!(act(instant, knobs) > 0.2)) return;
        const window = active[k];
        if (window) window.to = index;
        else active[k] = { from: index, to: index };
      });
    },
  };
}

function finished(
  rig: Rig,
  made: { run: RollRun; signals: Signals; active: VirtualRun['active'] },
  end: number,
): VirtualRun {
  const { run, signals } = made;
  signals.wheelSpeed = Array.from(run.tyreSpeed, (speed) => (speed / radiusAt(rig, speed)) * rig.radius);
  const size = Math.min(run.rollSpeed.length, signals.map.length);
  for (const name of SIGNALS) signals[name].length = size;
  const shown = {
    ...run,
    engineSpeed: Float64Array.from(signals.engineSpeed),
    engineTorque: Float64Array.from(signals.engineTorque),
  };
  return { run: shown, signals, active: made.active, end };
}

/** Rows of the full-load part after a settling time [s], every other step. share: engine speed over the last one of the part. */
export function fullLoad(
  { run, signals }: VirtualRun,
  settle: number,
): { row: number; share: number; at: (name: keyof Signals) => number }[] {
  const rows: { row: number; share: number; at: (name: keyof Signals) => number }[] = [];
  const top = Math.max(
    1e-9,
    at(run.engineSpeed, Math.min(run.engineSpeed.length - 1, Math.round((run.lift - run.from) / STEP) - 1)),
  );
  for (let k = Math.round((run.tipIn - run.from + settle) / STEP); run.from + k * STEP < run.lift - 0.05; k += 2) {
    rows.push({ row: k, share: at(run.engineSpeed, k) / top, at: (name) => signals[name][k] ?? Number.NaN });
  }
  return rows;
}
