import { drawnErrors, nominalErrors, trueRig } from '../instruments.ts';
import { clamp } from '../interpolate.ts';
import { type Chance, chanceOf } from '../random.ts';
import type { LogDialect } from '../rig/log-text.ts';
import type { Rig } from '../rig/rig.ts';
import { pullRun, type RollRun } from '../rig/roll-run.ts';
import { timeAbove, truthCurve, truthSignal, truthSlip } from '../rig/run-truth.ts';
import type { EntryTruth, InstrumentErrors, MadeDay, MadeFile } from '../truth.ts';
import { coast } from './coast.ts';
import { compressorMapText } from './compressor.ts';
import { MAP_FILE, plateauDayText } from './day-facts.ts';
import { engineLog } from './engine-log.ts';
import { luckOf, pullEngine } from './engine-model.ts';
import { faultWindows } from './fault-windows.ts';
import { FAULTS, type PullFaults, probeError } from './faults.ts';
import { heatOf } from './heat.ts';
import { type CoastPlan, hallAir, PLAN, type PullPlan, pullsBeforeInBlock, treadTemperature } from './plan.ts';
import { type RollerTime, rollerLog } from './roller-log.ts';
import type { Trace } from './trace.ts';
import { rollingShare, STATED_RIG } from './vehicle.ts';

/** pulls: ids of the entries to make, all when absent; notes always stay. noise, faults: on unless false. */
export interface PlateauOptions {
  readonly seed: number;
  readonly pulls?: readonly string[];
  readonly instruments?: 'nominal' | 'drawn';
  readonly noise?: boolean;
  readonly faults?: boolean;
}

/** The demonstration day "Plateau": entirely invented. Same options, same bytes; an entry has the same bytes alone and in the whole day. */
export function makePlateauDay(options: PlateauOptions): MadeDay {
  const faults = options.faults !== false;
  const drift = faults ? -22 : 0;
  const drawn = options.instruments === 'drawn';
  const errors = drawn ? drawnErrors(chanceOf(options.seed, 'instruments'), drift) : nominalErrors(drift);
  const day: Day = { ...options, faults, noise: options.noise !== false, errors, rig: trueRig(STATED_RIG, errors) };
  const kept = PLAN.filter(
    (entry) => options.pulls === undefined || options.pulls.includes(entry.id) || isNote(entry.kind),
  );
  const files: MadeFile[] = [];
  const names = new Map<string, readonly string[]>();
  const truths: EntryTruth[] = [];
  for (const entry of kept) {
    if (entry.kind !== 'pull' && entry.kind !== 'coast-down') continue;
    const made = entry.kind === 'pull' ? makePull(day, entry) : makeCoast(day, entry);
    files.push(...made.files);
    names.set(
      entry.id,
      made.files.map((file) => file.name),
    );
    truths.push(made.truth);
  }
  const text = plateauDayText(kept, names);
  const bytesOf = (written: string): Uint8Array => new TextEncoder().encode(written);
  return {
    files: [
      { name: 'day.yaml', bytes: bytesOf(text) },
      ...files,
      { name: MAP_FILE, bytes: bytesOf(compressorMapText()) },
    ],
    truth: { seed: options.seed, rig: day.rig, instruments: errors, entries: truths },
  };
}

function isNote(kind: string): boolean {
  return kind === 'note' || kind === 'change';
}

interface Day {
  readonly seed: number;
  readonly noise: boolean;
  readonly faults: boolean;
  readonly errors: InstrumentErrors;
  readonly rig: Rig;
}

interface Made {
  readonly files: readonly MadeFile[];
  readonly truth: EntryTruth;
}

const CLOCK_RATE = 180e-6;
const RAD = Math.PI / 30;

