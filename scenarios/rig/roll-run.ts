import { clamp } from '../interpolate.ts';
import { dragAt, engineSpeedAt, type Rig, radiusAt, tyreSpeedAt } from './rig.ts';

/** Time step of the simulation [s]. */
export const STEP = 0.005;

/** What a pull asks for. Times in s on the roller's clock (0: its file starts); speeds in rad/s. */
export interface PullScript {
  readonly from: number;
  readonly tipIn: number;
  readonly holdSpeed: number;
  readonly rate: number;
  readonly topSpeed: number;
  readonly overrun: number;
  /** Full load for no longer than this [s]; absent: until the top speed. */
  readonly longest?: number;
}

/** The moment the engine is asked about. holding: torque that would keep the speed without any brake [N·m]. */
export interface Moment {
  readonly index: number;
  readonly time: number;
  readonly speed: number;
  readonly stage: 'hold' | 'full' | 'overrun';
  readonly sinceTipIn: number;
  readonly sinceLift: number;
  readonly holding: number;
}

/** What the engine and the driveline answer. extraSlip: beyond creep [1]; extraAxle: torque lost at the axle [N·m]; lift: full load ends here. */
export interface Drive {
  readonly torque: number;
  readonly extraSlip: number;
  readonly extraAxle: number;
  readonly lift?: boolean;
}

/** One run, every STEP from `from` on. SI; forces and speeds at the roll surface unless the name says tyre. */
export interface RollRun {
  readonly from: number;
  readonly tipIn: number;
  readonly lift: number;
  readonly engineSpeed: Float64Array;
  readonly engineTorque: Float64Array;
  readonly engineAcceleration: Float64Array;
  readonly tyreSpeed: Float64Array;
  readonly rollSpeed: Float64Array;
  readonly rollAcceleration: Float64Array;
  readonly slip: Float64Array;
  readonly tyreForce: Float64Array;
  readonly brakeForce: Float64Array;
}

/** Drives the rig through a pull: holds a speed, ramps at full load with the brake keeping the rate, lifts off and overruns with the brake open. */
export function pullRun(rig: Rig, script: PullScript, engine: (moment: Moment) => Drive): RollRun {
  const columns = emptyColumns();
  const state = startState(rig, script.holdSpeed);
  const brake = { estimate: 0, target: state.roll, force: 0 };
  let lift = Number.POSITIVE_INFINITY;
  for (let index = 0; ; index += 1) {
    const time = script.from + index * STEP;
    const tyreSpeed = state.roll / (1 - state.slip);
    const engineSpeed = engineSpeedAt(rig, tyreSpeed);
    const over = engineSpeed >= script.topSpeed || time - script.tipIn > (script.longest ?? Number.POSITIVE_INFINITY);
    if (lift === Number.POSITIVE_INFINITY && time > script.tipIn && over) lift = time;
    if (time > lift + script.overrun) break;
    const stage = time >= lift ? 'overrun' : time >= script.tipIn ? 'full' : 'hold';
    const moment: Moment = {
      index,
      time,
      speed: engineSpeed,
      stage,
      sinceTipIn: time - script.tipIn,
      sinceLift: time - lift,
      holding: holdingTorque({ rig, tyreSpeed, target: script.holdSpeed, engineSpeed }),
    };
    const drive = engine(moment);
    if (drive.lift === true && stage === 'full') lift = time + STEP;
    brake.force = brakeForce({ rig, script, moment, brake, roll: state.roll });
    const moved = move({ rig, state, drive, brake: brake.force, tyreSpeed });
    push(columns, { engineSpeed, torque: drive.torque, tyreSpeed, state, moved, brake: brake.force });
    brake.estimate += ((moved.force - brake.estimate) * STEP) / 0.12;
    advance(state, moved);
    if (index > 60_000) throw new Error('a pull that never ends');
  }
  return finish(columns, { from: script.from, tipIn: script.tipIn, lift });
}

interface State {
  roll: number;
  slip: number;
  direction: number;
}

