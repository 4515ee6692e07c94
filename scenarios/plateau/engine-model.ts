import { easeBetween } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import type { Drive, Moment } from '../rig/roll-run.ts';
import { STEP } from '../rig/roll-run.ts';
import { ENGINE, type EngineState, engineState, overrunTorque } from './engine.ts';
import { type Effects, faultCourse } from './fault-effects.ts';
import type { PullFaults } from './faults.ts';
import { leftSoak, type PullPlan } from './plan.ts';
import { peakPressure, sparkAvailable, sparkNeed } from './spark.ts';
import { newTrace, record, type Trace } from './trace.ts';

/** Air around the engine [°C], [kPa]. */
export interface Air {
  readonly temperature: number;
  readonly pressure: number;
}

/** How this pull differs from the ideal one by chance alone. */
export interface Luck {
  readonly torque: number;
  readonly turbo: number;
  readonly wobble: (rpm: number) => number;
  readonly drift: () => number;
}

/** The engine of one pull: answers step by step and keeps its trace. */
export interface PullEngine {
  readonly step: (moment: Moment) => Drive;
  readonly trace: Trace;
}

/** Chance of one pull: 0.55 % of torque, 0.3 krpm, a smooth wobble of 0.25 % along the curve. Without noise every pull is the ideal one. */
export function luckOf(chance: Chance, noise: boolean): Luck {
  if (!noise) return { torque: 1, turbo: 0, wobble: () => 1, drift: () => 0 };
  const torque = 1 + 0.0055 * chance.normal();
  const turbo = 0.3 * chance.normal();
  const places = [chance.between(0, 6.28), chance.between(0, 6.28)];
  const wobble = (rpm: number): number =>
    1 + 0.0025 * (Math.sin(rpm / 270 + (places[0] ?? 0)) + Math.sin(rpm / 420 + (places[1] ?? 0)));
  let drift = 0;
  return {
    torque,
    turbo,
    wobble,
    // Slow wandering of the held pressure: 0.5 kPa, 0.3 s.
    drift: () => {
      drift += (-drift * STEP) / 0.3 + 0.5 * Math.sqrt((2 * STEP) / 0.3) * chance.normal();
      return drift;
    },
  };
}

interface Slow {
  throttle: number;
  map: number;
  turbo: number;
  p3: number;
  boost: number;
  charge: number;
  egt: number;
  lambda: number;
  soak: number;
  camA: number;
  camB: number;
  heavy: EngineState | undefined;
  shown: number;
  timing: number;
  reached: number;
}

/** The engine of a pull with its faults. */
export function pullEngine(input: {
  plan: PullPlan;
  faults: PullFaults;
  air: Air;
  luck: Luck;
  chance: Chance;
}): PullEngine {
  const { plan, faults, air, luck } = input;
  const trace = newTrace();
  const course = faultCourse(faults, input.chance);
  const slow = startOf(plan, air, faults);
  const step = (moment: Moment): Drive => {
    const rpm = (moment.speed * 30) / Math.PI;
    const effects = course(moment);
    moveSlow({ slow, plan, faults, air, luck, moment, effects, rpm });
    const full = moment.stage === 'full';
    const rich = slow.heavy;
    const fired = rich ? rich.torque * (rich.air > 0 ? 1 : 0) : moment.holding;
    const pulled = full ? fired * luck.torque * luck.wobble(rpm) : Math.max(0, fired);
    const overrun = overrunTorque(rpm, slow.map);
    const blend = moment.stage === 'overrun' ? Math.max(0, slow.throttle * 1.25 - 0.25) : 1;
    const clean = blend * pulled + (1 - blend) * overrun;
    // A cut leaves the engine dragging; other faults take a share of the fired torque.
    const torque = effects.lost ? overrun : clean * effects.torque;
    recordStep({ trace, slow, plan, faults, moment, effects, rpm, clean, air });
    return { torque, extraSlip: effects.slip, extraAxle: faults.axleTorque ?? 0 };
  };
  return { step, trace };
}

interface StepInput {
  readonly slow: Slow;
  readonly plan: PullPlan;
  readonly faults: PullFaults;
  readonly moment: Moment;
  readonly effects: Effects;
  readonly rpm: number;
}