function makePull(day: Day, plan: PullPlan): Made {
  const course = chanceOf(day.seed, `pull ${plan.id} course`);
  const faults = day.faults ? (FAULTS[plan.id] ?? {}) : {};
  const rig = { ...day.rig, rollingShare: rollingShare(plan.straps, treadTemperature(plan.clock)) };
  const offset = plan.id === '1' ? 3.42 : Math.round(course.between(1.2, 9.7) * 100) / 100;
  const tipIn = course.between(3.2, 5);
  const end = { overrun: course.between(6.5, 9.5), engine: course.between(-1.8, 1.8) };
  const engine = pullEngine({
    plan,
    faults,
    air: hallAir(plan.clock),
    luck: luckOf(chanceOf(day.seed, `pull ${plan.id} luck`), day.noise),
    chance: chanceOf(day.seed, `pull ${plan.id} faults`),
  });
  const script = {
    from: -offset - 1,
    tipIn,
    holdSpeed: 2000 * RAD,
    rate: 400 * RAD,
    topSpeed: (faults.softCut ? 6650 : 7000) * RAD,
    overrun: end.overrun + 2,
  };
  const run = pullRun(rig, script, engine.step);
  const rollerEnd = run.lift + end.overrun;
  const probe = day.faults ? probeError(plan.id, pullsBeforeInBlock(plan.id)) : 0;
  const shared = { day, run, rig, plan, faults, clock: { offset, rate: CLOCK_RATE } };
  return {
    files: [
      rollerFile({ ...shared, end: rollerEnd, probe }),
      engineFile({ ...shared, end: rollerEnd + end.engine, trace: engine.trace }),
    ],
    truth: {
      id: plan.id,
      kind: 'pull',
      clock: shared.clock,
      curve: truthCurve(run, engine.trace.cleanTorque),
      signals: signalsOf(run, engine.trace),
      slip: truthSlip(run),
      faults: faultWindows(run, faults, probe),
      ambient: ambientTruth(plan.clock),
      extraDrag: 0,
      axleTorque: faults.axleTorque ?? 0,
      forceZero: forceZero(day, plan.clock),
    },
  };
}

function makeCoast(day: Day, plan: CoastPlan): Made {
  const course = chanceOf(day.seed, `coast ${plan.id} course`);
  const offset = Math.round(course.between(1.2, 4.5) * 100) / 100;
  const spread = day.noise ? 1 + 0.008 * course.normal() : 1;
  const rig = { ...day.rig, dragAtRest: day.rig.dragAtRest * spread, dragPerSpeed: day.rig.dragPerSpeed * spread };
  const extraDrag = day.faults ? plan.extraDrag : 0;
  const air = hallAir(plan.clock);
  const { run, trace } = coast({ plan, rig, air, from: -offset - 0.5, extraDrag });
  const end = run.from + (run.rollSpeed.length - 1) * 0.005;
  const shared = { day, run, rig, plan, faults: {}, clock: { offset, rate: CLOCK_RATE } };
  return {
    files: [
      rollerFile({ ...shared, end, probe: 0 }),
      engineFile({ ...shared, end: end - course.between(0, 1), trace }),
    ],
    truth: {
      id: plan.id,
      kind: 'coast-down',
      clock: shared.clock,
      curve: truthCurve({ ...run, tipIn: 1, lift: 0 }, []),
      slip: truthSlip(run),
      faults: [],
      ambient: ambientTruth(plan.clock),
      extraDrag,
      axleTorque: 0,
      forceZero: forceZero(day, plan.clock),
    },
  };
}

interface FileInput {
  readonly day: Day;
  readonly run: RollRun;
  readonly rig: Rig;
  readonly plan: PullPlan | CoastPlan;
  readonly faults: PullFaults;
  readonly clock: { readonly offset: number; readonly rate: number };
  readonly end: number;
}

function rollerFile(input: FileInput & { probe: number }): MadeFile {
  const { day, run, plan, faults } = input;
  const air = hallAir(plan.clock);
  const gapFrom = faults.rollerGap ? timeAbove(run, faults.rollerGap.rpm) : 0;
  return rollerLog({
    name: `${fileStem(plan)}-roller.csv`,
    run,
    end: input.end,
    instruments: day.errors,
    forceZero: forceZero(day, plan.clock),
    brakeLimit: STATED_RIG.brakeLimit,
    statedMass: STATED_RIG.rollMass,
    probe: { ...air, temperature: air.temperature + input.probe, humidity: air.humidity / 100 },
    time: rollerTime(plan, faults),
    started: rollerStart(plan),
    gap: faults.rollerGap ? { from: gapFrom, to: gapFrom + faults.rollerGap.seconds } : undefined,
    newline: plan.kind === 'coast-down' ? '\r\n' : '\n',
    noise: noiseOf(day, `${plan.id} roller`),
  });
}