interface Moved {
  readonly force: number;
  readonly acceleration: number;
  readonly slipRate: number;
  readonly engineAcceleration: number;
  readonly direction: number;
}

function startState(rig: Rig, engineSpeed: number): State {
  return { roll: tyreSpeedAt(rig, engineSpeed), slip: 0, direction: 1 };
}

function advance(state: State, moved: Moved): void {
  state.roll += moved.acceleration * STEP;
  state.slip += moved.slipRate * STEP;
  state.direction = moved.direction;
}

/**
 * Force, accelerations and slip rate of one step. Roll: M·a = F − F_brake. Tyre: slip follows creep·F with a short lag.
 * Engine and wheels turn with the tyre, so their inertia answers to a and to the slip rate; all three are solved together.
 */
function move(input: { rig: Rig; state: State; drive: Drive; brake: number; tyreSpeed: number }): Moved {
  const { rig, state, drive, tyreSpeed } = input;
  const radius = radiusAt(rig, tyreSpeed);
  const stretch = 1 - (2 * rig.growth * (tyreSpeed / 52) ** 2 * rig.radius) / radius;
  const meshes = 1 - rig.lossShare * state.direction;
  const lever = rig.ratio / radius;
  const rolling = 1 - rig.rollingShare;
  const inertia = (rig.engineInertia * lever ** 2 * meshes + rig.wheelInertia / radius ** 2) * stretch * rolling;
  const steady = (drive.torque * lever * meshes - dragAt(rig, tyreSpeed) - drive.extraAxle / radius) * rolling;
  // d(tyreSpeed)/dt = a/(1−s) + v·ṡ/(1−s)²
  const byAcceleration = inertia / (1 - state.slip);
  const bySlipRate = (inertia * state.roll) / (1 - state.slip) ** 2;
  const pull = (drive.extraSlip - state.slip) / SLIP_LAG;
  const force =
    (steady + (byAcceleration * input.brake) / rig.rollMass - bySlipRate * pull) /
    (1 + byAcceleration / rig.rollMass + (bySlipRate * rig.creep) / SLIP_LAG);
  const acceleration = (force - input.brake) / rig.rollMass;
  const slipRate = (rig.creep * force) / SLIP_LAG + pull;
  const tyreRate = acceleration / (1 - state.slip) + (state.roll * slipRate) / (1 - state.slip) ** 2;
  const engineAcceleration = lever * stretch * tyreRate;
  const net = drive.torque - rig.engineInertia * engineAcceleration;
  return { force, acceleration, slipRate, engineAcceleration, direction: net >= 0 ? 1 : -1 };
}

const SLIP_LAG = 0.03;

/** Brake of the roller: keeps the hold, then the wanted rate; opens on lift-off. Lags 60 ms. */
function brakeForce(input: {
  rig: Rig;
  script: PullScript;
  moment: Moment;
  brake: { estimate: number; target: number; force: number };
  roll: number;
}): number {
  const { rig, script, moment, brake, roll } = input;
  const nominal = rig.radius / rig.ratio;
  const wanted = moment.stage === 'full' ? script.rate * nominal : 0;
  if (moment.stage === 'hold') {
    brake.target = script.holdSpeed * nominal * (1 + 0.012 * Math.sin(moment.time * 1.1));
  } else if (moment.stage === 'full') {
    // The target does not run away from a roll that cannot follow yet.
    brake.target = Math.min(brake.target + wanted * STEP, roll + 0.15);
  }
  const command = brake.estimate - rig.rollMass * wanted + 4 * rig.rollMass * (roll - brake.target);
  const asked = moment.stage === 'overrun' ? 0 : clamp(command, 0, rig.brakeLimit);
  const next = brake.force + ((asked - brake.force) * STEP) / 0.06;
  return next < 0.5 ? 0 : next;
}