function startOf(plan: PullPlan, air: Air, faults: PullFaults): Slow {
  return {
    throttle: 0.2,
    map: PART_LOAD,
    turbo: 28,
    p3: air.pressure + 4,
    boost: air.pressure - 1,
    charge: air.temperature + 9 + (faults.heatSoak ?? 0),
    egt: 640,
    lambda: 1,
    soak: leftSoak(plan),
    camA: CRUISE_PHASE,
    camB: CRUISE_PHASE + (faults.phaserB?.error ?? 0),
    heavy: undefined,
    shown: 2000,
    timing: 28,
    reached: Number.POSITIVE_INFINITY,
  };
}

/** Manifold pressure [kPa] of the hold at part load and of the closed throttle. */
const PART_LOAD = 62;
const CLOSED = 34;
const CRUISE_PHASE = 8;

function moveSlow(input: StepInput & { air: Air; luck: Luck }): void {
  const { slow, moment, air, plan, faults } = input;
  const full = moment.stage === 'full';
  const over = moment.stage === 'overrun';
  slow.throttle += ((over ? 0 : full ? 1 : 0.2) - slow.throttle) * (STEP / 0.06);
  slow.map = manifold(input);
  if (full && slow.map > air.pressure) slow.soak += STEP / 4;
  const target = over ? 0 : plan.phase;
  if (moment.stage !== 'hold') movePhasers(slow, target, faults);
  if (full || over) slow.lambda += ((full ? ENGINE.lambda : 1.38) - slow.lambda) * (STEP / 0.12);
  if (!over && moment.index % 4 === 0) slow.heavy = heavyState(input);
  const state = slow.heavy;
  if (!state) return;
  const leak = full ? faults.leak : undefined;
  const turbo = over ? 25 : state.turboSpeed + input.luck.turbo + (leak?.turbo ?? 0) * easeBetween(100, 150, slow.map);
  slow.turbo += (turbo - slow.turbo) * Math.min(1, STEP / (turbo < slow.turbo ? 1.2 : 0.05));
  slow.p3 += ((over ? air.pressure + 5 : state.p3) - slow.p3) * (STEP / 0.06);
  slow.boost +=
    ((over ? air.pressure + 1 : Math.max(state.boost, air.pressure - 1)) - slow.boost) * (STEP / (over ? 0.4 : 0.05));
  slow.charge = over ? slow.charge - (slow.charge - air.temperature - 14) * (STEP / 12) : state.chargeTemperature;
  const exhaust = over ? 520 : full ? state.exhaustTemperature : 640;
  slow.egt += (exhaust - slow.egt) * (STEP / (over ? 2.5 : 0.8));
  if (!input.effects.lost) slow.timing = over ? 12 : full ? state.timing : 28;
}

/** Held to the absolute target as soon as the turbocharger can; earlier the boost builds with engine speed. */
function manifold(input: StepInput & { air: Air; luck: Luck }): number {
  const { slow, moment, air, plan, faults, rpm } = input;
  if (moment.stage === 'hold') return PART_LOAD;
  if (moment.stage === 'overrun') {
    const flutter = faults.flutter
      ? 4 * Math.exp(-moment.sinceLift / 0.3) * Math.sin(moment.sinceLift * 2 * Math.PI * 9)
      : 0;
    return slow.map + (CLOSED + flutter - slow.map) * (STEP / 0.09);
  }
  const open = air.pressure * 0.985;
  const ready = 2600 + 6 * (plan.map - 150);
  const share = easeBetween(2020, ready, rpm);
  if (share >= 1 && slow.reached === Number.POSITIVE_INFINITY) slow.reached = moment.time;
  const wanted = open + (plan.map - open) * share + input.luck.drift() * share + swing(input);
  return slow.map + (wanted - slow.map) * (STEP / 0.07);
}

function swing({ faults, slow, moment, rpm }: StepInput): number {
  const fault = faults.swing;
  if (!fault || slow.reached > moment.time) return 0;
  const since = moment.time - slow.reached;
  const bump = fault.overshoot * 1.12 * easeBetween(0, 0.15, since) * (1 - easeBetween(0.3, 0.75, since));
  const inside = easeBetween(fault.from, fault.from + 150, rpm) * (1 - easeBetween(fault.to - 150, fault.to, rpm));
  // The manifold's own lag takes a good part of a swing away; the command makes up for it.
  const size = fault.size * Math.sqrt(1 + (2 * Math.PI * fault.hertz * 0.07) ** 2);
  return bump + inside * size * Math.sin(2 * Math.PI * fault.hertz * since);
}

function movePhasers(slow: Slow, target: number, faults: PullFaults): void {
  slow.camA += (target - slow.camA) * (STEP / 0.12);
  const fault = faults.phaserB;
  if (!fault) {
    slow.camB += (target - slow.camB) * (STEP / 0.12);
    return;
  }
  // A sticking phaser: slow, so it trails by several degrees, and it stops short of the target.
  slow.camB += (target + fault.error - slow.camB) * (STEP / 0.9);
}

