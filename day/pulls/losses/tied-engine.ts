import { median } from '../../../core/numerics/index.ts';
import { sampleTrack } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';

/** The rolls must lose this share of their speed before anything is judged [1]; a tied engine keeps its ratio to them within the other. @source our default */
const LEAST_CHANGE = 0.25;
const SAME_RATIO = 0.1;

/**
 * Whether the engine turned with the rolls while they slowed down: then the coast-down was made in gear, whatever was written. Compared
 * are the middle ratios of the first and the last fifth; an idling engine's ratio rises as the rolls slow down. Undefined where the stretch
 * does not show it.
 */
export function isEngineTied(engine: Track | undefined, side: RollSide, { from, to }: Segment): boolean | undefined {
  if (!engine) return undefined;
  const times = side.times.slice(from, to);
  const omega = sampleTrack(engine, times);
  const ratios = omega.map((w, i) => w / side.speed[from + i]);
  const fifth = Math.floor(times.length / 5);
  const speedAt = (start: number): number => median(side.speed.slice(from + start, from + start + fifth), 'skip');
  const ratioAt = (start: number): number => median(ratios.slice(start, start + fifth).filter(Number.isFinite), 'skip');
  const [first, last] = [0, times.length - fifth];
  if (fifth < 3 || !(speedAt(last) < (1 - LEAST_CHANGE) * speedAt(first))) return undefined;
  const change = Math.abs(Math.log(ratioAt(last) / ratioAt(first)));
  return Number.isFinite(change) ? change < SAME_RATIO : undefined;
}

/** A ratio that leaves that of the beginning by this is tied no longer [1], once it stays away this long [s]. @source our default */
const UNTIED = 0.04;
const STAYS = 0.3;

/**
 * Row of the rolls from which on an engine that turned with them does so no longer: the clutch was opened. Undefined where it stays tied, never was, or
 * where the beginning does not show it.
 *
 * @source an idling engine's ratio rises by as much as the rolls slow down, a tied one's stays: half of that parts them
 */
export function untiedFrom(engine: Track | undefined, side: RollSide, { from, to }: Segment): number | undefined {
  if (!engine) return undefined;
  const times = side.times.slice(from, to);
  const ratios = sampleTrack(engine, times).map((w, i) => w / side.speed[from + i]);
  const begin = tiedBeginning(ratios, side.speed.subarray(from, to));
  if (begin === undefined) return undefined;
  const away = ratios.map((ratio) =>
    Number.isFinite(ratio) ? Number(Math.abs(ratio / begin.ratio - 1) > UNTIED) : -1,
  );
  let since = -1;
  for (let i = begin.rows; i < away.length; i++) {
    if (away[i] === 0) since = -1;
    if (away[i] === 1 && since < 0) since = i;
    if (since >= 0 && times[i] - times[since] >= STAYS) return from + since;
  }
  return undefined;
}

/** The ratio over the first rows in which the rolls lose a tenth of their speed, when it stays while they do. rows: how many those are. */
function tiedBeginning(
  ratios: Float64Array,
  speed: Float64Array,
): { readonly ratio: number; readonly rows: number } | undefined {
  const rows = speed.findIndex((v) => v < 0.9 * speed[0]);
  const part = Math.floor(rows / PARTS);
  if (part < 3) return undefined;
  const middles = (values: Float64Array): readonly number[] =>
    Array.from({ length: PARTS }, (_, k) => middle(values.slice(k * part, (k + 1) * part)));
  const [steps, speeds] = [middles(ratios), middles(speed)];
  const slowed = Math.log(speeds[0] / speeds[PARTS - 1]);
  const moved = Math.log(Math.max(...steps) / Math.min(...steps));
  return moved < slowed / 2 ? { ratio: middle(ratios.slice(0, rows)), rows } : undefined;
}

/** The beginning is looked at in so many parts: an engine that falls to idle meets the ratio only in passing. @source our default */
const PARTS = 4;

function middle(values: Float64Array): number {
  return median(values.filter(Number.isFinite), 'skip');
}
