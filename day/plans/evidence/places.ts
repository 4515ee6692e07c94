import type { Fault } from '../../verdicts/index.ts';
import type { Foresight } from '../limits/foresight.ts';
import { type JudgedPull, type Moment, momentAt } from './moment.ts';
import { saidOf } from './seen.ts';

/** A moment on one side of a border: passed, the fault was there; else the hardest moment of a stretch without it. */
export interface Found {
  readonly moment: Moment;
  readonly passed: boolean;
}

/** How a border is looked for. hardness: what must be larger to pass it, at a moment; NaN where it is not known. */
export interface Search {
  readonly faults: readonly Fault[];
  readonly hardness: (moment: Moment) => number;
  /** Where in a window the border was passed: at its beginning, or anywhere in it because the sign comes late. */
  readonly sign: 'at once' | 'late';
  /** Once passed, nothing after it counts: the part is no longer what it was. */
  readonly lasting: boolean;
  /** Only what began under load counts: what came when the throttle closed is another thing. */
  readonly underLoad?: boolean;
}

/** A judged pull with the moments of it that are looked at. */
export interface WatchedPull extends JudgedPull {
  readonly moments: readonly Moment[];
}

/** How long before a window nothing must have been there yet [s]. @source our default */
const BEFORE = 0.3;

/** What begins so shortly before the end of the load belongs to the throttle's closing [s]. @source our default: as the detector of surge parts them */
const LIFT_OFF = 0.15;

/** Moments on both sides of a border, at most one of each side in a pull, in the order of the day. */
export function placesOf(
  foresight: Foresight,
  pulls: readonly WatchedPull[],
  { faults, hardness, sign, lasting, underLoad = false }: Search,
): readonly Found[] {
  const found: Found[] = [];
  for (const pull of pulls) {
    const said = saidOf(pull, faults);
    if (said.said === 'silent') continue;
    const { fromTime: from, toTime: to } = pull.verdict.pull.segment;
    const hardest = (span: { readonly from: number; readonly to: number }): Moment | undefined =>
      hardestOf(
        pull.moments.filter(({ time }) => time >= span.from && time <= span.to),
        hardness,
      );
    const windows = said.said === 'there' ? said.windows : [];
    const first = underLoad ? windows.find((window) => window.from < to - LIFT_OFF) : windows[0];
    const free = first ? { from, to: first.from - BEFORE } : { from, to };
    const before = first && sign === 'late' ? undefined : hardest(free);
    if (before) found.push({ moment: before, passed: false });
    if (!first) continue;
    const there = sign === 'late' ? hardest(first) : momentAt(foresight, pull, first.from);
    if (there && !Number.isNaN(hardness(there))) found.push({ moment: there, passed: true });
    if (lasting) break;
  }
  return found;
}

function hardestOf(moments: readonly Moment[], hardness: (moment: Moment) => number): Moment | undefined {
  let best: Moment | undefined;
  let most = Number.NEGATIVE_INFINITY;
  for (const moment of moments) {
    const here = hardness(moment);
    if (!(here > most)) continue;
    best = moment;
    most = here;
  }
  return best;
}

/** Where it was learnt from, in words: `ignition breakup at 5700 rpm in pull 9, none in 12 other pulls`. */
export function wordsOf(what: string, found: readonly Found[], speed: (speed: number) => string): string {
  const there = found.filter(({ passed }) => passed);
  const free = new Set(found.filter(({ passed }) => !passed).map(({ moment }) => moment.where));
  for (const { moment } of there) free.delete(moment.where);
  const named = there.map(({ moment }) => `at ${speed(moment.speed)} in ${moment.where}`);
  if (there.length === 0) return `no ${what} in ${free.size === 1 ? 'one pull' : `${free.size} pulls`}`;
  const others = free.size === 0 ? '' : `, none in ${free.size === 1 ? 'one other pull' : `${free.size} other pulls`}`;
  return `${what} ${named.join(' and ')}${others}`;
}
