import { median } from '../../../core/numerics/index.ts';
import type { Column } from '../table.ts';
import type { Assessed } from './assessed.ts';

/**
 * A brake can only hold back: while the rolls slow down by themselves its cell reads about nothing. A whole force holds what drags the
 * rolls down as well, and is then clearly negative. Shares of the top force. @source mechanics; the shares are our default
 */
const NOTHING = 0.05;
const DRAG = 0.1;
/** Rolls count as slowing when they lose speed at this share of the steepest rise. @source our default */
const SLOWING = 0.15;
/** Least time of slowing that is believed [rows per 100 rows of the log, and rows]. @source our default */
const LEAST_ROWS = 25;
/** A force that never rises this far above its own noise was never at work and tells nothing. @source our default */
const ACTIVE = 15;
/** What is left for the other kind once the numbers have spoken. @source our default */
const SETTLED = 0.92;

/** Settles whether a bare force is the brake's or the whole force, from what it reads while the rolls slow down. */
export function withForceKind(columns: readonly Assessed[]): readonly Assessed[] {
  const speed = columns.find(
    ({ candidates: [first] }) => first?.meaning === 'roll-speed' || first?.meaning === 'roll-rotation',
  );
  if (!speed) return columns;
  return columns.map((each) => (isBareForce(each) ? settledForce(each, speed.column) : each));
}

function isBareForce({ candidates: [first, second] }: Assessed): boolean {
  const kinds = new Set([first?.meaning, second?.meaning]);
  return kinds.has('brake-force') && kinds.has('tractive-force') && first !== undefined && first.score < 0.75;
}

function settledForce(each: Assessed, speed: Column): Assessed {
  const share = forceWhileSlowing(each.column, speed);
  const kind =
    share === undefined
      ? undefined
      : Math.abs(share) < NOTHING
        ? 'brake-force'
        : share < -DRAG
          ? 'tractive-force'
          : undefined;
  const chosen = each.candidates.find(({ meaning }) => meaning === kind);
  if (!chosen || share === undefined) return each;
  const because = `${kind === 'brake-force' ? 'reads nothing' : 'reads drag'} while the rolls slow down (${Math.round(100 * share)} % of its top)`;
  const others = each.candidates
    .filter((one) => one !== chosen)
    .map((one) => ({ ...one, score: Math.min(one.score, 1 - SETTLED) }));
  const hypotheses = each.hypotheses.map((one) => ({
    ...one,
    meaning: chosen.meaning,
    because: [...one.because, because],
  }));
  return { ...each, candidates: [{ ...chosen, score: SETTLED }, ...others], hypotheses };
}

/** Middle force while the rolls clearly slow down, as a share of the top force; undefined where they never do for long enough. */
function forceWhileSlowing(force: Column, speed: Column): number | undefined {
  const { samples: v } = speed;
  const { samples: f } = force;
  const reach = Math.max(2, Math.round(v.length / 100));
  const rises = Array.from(v, (_, i) => v[Math.min(v.length - 1, i + reach)] - v[Math.max(0, i - reach)]);
  const steepest = Math.max(...sortedTop(rises));
  const slowing: number[] = [];
  for (let i = reach; i < v.length - reach; i++) {
    if (rises[i] < -SLOWING * steepest && Number.isFinite(f[i])) slowing.push(f[i]);
  }
  const top = Math.max(...sortedTop(Array.from(f)));
  if (slowing.length < LEAST_ROWS || !(top > ACTIVE * noiseOf(f))) return undefined;
  return median(slowing, 'skip') / top;
}

/** Middle step between neighbouring samples. */
function noiseOf(samples: Float64Array): number {
  const steps = Array.from(samples, (value, i) => Math.abs(value - samples[i - 1])).filter(Number.isFinite);
  return steps.length === 0 ? 0 : median(steps, 'skip');
}

/** The values around the 98th percentile: a top that one spike does not set. */
function sortedTop(values: readonly number[]): number[] {
  const known = values.filter(Number.isFinite).sort((a, b) => a - b);
  return known.length === 0 ? [0] : [known[Math.floor(0.98 * (known.length - 1))]];
}