function heavyState({ slow, plan, faults, air, rpm, moment }: StepInput & { air: Air }): EngineState {
  const extra = (faults.heatSoak ?? 0) + (moment.stage === 'full' ? (faults.leak?.charge ?? 0) : 0);
  return engineState({
    rpm,
    map: slow.map,
    ambientTemperature: air.temperature,
    ambientPressure: air.pressure,
    soak: slow.soak,
    preCleaner: plan.preCleaner,
    phaseA: moment.stage === 'full' ? slow.camA : 0,
    phaseB: moment.stage === 'full' ? slow.camB : 0,
    timing: moment.stage === 'full' ? plan.timing : 0,
    extraCharge: extra,
  });
}

function recordStep(input: StepInput & { trace: ReturnType<typeof newTrace>; clean: number; air: Air }): void {
  const { slow, plan, faults, moment, effects, rpm } = input;
  const full = moment.stage === 'full';
  const over = moment.stage === 'overrun';
  const sag = faults.voltageSag ?? (Number(plan.id) > 17 ? 0.3 : 0.8);
  const volts = 13.9 - sag * Math.min(1, Math.max(0, (rpm - 5200) / 900)) * (full ? 1 : 0.3);
  const state = slow.heavy;
  if (!effects.lost) slow.shown = rpm;
  const best = state?.bestTiming ?? 30;
  const point = { map: slow.map, timing: slow.timing, volumetric: state?.volumetric ?? 0.8 };
  record(input.trace, {
    rpm,
    rpmShown: effects.lost ? shownWhenLost(slow.shown, effects.sync) : rpm,
    throttle: slow.throttle,
    pedal: over ? 0 : full ? 1 : 0.22,
    map: slow.map,
    target: full ? plan.map : over ? 40 : 65,
    boost: slow.boost + (over && faults.flutter ? flutterOf(moment.sinceLift) : 0),
    inlet: over || !state ? input.air.pressure - 0.05 : state.inlet,
    charge: slow.charge,
    turbo: slow.turbo,
    p3: slow.p3,
    egt: slow.egt,
    lambdaA: slow.lambda + effects.lambdaA,
    lambdaB: slow.lambda + effects.lambdaB,
    lambdaTarget: full ? ENGINE.lambda : over ? 0.98 : 1,
    lambdaDelay: delayAt(rpm),
    timing: slow.timing,
    duty: over ? 0 : (state?.duty ?? 0) * (ENGINE.lambda / slow.lambda),
    fuelPressure: 350 + effects.fuelPressure,
    wastegate: wastegate(input),
    volts,
    camA: slow.camA,
    camB: slow.camB,
    camTarget: moment.stage === 'hold' ? CRUISE_PHASE : over ? 0 : plan.phase,
    sync: effects.sync,
    cut: effects.cut,
    load: full ? 1 : over ? 0 : 0.2,
    coolantPressure: effects.coolantPressure,
    knock3: effects.knock3,
    knock5: effects.knock5,
    retard3: effects.retard3,
    retard5: effects.retard5,
    peakPressure: full ? peakPressure(slow.map, slow.timing, best) + (effects.knocking ? 15 : 0) : 30,
    sparkNeed: full ? sparkNeed(point, plan.gap) : 10,
    sparkAvailable: sparkAvailable(volts),
    cleanTorque: input.clean,
  });
}

/** Without a crank signal the shown speed holds its last value, jumps to double or falls to zero. */
function shownWhenLost(last: number, count: number): number {
  return count <= 1 ? last : count <= 3 ? 0 : 2 * last;
}

function flutterOf(since: number): number {
  return 26 * Math.exp(-since / 0.28) * Math.sin(since * 2 * Math.PI * 9);
}

/** Transport delay of the exhaust to the lambda sensors [s]. */
export function delayAt(rpm: number): number {
  return Math.min(0.4, Math.max(0.09, 0.28 - ((rpm - 3000) / 4000) * 0.19));
}

/** Duty that closes the wastegate [1]. */
function wastegate({ slow, faults, moment, rpm }: StepInput): number {
  if (moment.stage !== 'full') return 0;
  const duty = 0.2 + 0.0026 * (slow.map - 100) + 0.00002 * (rpm - 3500);
  return duty + (faults.leak?.wastegate ?? 0) * easeBetween(100, 150, slow.map);
}
