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
