import type { Meaning } from '../../../channels/index.ts';
import { middle } from '../../scene/series.ts';
import { onTimes, type SceneTrack, valuesBetween } from '../../scene/track.ts';
import type { HealthEntry } from '../entries.ts';
import type { HealthLimits } from '../thresholds.ts';
import type { EngineStop } from './engine-stop.ts';

export type StopCause =
  | 'strong engine drag'
  | 'lost idle air or control'
  | 'sensor dropout'
  | 'switched off by hand'
  | 'stopped with the rolls in gear';

/** One sign for or against a cause. weight: > 0 for, < 0 against; 2 decides nearly alone, 1 helps. */
export interface StopSign {
  readonly cause: StopCause;
  readonly weight: number;
  readonly what: string;
}

/** What is known of the rest of the day when a stop is weighed. fall: usual deceleration of the free engine towards idle [rad/s²], NaN unknown. */
export interface StopContext {
  readonly limits: HealthLimits;
  readonly fall: number;
  readonly dragRisen: boolean;
  readonly oilFallen: boolean;
}

/** Everything that speaks for or against a cause, and whether other channels confirm that the engine really stopped. @source common practice, no source */
export function stopSigns(
  entry: HealthEntry,
  stop: EngineStop,
  context: StopContext,
): { readonly signs: readonly StopSign[]; readonly confirmed: boolean | undefined } {
  const turning = stillTurning(entry, stop, context.limits);
  const told =
    turning.length === 0 ? undefined : turning.filter(({ weight }) => weight < 0).length > turning.length / 2;
  // No sensor loses a speed step by step: what falls as a shaft does has fallen.
  const confirmed = stop.smooth ? true : told;
  const signs = [
    ...turning,
    ...leapSigns(stop, confirmed),
    ...switchSigns(entry, stop),
    ...rollSigns(entry, stop),
    ...(confirmed === false ? [] : fallSigns(entry, stop, context)),
  ];
  return { signs, confirmed };
}

function level(entry: HealthEntry, meaning: Meaning, [from, to]: readonly [number, number]): number {
  return middle(
    entry.tracks.filter((track) => track.meaning === meaning).flatMap((track) => valuesBetween(track, from, to)),
  );
}

/** Seconds after the stop in which a dead engine shows on other channels. @source our default */
const AFTER = [0.4, 3] as const;

function around(entry: HealthEntry, meaning: Meaning, stop: EngineStop): { before: number; after: number } {
  return {
    before: level(entry, meaning, [stop.above - 2, stop.above]),
    after: level(entry, meaning, [stop.stopped + AFTER[0], stop.stopped + AFTER[1]]),
  };
}

/** Other channels that tell whether the engine went on turning: positive for a dropout of the speed alone. */
function stillTurning(entry: HealthEntry, stop: EngineStop, limits: HealthLimits): StopSign[] {
  const signs: StopSign[] = [];
  const say = (turning: boolean, what: string): void => {
    signs.push({ cause: 'sensor dropout', weight: turning ? 2 : -2, what });
  };
  const oil = around(entry, 'oil-pressure', stop);
  const oilShare = oil.after / oil.before;
  if (oil.before > 30e3 && Number.isFinite(oilShare)) {
    say(
      oilShare > limits['stall.oil-left'].value,
      `oil pressure ${oilShare > limits['stall.oil-left'].value ? 'stays' : 'falls away'}`,
    );
  }
  const air = level(entry, 'barometric-pressure', [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]);
  const station = Number.isFinite(air) ? air : (entry.result?.conditions.pressure?.value ?? Number.NaN);
  const manifold = around(entry, 'manifold-pressure', stop);
  const filled = manifold.after > 0.93 * station;
  if (manifold.before < 0.85 * station && Number.isFinite(manifold.after)) {
    say(!filled, `manifold pressure ${filled ? 'rises to that of the air' : 'stays below that of the air'}`);
  }
  const volts = around(entry, 'battery-voltage', stop);
  const drop = volts.before - volts.after;
  if (volts.before > 13.2 && Number.isFinite(drop)) {
    say(
      drop < limits['stall.charging-drop'].value,
      `charging voltage ${drop < limits['stall.charging-drop'].value ? 'stays' : 'is gone'}`,
    );
  }
  return signs;
}

