import { DETECTORS } from '../../day/verdicts/detectors.ts';
import { TAKES_POWER } from '../../day/verdicts/evidence/beside.ts';
import { type DayVerdicts, dayVerdicts, type Fault, type StopClass } from '../../day/verdicts/index.ts';
import type { PullSample, SaidSample, TrueFault } from '../../day/verdicts/weighing/fitting/samples.ts';
import { SUMMARY } from '../../day/verdicts/weighing/look-alikes.ts';
import { answersTo } from '../../day/verdicts/weighing/questions.ts';
import { weigh } from '../../day/verdicts/weighing/weigh.ts';
import type { EntryTruth } from '../../scenarios/index.ts';
import { blindFaults } from './blind-faults.ts';
import { REACHED } from './reached.ts';
import type { ReadDay } from './read-days.ts';

/** What a detection says, with the stop that it would call for. */
export interface MeasuredSaid extends SaidSample {
  readonly stopClass: StopClass;
}

/** A fault that was put in, with the stop that it would deserve. */
export interface MeasuredTruth extends TrueFault {
  readonly stopClass: StopClass;
}

/** One pull of an invented day with what was true of it and how its detectors answered, plus what only measuring needs. */
export interface MeasuredPull extends PullSample {
  readonly said: readonly MeasuredSaid[];
  readonly truths: readonly MeasuredTruth[];
  /** Names of harmless things that resemble a fault. */
  readonly decoys: readonly string[];
  /** Faults whose detectors could not tell because a channel was missing, or too slow for it as the coverage matrix says before the day. */
  readonly blind: readonly string[];
  /** What weighing took [ms]. */
  readonly weighing: number;
}

/** What a job comes to: its pulls, and the entries that gave no pull at all with what was in them. */
export interface DaySamples {
  readonly day: string;
  readonly seed: number;
  readonly pulls: readonly MeasuredPull[];
  readonly unread: readonly { readonly entry: string; readonly faults: readonly string[] }[];
  readonly error?: string;
}

/** Every pull of a day, as samples. @param day name of the day, unique in the set */
export function daySamples(day: string, { input, truth: made }: ReadDay): DaySamples {
  const verdicts = dayVerdicts(input);
  const { seed } = made;
  const entries = made.entries.filter(({ kind }) => kind === 'pull');
  const pulls = entries.flatMap((truth) => {
    const parts = verdicts.pulls.flatMap(({ entry }, at) => (entry === truth.id ? [at] : []));
    return parts.map((at) => pullSample({ day, seed, truth: partOf(truth, verdicts, { at, parts }), verdicts, at }));
  });
  const read = new Set(verdicts.pulls.map(({ entry }) => entry));
  const unread = entries
    .filter(({ id }) => !read.has(id))
    .map(({ id, faults }) => ({
      entry: id,
      faults: faults.filter(({ decoy }) => decoy !== true).map(({ kind }) => kind),
    }));
  return { day, seed, pulls, unread };
}

/** What was true of one of the pulls that an entry was read as: a fault must be found in the pull that holds most of it, and may be in the others. */
function partOf(
  truth: EntryTruth,
  verdicts: DayVerdicts,
  { at, parts }: { readonly at: number; readonly parts: readonly number[] },
): EntryTruth {
  const shared = ({ fromTime, toTime }: EntryTruth['faults'][number], part: number): number => {
    const { scene } = verdicts.asked[part];
    const start = firstRow(verdicts, part);
    return Math.min(scene.to, toTime + start) - Math.max(scene.from, fromTime + start);
  };
  const most = (fault: EntryTruth['faults'][number]): number | undefined =>
    [...parts].sort((one, other) => shared(fault, other) - shared(fault, one))[0];
  return {
    ...truth,
    faults: truth.faults.map((fault) => (most(fault) === at ? fault : { ...fault, strength: HIDDEN, size: {} })),
  };
}

interface Place {
  readonly day: string;
  readonly seed: number;
  readonly truth: EntryTruth;
  readonly verdicts: DayVerdicts;
  readonly at: number;
}

