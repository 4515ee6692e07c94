import { randomSource } from '../../../../core/numerics/index.ts';
import { measured } from '../../../../core/quantities/index.ts';
import type { DayFacts, LossFit, PullResult, Segment } from '../../../pulls/index.ts';
import { barePull } from '../../../verdicts/coverage/bare-pull.ts';
import { type HealthEntry, healthEntries } from '../../../verdicts/health/entries.ts';
import { inventedDay, inventedLoss } from '../../../verdicts/health/testing/invented-day.ts';
import type { PullCell, PullState } from '../../../verdicts/index.ts';

const DEGREE = Math.PI / 180;
const REDLINE = 680;
/** Engine speed over roll speed [1/m], slip of the tyre [1], share lost in the meshes [1]. */
const RATIO = 12.4;
const SLIP = 0.02;
const MESH = 0.05;
const LOSS: readonly [number, number] = [190, 3.1];

/**
 * One invented pull of an in-line four of two litres that is no cycle model. pressure: of the manifold [Pa]; warmer: charge [K]; timing, phase: on top of
 * the day's own [°]; restriction: exhaust pressure risen because the compressor works harder [Pa]; lost: share of crank torque that is gone [1];
 * drag: torque that the driveline takes beside [N·m at the crank]; spool: steps of speed until the pressure is there; change: made before it.
 */
export interface MadePull {
  readonly pressure?: number;
  readonly warmer?: number;
  readonly timing?: number;
  readonly lambda?: number;
  readonly phase?: number;
  readonly ambient?: number;
  readonly restriction?: number;
  readonly lost?: number;
  readonly drag?: number;
  readonly spool?: number;
  readonly settings?: Readonly<Record<string, string>>;
  readonly without?: readonly string[];
  readonly change?: string;
  readonly believed?: PullState['believed'];
}

export interface MadeDay {
  readonly facts: DayFacts;
  readonly entries: readonly HealthEntry[];
  readonly pulls: readonly PullState[];
}

/** A coast-down, then pulls. @param luck deviation of a pull as a whole, and as much again over its course [1] */
export function madeDay(made: readonly MadePull[], { seed = 1, luck = 0.004, coast = true } = {}): MadeDay {
  const random = randomSource(seed);
  const losses: readonly LossFit[] = coast ? [inventedLoss(LOSS)] : [];
  const list = made.flatMap((one, i) => [
    ...(one.change === undefined ? [] : [{ facts: { id: one.change, kind: 'change' as const } }]),
    { facts: { id: `${i + 1}`, kind: 'pull' as const, settings: one.settings ?? {} } },
  ]);
  const day = inventedDay([{ facts: { id: 'C1' }, losses }, ...list], {
    engine: { displacement: measured(1.998e-3, 0), cylinders: 4, ignition: 'spark', redline: measured(REDLINE, 0) },
  });
  const entries = healthEntries(day);
  const pulls = made.map((one, i): PullState => {
    const entry = withAir(
      entries.find(({ id }) => id === `${i + 1}`),
      one.ambient ?? 95e3,
    );
    const [level, wave, phase] = [luck * random.normal(), luck * random.normal(), 6 * random.normal()];
    return stateOf(entry, one, { luck: (x) => 1 + level + wave * Math.sin(18 * x + phase), coast });
  });
  return { facts: day.facts, entries, pulls };
}

function withAir(entry: HealthEntry | undefined, pressure: number): HealthEntry {
  if (!entry?.result) throw new Error('no such entry');
  const conditions = { ...entry.result.conditions, pressure: measured(pressure, 100) };
  return { ...entry, result: { ...entry.result, conditions } };
}

interface Moment {
  readonly p: number;
  readonly T: number;
  readonly timing: number;
  readonly lambda: number;
  readonly exhaust: number;
  readonly phase: number;
}

/** Torque at the crank [N·m]: charge, best timing, mixture and cam by simple laws of our own, less friction and pumping. */
function torqueAt(x: number, { p, T, timing, lambda, exhaust, phase }: Moment): number {
  const late = best(x, p) - timing;
  const gross = 345 * (p / 200e3) * (320 / T) ** 0.9 * (1 - 0.55 * (x - 0.6) ** 2 + 0.012 * Math.sin(9 * x));
  const burning = (1 - 0.0005 * late * late) * (1 + 0.3 * (lambda - 0.82));
  const cam = 1 + 0.004 * (0.75 - x) * phase - 0.0004 * phase * phase;
  const pumping = (0.75 * (exhaust - p) * 1.998e-3) / (4 * Math.PI);
  return gross * burning * cam - (17 + 15 * x * x) - pumping;
}