function leapSigns({ leap, returns, smooth }: EngineStop, confirmed: boolean | undefined): StopSign[] {
  const signs: StopSign[] = [];
  if (returns) signs.push({ cause: 'sensor dropout', weight: 2, what: 'engine speed comes back with a leap' });
  if (leap)
    signs.push({
      cause: 'sensor dropout',
      weight: confirmed === true ? 0 : 1,
      what: 'engine speed is gone between two samples',
    });
  else if (smooth) signs.push({ cause: 'sensor dropout', weight: -5, what: 'engine speed falls as a shaft does' });
  return signs;
}

/** Words by which a person says that the engine was switched off. @source our default */
const STATED =
  /\b(ignition|engine|motor)\s+(switched\s+|turned\s+)?(off|cut)\b|\bkey[\s-]?off\b|\b(switched|turned|shut)\s+(the\s+engine\s+)?(off|down)\b/i;

function switchSigns(entry: HealthEntry, stop: EngineStop): StopSign[] {
  const signs: StopSign[] = [];
  const say = (weight: number, what: string): void => {
    signs.push({ cause: 'switched off by hand', weight, what });
  };
  const said = [
    entry.facts.title,
    entry.facts.notes,
    ...Object.entries(entry.facts.settings).map(([key, value]) => `${key} ${value}`),
  ];
  if (said.some((text) => text !== undefined && STATED.test(text))) say(3, 'stated: switched off');
  const supply = level(entry, 'battery-voltage', [stop.above - 0.5, stop.stopped + 3]);
  const lowest = Math.min(
    ...entry.tracks
      .filter(({ meaning }) => meaning === 'battery-voltage')
      .flatMap((track) => valuesBetween(track, stop.above - 1, stop.stopped + 0.3)),
  );
  if (lowest < 6) say(3, 'the supply is switched off before or with it');
  else if (Number.isFinite(supply)) say(-1, 'the supply stays on');
  const status = statusBefore(entry, stop);
  if (status !== undefined)
    say(status ? 2 : -2, status ? 'a cut was commanded before the fall' : 'no cut was commanded');
  return signs;
}

/** Whether the cut status rose before the engine fell below half of its speed; undefined without the channel. */
function statusBefore({ tracks }: HealthEntry, stop: EngineStop): boolean | undefined {
  const track = tracks.find(({ meaning }) => meaning === 'cut-status');
  if (!track) return undefined;
  const usual = middle([...track.raw].slice(0, Math.max(5, Math.floor(track.raw.length / 4))));
  return track.times.some((time, i) => time > stop.above - 1.5 && time < stop.stopped && track.raw[i] !== usual);
}

function rollSigns(entry: HealthEntry, stop: EngineStop): StopSign[] {
  const roll = entry.tracks.find(({ meaning }) => meaning === 'roll-speed');
  const engine = entry.tracks.find(({ meaning }) => meaning === 'engine-speed');
  if (!roll || !engine) return [];
  const at = Float64Array.from({ length: 12 }, (_, i) => stop.above - 2.4 + 0.2 * i);
  const ratios = [...ratioAt(engine, roll, at)].filter(Number.isFinite);
  const usual = middle(ratios);
  const tied = ratios.length >= 6 && ratios.every((ratio) => Math.abs(ratio / usual - 1) < 0.06);
  const rolling = level(entry, 'roll-speed', [stop.stopped, stop.stopped + 0.5]);
  const signs: StopSign[] = [];
  const changing = changes(roll, at);
  if (tied && changing && rolling < 3)
    signs.push({ cause: 'stopped with the rolls in gear', weight: 3, what: 'engine and rolls come to rest together' });
  if (tied && changing && rolling > 5)
    signs.push({ cause: 'sensor dropout', weight: 3, what: 'tied to rolls that go on turning' });
  return signs;
}

function ratioAt(engine: SceneTrack, roll: SceneTrack, at: Float64Array): Float64Array {
  const speeds = onTimes(roll, at);
  return onTimes(engine, at).map((omega, i) => (speeds[i] > 2 ? omega / speeds[i] : Number.NaN));
}