function pullSample({ day, seed, truth, verdicts, at }: Place): MeasuredPull {
  const { detections } = verdicts.pulls[at];
  const { scene, limits } = verdicts.asked[at];
  const start = firstRow(verdicts, at);
  const real = truth.faults.filter(({ decoy }) => decoy !== true);
  const began = performance.now();
  weigh(scene, detections, limits);
  const weighing = performance.now() - began;
  const blind = blindFaults(scene, detections, limits);
  const said = detections.map((one): MeasuredSaid => {
    const { fault, subject, answer, strength, lookAlikes, missing, stopClass } = one;
    const windows = one.windows.map(({ from, to }) => ({ from, to }));
    const base = { fault, subject, answer, strength, windows, lookAlikes, missing, stopClass };
    if (answer !== 'seen') return base;
    const whole = { from: scene.from, to: scene.to, lowSpeed: Number.NaN, highSpeed: Number.NaN };
    return {
      ...base,
      items: answersTo(scene, one.windows.length > 0 ? one.windows : [whole], limits).items,
    };
  });
  const put = real.flatMap(({ kind, fromTime, toTime, strength, stopClass = 0 }): MeasuredTruth[] => {
    const fault = faultNamed(kind);
    return fault === undefined
      ? []
      : [{ fault, stopClass, strength: strength ?? Number.NaN, from: fromTime + start, to: toTime + start }];
  });
  const spikes = truth.faults
    .filter(({ kind }) => IS_A_SPIKE.has(kind))
    .map(({ fromTime, toTime }): MeasuredTruth => {
      const [from, to] = [fromTime + start, toTime + start];
      return { fault: 'spikes', stopClass: 0, strength: HIDDEN, from, to };
    });
  const truths = withHidden([...put, ...spikes, ...weakLosses(real, start)], blind);
  return {
    ...{ day, seed, pull: `${day} ${partName(verdicts, at)}`, said, weighing },
    decoy: truth.faults.some(({ decoy }) => decoy === true),
    decoys: truth.faults.filter(({ decoy }) => decoy === true).map(({ kind }) => kind),
    truths,
    blind,
  };
}

/** Name of a pull among those of its entry, which is its last word. */
function partName({ pulls }: DayVerdicts, at: number): string {
  const { entry } = pulls[at];
  const before = pulls.slice(0, at).filter((pull) => pull.entry === entry).length;
  return before === 0 ? entry : `part ${before + 1} of ${entry}`;
}

/** Faults below the trade's threshold that take more power than the summary asks for: that power is short is right, and need not be said. */
function weakLosses(faults: EntryTruth['faults'], start: number): readonly MeasuredTruth[] {
  const [weak] = faults.filter(
    ({ strength, size }) => (strength ?? Number.NaN) < REACHED && (size['torqueLossShare'] ?? 0) > SHORT,
  );
  return weak === undefined || faults.some(({ kind }) => kind === SUMMARY)
    ? []
    : [{ fault: SUMMARY, stopClass: 0, strength: HIDDEN, from: weak.fromTime + start, to: weak.toTime + start }];
}

/** Harmless things that are what they look like, of another fault: they resemble a loss of oil pressure, and to call them spikes is right. */
const IS_A_SPIKE: ReadonlySet<string> = new Set(['oil-sensor-spike']);

/** Strength at which the sign of a hidden fault is recorded: below the trade's threshold, so that nothing is missed when it stays unsaid. */
const HIDDEN = 0.5;
/** Share of torque that makes power short: the summary's own limit [1]. */
const SHORT = 0.0175;
/** What starves the engine when it is large: twice the trade's threshold leans the mixture by more than the 0.04 that count. */
const STARVES: readonly Fault[] = ['injector-saturation', 'fuel-pressure-drop'];

/** What makes engine speed fall out or jump for a moment. */
const SHOWS_IN_SPEED: readonly Fault[] = ['lost-sync'];

/**
 * Truths with the signs of hidden faults added: where a fault takes power and no channel could show it, too little power is a right answer, and so is a lean
 * mixture where what starves it cannot be seen, and an engine speed that falls out or jumps where nothing else shows that its trigger was lost; what could be seen has its own name.
 */
function withHidden(truths: readonly MeasuredTruth[], blind: readonly Fault[]): readonly MeasuredTruth[] {
  const signs: readonly (readonly [Fault, readonly Fault[], number])[] = [
    [SUMMARY, TAKES_POWER, 1],
    ['lean-mixture', STARVES, 2],
    ['dropout', SHOWS_IN_SPEED, 0],
    ['spikes', SHOWS_IN_SPEED, 0],
  ];
  const added = signs.flatMap(([sign, causes, least]): readonly MeasuredTruth[] => {
    const hidden = truths.filter(
      ({ fault, strength }) => strength >= REACHED * least && blind.includes(fault) && causes.includes(fault),
    );
    if (hidden.length === 0 || truths.some(({ fault }) => fault === sign)) return [];
    const [from, to] = [Math.min(...hidden.map((one) => one.from)), Math.max(...hidden.map((one) => one.to))];
    return [{ fault: sign, stopClass: 0, strength: HIDDEN, from, to }];
  });
  return [...truths, ...added];
}

function faultNamed(kind: string): Fault | undefined {
  return DETECTORS.find(({ fault }) => fault === kind)?.fault;
}

/** Time of the roller log's first row on the record's clock [s]. */
function firstRow({ asked }: DayVerdicts, at: number): number {
  const tracks = asked[at].scene.record.tracks;
  const roller = tracks.find(({ channel }) => ['roll-speed', 'roll-rotation', 'brake-force'].includes(channel.meaning));
  return (roller ?? tracks[0])?.times[0] ?? 0;
}