function engineFile(input: FileInput & { trace: Trace }): MadeFile {
  const { day, plan } = input;
  return engineLog({
    ...input,
    name: `${fileStem(plan)}-engine.csv`,
    started: laptopStart(plan, input.clock),
    heat: heatOf(plan.id, plan.clock, input.faults),
    dialect: dialectOf(plan),
    noise: noiseOf(day, `${plan.id} engine`),
  });
}

/** Seconds within the minute at which the roller's log begins: different for every entry, the same every time. */
function rollerStart(plan: PullPlan | CoastPlan): number {
  const spread = [...plan.id].reduce((sum, letter) => sum * 31 + letter.charCodeAt(0), 7) % 4000;
  return plan.clock * 60 + spread / 100;
}

/** The laptop is 37.4 s ahead at nine o'clock and runs fast with the engine log; its log begins `offset` before the roller's. */
function laptopStart(plan: PullPlan | CoastPlan, { offset, rate }: { offset: number; rate: number }): number {
  const start = rollerStart(plan);
  return start + 37.4 + rate * (start - 9 * 3600) - offset;
}

function noiseOf(day: Day, purpose: string): Chance | undefined {
  return day.noise ? chanceOf(day.seed, purpose) : undefined;
}

/** From pull 14 on the roller's program was set to write the clock time. */
function rollerTime(plan: PullPlan | CoastPlan, faults: PullFaults): RollerTime {
  if (plan.kind !== 'pull' || Number(plan.id) < 14) return { kind: 'elapsed' };
  const startClock = rollerStart(plan);
  return { kind: 'clock', startClock, ...(faults.rollerJump ? { jump: faults.rollerJump } : {}) };
}

/** Pulls 12 and 13 were logged with another laptop. */
function dialectOf(plan: PullPlan | CoastPlan): LogDialect {
  const other = plan.id === '12' || plan.id === '13';
  if (other) {
    return { delimiter: '\t', decimal: ',', newline: '\r\n', encoding: 'utf-16le', byteOrderMark: true };
  }
  return { delimiter: ';', decimal: ',', newline: '\n', encoding: 'utf-8', byteOrderMark: false };
}

function fileStem(plan: PullPlan | CoastPlan): string {
  return plan.kind === 'pull' ? `pull-${plan.id.padStart(2, '0')}` : `coast-${plan.id.slice(1).padStart(2, '0')}`;
}

/** The cell's error at no load: drifts over the morning, then stays. */
function forceZero(day: Day, clock: number): number {
  return day.errors.forceZero + day.errors.zeroDrift * clamp((clock - 575) / (830 - 575), 0, 1);
}

function ambientTruth(clock: number): EntryTruth['ambient'] {
  const air = hallAir(clock);
  return {
    temperature: air.temperature + 273.15,
    pressure: air.pressure * 1e3,
    relativeHumidity: air.humidity / 100,
  };
}

function signalsOf(run: RollRun, trace: Trace): Readonly<Record<string, readonly number[]>> {
  const kilo = { factor: 1e3 };
  return {
    'manifold pressure': truthSignal(run, trace.map, kilo),
    'charge temperature': truthSignal(run, trace.charge, { factor: 1, shift: 273.15 }),
    'turbo speed': truthSignal(run, trace.turbo, { factor: 1e3 * RAD }),
    'exhaust pressure': truthSignal(run, trace.p3, kilo),
    'peak pressure': truthSignal(run, trace.peakPressure, { factor: 1e5 }),
    'spark need': truthSignal(run, trace.sparkNeed, kilo),
    'spark available': truthSignal(run, trace.sparkAvailable, kilo),
  };
}
