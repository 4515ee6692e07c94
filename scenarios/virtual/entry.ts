import { type Chance, chanceOf } from '../random.ts';
import { truthCurve, truthSlip } from '../rig/run-truth.ts';
import type { EntryTruth, MadeFile } from '../truth.ts';
import type { Day } from './day.ts';
import { decoysIn, type Injected, injectedInto, sensorsOf, targetOf } from './injected.ts';
import { loggedColumns, virtualLogs } from './logs.ts';
import { type Nature, speedAtRedline } from './nature.ts';
import { passedStates } from './passed.ts';
import type { VirtualEntry } from './plan.ts';
import { type PullPlan, type VirtualRun, virtualCoast, virtualPull } from './run.ts';
import { startedEngine, type Warmth } from './state.ts';
import { decoyTruth, engineTruth, sensorTruth } from './truths.ts';

/** One entry of the day run and logged. */
export function makeEntry(day: Day, entry: VirtualEntry): { files: readonly MadeFile[]; truth: EntryTruth } {
  const { options, hall } = day;
  const clockLuck = chanceOf(options.seed, `virtual ${entry.id} clock`);
  const rolled = {
    offset: Math.round(clockLuck.between(0.5, 8) * 1e3) / 1e3,
    rate: clockLuck.between(-150e-6, 150e-6),
  };
  const decoys = decoysIn(day, entry);
  const place = placeAt(day, entry);
  const { injected, made } = showingRun(day, entry, { decoys, from: -(hall.oneFile ? 0 : rolled.offset) - 1, place });
  const sensors = sensorsOf(day, entry, made);
  const rate = sensors.reduce((sum, { built }) => sum + (built.rate ?? 0), rolled.rate);
  const clock = hall.oneFile ? undefined : { offset: rolled.offset, rate };
  const input = {
    stem: entry.kind === 'pull' ? `run-${entry.id}` : `coast-${entry.id.slice(1)}`,
    made,
    place,
    hall,
    errors: day.errors,
    clock,
    brakeLimit: day.rig.brakeLimit,
    clockStart: entry.clockStart,
    alterations: [
      ...sensors.flatMap(({ built }) => built.alterations),
      ...decoys.flatMap(({ built }) => built.alter?.(made) ?? []),
    ],
    clockFaults: sensors.flatMap(({ built }) => built.clockFaults),
    missing: options.missing ?? [],
    noise: options.noise === false ? undefined : chanceOf(options.seed, `virtual ${entry.id} noise`),
  };
  const put = injected.map((one, k) => engineTruth(made, one, k));
  const faults = [
    ...put,
    ...(entry.kind === 'pull' ? passedStates(made, day, put) : []),
    ...sensors.map((one) => sensorTruth(made, one)),
    ...decoys.map((one, k) => decoyTruth(made, one, injected.length + k)),
  ];
  const ambient = {
    temperature: place.temperature,
    pressure: place.pressure,
    relativeHumidity: place.relativeHumidity,
  };
  const pull = entry.kind === 'pull';
  return {
    files: virtualLogs(input),
    truth: {
      id: entry.id,
      kind: entry.kind,
      ...(clock ? { clock } : {}),
      curve: truthCurve(pull ? made.run : { ...made.run, tipIn: 1, lift: 0 }, made.signals.cleanTorque),
      slip: truthSlip(made.run),
      faults,
      ambient,
      extraDrag: 0,
      axleTorque: 0,
      forceZero: day.errors.forceZero,
      channels: loggedColumns(input),
    },
  };
}

interface RunInput {
  readonly decoys: Day['decoys'];
  readonly from: number;
  readonly place: Nature['place'];
}

/**
 * A run in which faults that strike by chance show about their size: thrown again, a few times at most, when they struck much too seldom or too often.
 */
function showingRun(
  day: Day,
  entry: VirtualEntry,
  input: RunInput,
): { injected: readonly Injected[]; made: VirtualRun } {
  let best: { injected: readonly Injected[]; made: VirtualRun; off: number } | undefined;
  for (let throwing = 0; throwing < MOST_THROWS; throwing += 1) {
    const injected = injectedInto(day, entry);
    const made = runOf(day, entry, { ...input, injected, throwing });
    const off = injected.reduce((worst, { built }) => {
      const shown = built.shown?.(made) ?? 1;
      return Math.max(worst, Math.abs(Math.log(Math.max(0.01, shown))));
    }, 0);
    if (!best || off < best.off) best = { injected, made, off };
    if (off < Math.log(1.25)) break;
  }
  if (!best) throw new Error('no run was thrown');
  return best;
}

const MOST_THROWS = 8;

/** The air of the hall drifts over the day. */
function placeAt({ nature, plan, warming, falling }: Day, entry: VirtualEntry): Nature['place'] {
  const index = plan.indexOf(entry);
  const { place } = nature;
  return {
    ...place,
    temperature: place.temperature + warming * index,
    pressure: place.pressure + falling * index,
  };
}

function runOf(
  day: Day,
  entry: VirtualEntry,
  input: RunInput & { injected: readonly Injected[]; throwing: number },
): VirtualRun {
  const { nature, rig, options } = day;
  const { injected, decoys, throwing } = input;
  const luck = chanceOf(options.seed, `virtual ${entry.id} luck`);
  const state = startedEngine({
    engine: nature.engine,
    place: input.place,
    warmth: warmthAt(day, entry, luck),
    seed: options.seed,
    purpose: `virtual ${entry.id} ${throwing}`,
    supplyGain: nature.supplyGain,
  });
  const scatter = options.noise === false ? 0 : luck.normal();
  if (entry.kind === 'pull') {
    const plan = { ...nature.plan, from: input.from, luck: 1 + day.luck * scatter };
    const changed: PullPlan = Object.assign({}, plan, ...injected.map(({ built }) => built.plan ?? {}));
    const acts = [...injected, ...decoys].map(({ built }) => built.act ?? (() => 0));
    const asked = targetOf(day, entry);
    const target: (typeof acts)[number] = (_, knobs) => {
      knobs.mapTarget += asked;
      return 0;
    };
    return virtualPull(rig, state, { plan: changed, acts: [...acts, target] });
  }
  const top = speedAtRedline(nature);
  const high = 0.93 * top;
  const mass = rig.rollMass + rig.wheelInertia / rig.radius ** 2;
  const slowing = (rig.dragAtRest + rig.dragPerSpeed * high * 0.7) / mass;
  const geared = entry.clutch === 'in gear';
  const plan = {
    from: input.from,
    high,
    low: geared ? 0.24 * top : Math.max(0.25 * high, high - slowing * 90),
    inGear: geared,
    idle: 0.13 * nature.engine.redline,
    tail: 4,
  };
  return virtualCoast(rig, state, { plan, acts: injected.map(({ built }) => built.coast ?? (() => 0)) });
}

/** Everything gets a little warmer with every pull, and not quite evenly. */
function warmthAt({ nature }: Day, { pull, last }: VirtualEntry, luck: Chance): Warmth {
  const { cold } = nature;
  const far = last && pull === 0 ? 6 : pull;
  const settled = 1 - Math.exp(-far / 2.5);
  return {
    oil: cold.oil + 5 * settled + 0.8 * luck.normal(),
    coolant: cold.coolant + 2 * settled + 0.6 * luck.normal(),
    gearbox: cold.gearbox + 8 * settled + 0.8 * luck.normal(),
    axle: cold.axle + 9 * settled + 0.8 * luck.normal(),
    soak: Math.max(0.2, cold.soak + 1.2 * settled + 0.3 * luck.normal()),
  };
}
