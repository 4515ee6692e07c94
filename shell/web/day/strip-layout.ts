import type { DriftView, StripEntry } from '../../contract/index.ts';
import { stripScale } from './strip-scale.ts';

/** One entry on the strip, in px. block: from peak + 2u (top) to peak − 2u (bottom), the peak between them. */
export interface Mark {
  readonly entry: StripEntry;
  readonly x: number;
  /** Empty where there is no room for it. */
  readonly clock: string;
  readonly name: string;
  readonly block?: { readonly top: number; readonly peak: number; readonly bottom: number };
}

export interface StripLayout {
  readonly width: number;
  readonly height: number;
  readonly ground: number;
  readonly markWidth: number;
  readonly step: number;
  readonly marks: readonly Mark[];
  /** Level lines of power [W] with their height. */
  readonly levels: readonly { readonly value: number; readonly y: number }[];
}

interface Box {
  readonly width: number;
  readonly height: number;
}

/** Distance of two marks: wide while there is room, never under what a finger hits. @source WCAG 2.2, 2.5.8: 24 px at least */
const WIDEST_STEP = 58;
const LEAST_STEP = 31;
const WIDEST_MARK = 38;
/** Room of a clock, and of one letter of a name [px]. */
const CLOCK_WIDTH = 46;
const LETTER_WIDTH = 7.5;
const LONGEST_NAME = 8;
const SIDE = 74;
const END = 26;
const TOP = 22;
const LABELS = 48;
/** A strip lower than this has no room for level lines. */
const LEAST_FOR_LEVELS = 140;

/**
 * Where every entry stands: time runs to the right, never closer than a finger's width; the highest peak with its band fills the height.
 * Entries without a clock follow the one before at the least distance.
 */
export function stripLayout(entries: readonly StripEntry[], { width, height }: Box): StripLayout {
  const ground = height - LABELS;
  const step = Math.max(LEAST_STEP, Math.min(WIDEST_STEP, (width - SIDE - END) / Math.max(1, entries.length - 1)));
  const xs = places(entries, width, step);
  const scale = stripScale(entries);
  const reach = scale.most - scale.ground;
  const y = (value: number) => ground - (reach > 0 ? (Math.max(0, value - scale.ground) / reach) * (ground - TOP) : 0);
  const marks = labelled(entries.map((entry, at) => ({ entry, x: xs[at] ?? SIDE, ...blockOf(entry, y) })));
  return {
    width: Math.max(width, (xs.at(-1) ?? 0) + END),
    height,
    ground,
    markWidth: Math.min(WIDEST_MARK, step - 8),
    step,
    marks,
    levels: ground < LEAST_FOR_LEVELS ? [] : scale.levels.map((value) => ({ value, y: y(value) })),
  };
}

/** Writes clocks and names only where they do not run into the one before. */
function labelled(marks: readonly Omit<Mark, 'clock' | 'name'>[]): readonly Mark[] {
  let clockEnd = Number.NEGATIVE_INFINITY;
  let nameEnd = Number.NEGATIVE_INFINITY;
  return marks.map((mark) => {
    const name = nameOf(mark.entry);
    const half = (name.length * LETTER_WIDTH) / 2;
    const clockFits = mark.x - CLOCK_WIDTH / 2 >= clockEnd;
    const nameFits = mark.x - half >= nameEnd;
    if (clockFits) clockEnd = mark.x + CLOCK_WIDTH / 2;
    if (nameFits) nameEnd = mark.x + half;
    return { ...mark, clock: clockFits ? (mark.entry.clock ?? '–') : '', name: nameFits ? name : '' };
  });
}

function nameOf({ id, title }: StripEntry): string {
  if (id.length <= LONGEST_NAME || title === undefined) return id.slice(0, LONGEST_NAME);
  return title.length > LONGEST_NAME ? `${title.slice(0, LONGEST_NAME - 1)}…` : title;
}

/** A block lower than this cannot show its fill [px]. */
const LEAST_BLOCK = 12;

function blockOf({ peak }: StripEntry, y: (value: number) => number): Pick<Mark, 'block'> {
  if (!peak) return {};
  const spread = 2 * (peak.standardUncertainty ?? 0);
  const at = y(peak.value);
  const half = Math.max(LEAST_BLOCK / 2, at - y(peak.value + spread));
  return { block: { top: at - half, peak: at, bottom: at + half } };
}

/** Gaps in proportion to the clock where there is room, never under one step. */
function places(entries: readonly StripEntry[], width: number, step: number): readonly number[] {
  const gaps = entries.map((entry, at) => (at === 0 ? 0 : minutesBetween(entries[at - 1], entry)));
  const all = gaps.reduce((sum, gap) => sum + gap, 0);
  const room = Math.max(0, width - SIDE - END - step * (entries.length - 1));
  let x = SIDE;
  return gaps.map((gap, at) => {
    if (at > 0) x += step + (all > 0 ? (gap / all) * room : 0);
    return x;
  });
}

function minutesBetween(before: StripEntry | undefined, entry: StripEntry): number {
  const [from, to] = [minutesOf(before?.clock), minutesOf(entry.clock)];
  return from === undefined || to === undefined ? 0 : Math.max(0, to - from);
}

/** Minutes of a clock such as `09:35` or `09:35:30` since midnight. */
export function minutesOf(clock: string | undefined): number | undefined {
  const match = /^(\d{2}):(\d{2})(?::(\d{2}))?$/.exec(clock ?? '');
  return match ? Number(match[1]) * 60 + Number(match[2]) + Number(match[3] ?? 0) / 60 : undefined;
}

/** One thin line under the strip. */
export interface DriftRow {
  readonly what: string;
  readonly kind: DriftView['lines'][number]['kind'];
  readonly at?: number | undefined;
  readonly low: number;
  readonly high: number;
  readonly dots: readonly { readonly entry: string; readonly value: number; readonly x: number; readonly y: number }[];
}

/** A drift line on the places of the strip's marks, its own lowest at the bottom of `height`. A level line runs through the middle. */
export function driftRow(line: DriftView['lines'][number], marks: readonly Mark[], height: number): DriftRow {
  const values = line.points.map(({ value }) => value);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const y = (value: number) =>
    high === low ? height / 2 : height - 5 - ((value - low) / (high - low)) * (height - 10);
  const dots = line.points.flatMap(({ entry, value }) => {
    const mark = marks.find((candidate) => candidate.entry.id === entry);
    return mark ? [{ entry, value, x: mark.x, y: y(value) }] : [];
  });
  return { what: line.what, kind: line.kind, at: line.at, low, high, dots };
}
