import type { Written } from '../day-text.ts';
import { drawnErrors, nominalErrors, trueRig } from '../instruments.ts';
import { faultWindows } from '../plateau/fault-windows.ts';
import type { PullFaults } from '../plateau/faults.ts';
import { type Chance, chanceOf } from '../random.ts';
import type { Rig } from '../rig/rig.ts';
import { timeAbove, truthCurve, truthSlip } from '../rig/run-truth.ts';
import type { EntryTruth, InstrumentErrors, MadeDay, MadeFile } from '../truth.ts';
import { simpleDayText } from './day-facts.ts';
import { drawEngine, drawPlace, drawRig, type RollerKind, type SimpleEngine, type SimplePlace } from './draw.ts';
import { simpleLogs } from './logs.ts';
import { type SimpleRun, simpleCoast, simplePull } from './run.ts';
import { type DialectName, drawWriting, type Writing } from './writing.ts';

/** Faults a simple day can have, placed by the redline of its engine. */
export type SimpleFault = 'wheel slip' | 'limiter' | 'spark breakup' | 'sync loss' | 'roller gap';

/**
 * What is wanted; the rest is drawn. rates: Hz, 10 to 500. oneFile: both sides in one file on one clock.
 * missing: columns (`force`, `rpm`, `map`, `throttle`, `lambda`, `temperature`, …) and facts (`vehicle.tyre radius`, `roller.equivalent mass`, …) to leave out.
 * faults: all of them in the last pull; none when absent.
 */
export interface SimpleOptions {
  readonly seed: number;
  readonly roller: RollerKind;
  readonly engine?: Partial<SimpleEngine>;
  readonly rates?: { readonly roller?: number; readonly engine?: number };
  readonly units?: 'metric' | 'imperial';
  readonly dialect?: DialectName;
  readonly oneFile?: boolean;
  readonly pulls?: number;
  readonly missing?: readonly string[];
  readonly instruments?: 'nominal' | 'drawn';
  readonly noise?: boolean;
  readonly faults?: readonly SimpleFault[];
}

/** A small invented day: one to three pulls between two coast-downs, on some vehicle, some roller, somewhere. Same options, same bytes. */
export function makeSimpleDay(options: SimpleOptions): MadeDay {
  const day = drawDay(options);
  const files: MadeFile[] = [];
  const entries: EntryTruth[] = [];
  const written: Written[] = [];
  planOf(day, options).forEach((planned, index) => {
    const made = planned.kind === 'pull' ? makeSimplePull(day, planned) : makeSimpleCoast(day, planned);
    files.push(...made.files);
    entries.push(made.truth);
    written.push({
      id: planned.id,
      kind: planned.kind,
      clock: `10:${String(10 + 7 * index).padStart(2, '0')}`,
      ...(planned.kind === 'coast-down' ? { clutch: 'open' } : {}),
      files: made.files.map((file) => file.name),
      settings: {},
    });
  });
  const text = simpleDayText({
    title: `Simple day ${options.seed}`,
    engine: day.engine,
    rig: day.stated,
    place: day.place,
    kind: options.roller,
    entries: written,
    missing: options.missing ?? [],
  });
  return {
    files: [{ name: 'day.yaml', bytes: new TextEncoder().encode(text) }, ...files],
    truth: { seed: options.seed, rig: day.rig, instruments: day.errors, entries },
  };
}

interface SimpleDay {
  readonly options: SimpleOptions;
  readonly engine: SimpleEngine;
  readonly stated: Rig;
  readonly rig: Rig;
  readonly place: SimplePlace;
  readonly writing: Writing;
  readonly errors: InstrumentErrors;
  readonly rates: { readonly roller: number; readonly engine: number };
  readonly oneFile: boolean;
}

interface Planned {
  readonly id: string;
  readonly kind: 'pull' | 'coast-down';
  readonly clockStart: number;
  readonly faults: readonly SimpleFault[];
}

interface Made {
  readonly files: readonly MadeFile[];
  readonly truth: EntryTruth;
}

const RATES = [10, 20, 25, 50, 100, 200, 500];

function drawDay(options: SimpleOptions): SimpleDay {
  const { seed } = options;
  const engine = drawEngine(chanceOf(seed, 'engine'), options.engine ?? {});
  const stated = drawRig(chanceOf(seed, 'rig'), engine, options.roller);
  const errors = options.instruments === 'drawn' ? drawnErrors(chanceOf(seed, 'instruments'), 0) : nominalErrors(0);
  const chance = chanceOf(seed, 'writing');
  const rates = { roller: chance.pick(RATES), engine: chance.pick(RATES) };
  const oneFile = options.oneFile ?? chance.uniform() < 0.4;
  const roller = options.rates?.roller ?? rates.roller;
  return {
    options,
    engine,
    stated,
    errors,
    rig: trueRig(stated, errors),
    place: drawPlace(chanceOf(seed, 'place')),
    writing: drawWriting(chance, { units: options.units, dialect: options.dialect }),
    rates: { roller, engine: oneFile ? roller : (options.rates?.engine ?? rates.engine) },
    oneFile,
  };
}