function holdingTorque(input: { rig: Rig; tyreSpeed: number; target: number; engineSpeed: number }): number {
  const { rig, tyreSpeed } = input;
  const lever = rig.ratio / radiusAt(rig, tyreSpeed);
  const gain = (2 * rig.rollMass) / lever ** 2;
  return dragAt(rig, tyreSpeed) / lever / (1 - rig.lossShare) + gain * (input.target - input.engineSpeed);
}

type Columns = Record<Exclude<keyof RollRun, 'from' | 'tipIn' | 'lift'>, number[]>;

function emptyColumns(): Columns {
  return {
    engineSpeed: [],
    engineTorque: [],
    engineAcceleration: [],
    tyreSpeed: [],
    rollSpeed: [],
    rollAcceleration: [],
    slip: [],
    tyreForce: [],
    brakeForce: [],
  };
}

function push(
  columns: Columns,
  row: { engineSpeed: number; torque: number; tyreSpeed: number; state: State; moved: Moved; brake: number },
): void {
  columns.engineSpeed.push(row.engineSpeed);
  columns.engineTorque.push(row.torque);
  columns.engineAcceleration.push(row.moved.engineAcceleration);
  columns.tyreSpeed.push(row.tyreSpeed);
  columns.rollSpeed.push(row.state.roll);
  columns.rollAcceleration.push(row.moved.acceleration);
  columns.slip.push(row.state.slip);
  columns.tyreForce.push(row.moved.force);
  columns.brakeForce.push(row.brake);
}

function finish(columns: Columns, times: { from: number; tipIn: number; lift: number }): RollRun {
  return {
    ...times,
    engineSpeed: Float64Array.from(columns.engineSpeed),
    engineTorque: Float64Array.from(columns.engineTorque),
    engineAcceleration: Float64Array.from(columns.engineAcceleration),
    tyreSpeed: Float64Array.from(columns.tyreSpeed),
    rollSpeed: Float64Array.from(columns.rollSpeed),
    rollAcceleration: Float64Array.from(columns.rollAcceleration),
    slip: Float64Array.from(columns.slip),
    tyreForce: Float64Array.from(columns.tyreForce),
    brakeForce: Float64Array.from(columns.brakeForce),
  };
}

/** What a coast-down asks for: surface speeds [m/s]; engineTorque: of an engine that is dragged along in gear [N·m], absent with the clutch open. */
export interface CoastScript {
  readonly from: number;
  readonly high: number;
  readonly low: number;
  /** Drag on top of the rig's own [N], alone or over the tyre surface speed [m/s]. */
  readonly extraDrag: number | ((tyreSpeed: number) => number);
  readonly engineTorque?: (engineSpeed: number) => number;
  /** [s]; absent: until the low speed. */
  readonly longest?: number;
  readonly idleSpeed: number;
}

/** Lets the roll and the wheels run down with the brake open. */
export function coastRun(rig: Rig, script: CoastScript): RollRun {
  const columns = emptyColumns();
  const state: State = { roll: script.high, slip: 0, direction: -1 };
  const most = Math.min(60_000, (script.longest ?? Number.POSITIVE_INFINITY) / STEP);
  while (state.roll > script.low && columns.rollSpeed.length < most) {
    const tyreSpeed = state.roll / (1 - state.slip);
    const turning = engineSpeedAt(rig, tyreSpeed);
    const torque = script.engineTorque ? script.engineTorque(turning) : 0;
    const used = script.engineTorque ? rig : { ...rig, engineInertia: 0, lossShare: 0 };
    const extra = typeof script.extraDrag === 'number' ? script.extraDrag : script.extraDrag(tyreSpeed);
    const drive = { torque, extraSlip: 0, extraAxle: extra * radiusAt(rig, tyreSpeed) };
    const moved = move({ rig: used, state, drive, brake: 0, tyreSpeed });
    const engineSpeed = script.engineTorque ? turning : script.idleSpeed;
    push(columns, { engineSpeed, torque, tyreSpeed, state, moved, brake: 0 });
    advance(state, moved);
  }
  return finish(columns, { from: script.from, tipIn: Number.POSITIVE_INFINITY, lift: script.from });
}