/** Best timing before top dead centre [°]. */
function best(x: number, p: number): number {
  return 27 + 8 * (x - 0.6) - 0.06 * (p / 1e3 - 150);
}

function stateOf(
  entry: HealthEntry,
  one: MadePull,
  { luck, coast }: { luck: (x: number) => number; coast: boolean },
): PullState {
  const { pressure: held = 185e3, warmer = 0, timing = 0, lambda = 0.82, phase = 0, restriction = 0 } = one;
  const { lost = 0, drag = 0, ambient = 95e3, without = [], spool = 0 } = one;
  const steps = Array.from({ length: 18 }, (_, k) => 15 + k);
  const rows = steps.map((step, k) => {
    const speed = 20 * step;
    const built = k < spool ? 0.9 - 0.08 * (spool - 1 - k) : 1;
    const p = built * held;
    const x = speed / REDLINE;
    const T = 308 + 18 * x + (p - 185e3) / 4e3 + warmer;
    const exhaust = (1.15 + 0.25 * x) * p + 0.4 * (ambient - 95e3) + restriction;
    const set = best(x, p) - 7 + timing;
    const torque = torqueAt(x, { p, T, timing: set, lambda, exhaust, phase }) * (1 - lost) * luck(x) * built - drag;
    const values = new Map<string, number>([
      ['manifold-pressure', p],
      ['charge-temperature', T],
      ['ignition-timing', set * DEGREE],
      ['lambda', lambda],
      ['exhaust-pressure', exhaust],
      ['cam-angle', phase * DEGREE],
    ]);
    for (const name of without) values.delete(name);
    return { step, speed, torque, values };
  });
  const pull = pullOf(rows, coast);
  const cells = rows.map(
    ({ step, speed, values }, i): PullCell => ({ step, speed, values, power: pull.curve.rollPower[i] }),
  );
  return { key: entry.id, entry, pull, cells, usable: 1, starts: new Map(), believed: one.believed ?? [] };
}

/** The same as a curve: losses, wheels at 45 kg and a crank of 0.15 kg·m² speeding up by 40 rad/s². */
function pullOf(rows: readonly { readonly speed: number; readonly torque: number }[], coast: boolean): PullResult {
  const line = (of: (row: { readonly speed: number; readonly torque: number }) => number) =>
    Float64Array.from(rows, of);
  const engineSpeed = line(({ speed }) => speed);
  const rollSpeed = engineSpeed.map((speed) => speed / RATIO);
  const crank = engineSpeed.map((speed) => 0.15 * 40 * speed);
  const wheel = rollSpeed.map((v) => 45 * (40 / RATIO) * v);
  const rolling = rollSpeed.map((v) => (LOSS[0] + LOSS[1] * v) * v * (1 + SLIP));
  const engine = line(({ speed, torque }) => speed * torque);
  const mesh = engine.map((power, i) => (power - crank[i]) * MESH);
  const tyre = engine.map((power, i) => power - crank[i] - mesh[i] - wheel[i] - rolling[i]);
  const rollPower = tyre.map((power) => power / (1 + SLIP));
  const bare = barePull({
    segment: SEGMENT,
    time: line((_row) => 0).map((_, i) => i),
    engineSpeed,
    rollSpeed,
    rollPower,
  });
  if (!coast)
    return {
      ...bare,
      curve: { ...bare.curve, missing: ['missing humidity', 'missing coast-down: engine power is not claimed'] },
    };
  const lines = { tyrePower: tyre, rollingLossPower: rolling, wheelInertiaPower: wheel, torqueLossPower: mesh };
  return { ...bare, curve: { ...bare.curve, ...lines, engineInertiaPower: crank, enginePower: engine } };
}

const SEGMENT: Segment = {
  ...{ kind: 'full-load', from: 0, to: 1, fromTime: 0, toTime: 18, ratio: RATIO, gear: 1, reason: 'invented' },
  ...{ lowSpeed: 300 / RATIO, highSpeed: 640 / RATIO, lowEngineSpeed: 300, highEngineSpeed: 640 },
};