/** A constant ratio tells nothing while nothing changes. */
function changes(roll: SceneTrack, at: Float64Array): boolean {
  const speeds = [...onTimes(roll, at)].filter((speed) => speed > 0);
  return speeds.length > 2 && Math.max(...speeds) > 1.15 * Math.min(...speeds);
}

/** How the engine fell, when it did: faster than a free engine does, or sagging from idle. */
function fallSigns(
  entry: HealthEntry,
  stop: EngineStop,
  { limits, fall, dragRisen, oilFallen }: StopContext,
): StopSign[] {
  const signs: StopSign[] = [];
  const rate = fallRate(entry, stop);
  const times = rate / fall;
  const faster = limits['stall.faster'].value;
  if (times > faster)
    signs.push({ cause: 'strong engine drag', weight: 2, what: `falls ${times.toFixed(1)} times as fast as earlier` });
  if (times < 1 / faster)
    signs.push({ cause: 'lost idle air or control', weight: 1, what: 'falls more slowly than a free engine: sags' });
  if (times >= 1 / faster && times <= faster)
    signs.push({ cause: 'strong engine drag', weight: -1, what: 'falls as fast as earlier' });
  if (dragRisen) signs.push({ cause: 'strong engine drag', weight: 2, what: 'engine drag has risen by coast-downs' });
  if (oilFallen) signs.push({ cause: 'strong engine drag', weight: 1, what: 'oil pressure has fallen at equal state' });
  const wander = idleWander(entry, stop);
  if (wander > 0.12) signs.push({ cause: 'lost idle air or control', weight: 2, what: 'idle speed swung before it' });
  if (stop.moment === 'idle' && wander <= 0.12 && !(times > faster)) {
    signs.push({
      cause: 'lost idle air or control',
      weight: 1,
      what: 'from a steady idle, not when the throttle was released',
    });
  }
  return signs;
}

/** Deceleration from three quarters to a third of the running limit's double [rad/s²]; NaN when it is not seen. */
function fallRate(entry: HealthEntry, stop: EngineStop): number {
  const track = entry.tracks.find(({ meaning }) => meaning === 'engine-speed');
  return track ? decelerationBetween(track, [stop.above - 2, stop.stopped], FALL) : Number.NaN;
}

/** Engine speeds between which a falling engine is timed [rad/s]: 1050 to 480 rpm. @source our default */
export const FALL = [110, 50] as const;

/** Mean deceleration between two speeds in a stretch of time [rad/s²]; NaN when both are not passed in order. */
export function decelerationBetween(
  { times, raw }: SceneTrack,
  [from, to]: readonly [number, number],
  [high, low]: readonly [number, number],
): number {
  let highTime = Number.NaN;
  for (let i = 1; i < times.length; i++) {
    if (times[i] < from || times[i] > to + 0.01) continue;
    if (raw[i - 1] >= high && raw[i] < high) highTime = times[i];
    if (raw[i - 1] >= low && raw[i] < low && times[i] > highTime) return (high - low) / (times[i] - highTime);
  }
  return Number.NaN;
}

/** Swing of the idle speed before the stop: half of its range over its middle, in the six seconds before [1]; 0 when it was not idling. */
function idleWander({ tracks }: HealthEntry, stop: EngineStop): number {
  const track = tracks.find(({ meaning }) => meaning === 'engine-speed');
  const speeds = track ? valuesBetween(track, stop.above - 6, stop.above - 0.5) : [];
  const usual = middle(speeds);
  const half = Math.floor(speeds.length / 2);
  const drifts = Math.abs(middle(speeds.slice(0, half)) / middle(speeds.slice(half)) - 1) > 0.1;
  if (speeds.length < 10 || usual > 160 || drifts) return 0;
  const sorted = [...speeds].sort((a, b) => a - b);
  const [low, high] = [sorted[Math.floor(0.1 * sorted.length)], sorted[Math.floor(0.9 * sorted.length)]];
  const drops = speeds.slice(1).filter((speed, i) => (speed - usual) * (speeds[i] - usual) < 0).length;
  return drops >= 2 ? (high - low) / 2 / usual : 0;
}