function planOf(day: SimpleDay, options: SimpleOptions): Planned[] {
  const pulls = options.pulls ?? chanceOf(day.options.seed, 'plan').integer(1, 3);
  const ids = ['C1', ...Array.from({ length: pulls }, (_, k) => String(k + 1)), 'C2'];
  return ids.map((id, index) => ({
    id,
    kind: id.startsWith('C') ? 'coast-down' : 'pull',
    clockStart: (10 * 60 + 10 + 7 * index) * 60 + 3.217,
    faults: id === String(pulls) ? (options.faults ?? []) : [],
  }));
}

function makeSimplePull(day: SimpleDay, planned: Planned): Made {
  const faults = faultKnobs(day.engine, planned.faults);
  const luck = chanceOf(day.options.seed, `${planned.id} luck`);
  const scatter = day.options.noise === false ? 1 : 1 + 0.005 * luck.normal();
  const clock = clockOf(day, luck);
  const made = simplePull({ ...setupOf(day, planned, clock), faults, scatter });
  const gapFrom = faults.rollerGap ? timeAbove(made.run, faults.rollerGap.rpm) : 0;
  const gap = faults.rollerGap ? { from: gapFrom, to: gapFrom + faults.rollerGap.seconds } : undefined;
  const seen = { ...made.run, engineSpeed: made.engineSpeed, engineTorque: made.engineTorque };
  return {
    files: filesOf(day, planned, { made, clock, gap }),
    truth: {
      ...truthOf(day, planned, { made, clock }),
      curve: truthCurve(seen, made.cleanTorque),
      faults: faultWindows(made.run, faults, 0),
    },
  };
}

function makeSimpleCoast(day: SimpleDay, planned: Planned): Made {
  const clock = clockOf(day, chanceOf(day.options.seed, `${planned.id} luck`));
  const made = simpleCoast({ ...setupOf(day, planned, clock), from: 0 });
  return {
    files: filesOf(day, planned, { made, clock, gap: undefined }),
    truth: truthOf(day, planned, { made, clock }),
  };
}

type SimpleClock = { readonly offset: number; readonly rate: number } | undefined;

function clockOf(day: SimpleDay, chance: Chance): SimpleClock {
  if (day.oneFile) return undefined;
  return { offset: Math.round(chance.between(0.5, 8) * 1e3) / 1e3, rate: chance.between(-190e-6, 190e-6) };
}

function setupOf(day: SimpleDay, planned: Planned, clock: SimpleClock) {
  const { engine, rig, place, options } = day;
  return { seed: options.seed, id: planned.id, engine, rig, place, from: -(clock?.offset ?? 0) - 1 };
}

function filesOf(
  day: SimpleDay,
  planned: Planned,
  run: { made: SimpleRun; clock: SimpleClock; gap: { from: number; to: number } | undefined },
): readonly MadeFile[] {
  const stem = planned.kind === 'pull' ? `run-${planned.id}` : `coast-${planned.id.slice(1)}`;
  return simpleLogs({
    ...run,
    stem,
    place: day.place,
    writing: day.writing,
    errors: day.errors,
    rates: day.rates,
    hasBrake: day.options.roller !== 'inertia',
    brakeLimit: day.rig.brakeLimit,
    clockStart: planned.clockStart,
    missing: day.options.missing ?? [],
    noise: day.options.noise === false ? undefined : chanceOf(day.options.seed, `${planned.id} noise`),
  });
}

function truthOf(day: SimpleDay, planned: Planned, run: { made: SimpleRun; clock: SimpleClock }): EntryTruth {
  const nothing = truthCurve({ ...run.made.run, tipIn: 1, lift: 0 }, []);
  return {
    id: planned.id,
    kind: planned.kind,
    ...(run.clock ? { clock: run.clock } : {}),
    curve: nothing,
    slip: truthSlip(run.made.run),
    faults: [],
    ambient: {
      temperature: day.place.temperature,
      pressure: day.place.pressure,
      relativeHumidity: day.place.relativeHumidity,
    },
    extraDrag: 0,
    axleTorque: 0,
    forceZero: day.errors.forceZero,
  };
}

function faultKnobs(engine: SimpleEngine, names: readonly SimpleFault[]): PullFaults {
  const rpm = (share: number): number => (share * engine.redline * 30) / Math.PI;
  const has = (name: SimpleFault): boolean => names.includes(name);
  return {
    ...(has('wheel slip') ? { slip: { from: rpm(0.55), top: rpm(0.66), to: rpm(0.7), low: 0.02, high: 0.1 } } : {}),
    ...(has('limiter') ? { softCut: { rpm: rpm(0.92), hertz: 11 } } : {}),
    ...(has('spark breakup') ? { breakup: { from: rpm(0.75), to: rpm(0.9), loss: 0.09 } } : {}),
    ...(has('sync loss') ? { syncLoss: { rpm: rpm(0.72), seconds: [0.08, 0.12] } } : {}),
    ...(has('roller gap') ? { rollerGap: { rpm: rpm(0.6), seconds: 0.7 } } : {}),
  };
}
