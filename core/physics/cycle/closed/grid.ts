import { WIEBE_EFFICIENCY, WIEBE_FORM, type Wiebe } from '../burn/wiebe.ts';
import { type CylinderShape, cylinderSize } from '../mechanism/cylinder.ts';
import { fifthRoot } from './fifth-root.ts';
import type { BurnShape, Workspace } from './workspace.ts';
import { WOSCHNI } from './woschni.ts';

/** What the crank angles of one closed cycle depend on [rad after firing TDC]. */
export interface CycleSpan {
  readonly intakeCloses: number;
  readonly exhaustOpens: number;
  readonly wiebe: Wiebe;
  /** Share of the charge that burns at all [1]. */
  readonly burnedShare: number;
}

/** Burning is followed so many durations far; what is left then, 1e-6, is given to the rest. @source our default */
export const BURN_SPAN = 1.4;

/** Place of the first point, of the first node, number of steps and step [rad] of the three parts. */
export interface Part {
  readonly zones: 1 | 2;
  readonly point: number;
  readonly node: number;
  readonly steps: number;
  readonly step: number;
}

/**
 * Crank angles, volumes, walls, burned shares of a cycle, into the arrays of a workspace.
 *
 * The parts begin and end with burning, so steps move smoothly when burning does.
 *
 * @returns the three parts
 * @source  slider-crank; walls: head and piston taken flat, plus the liner
 */
export function fillGridInto(w: Workspace, shape: CylinderShape, span: CycleSpan): readonly [Part, Part, Part] {
  const { wiebe } = span;
  const end = Math.min(wiebe.start + BURN_SPAN * wiebe.duration, span.exhaustOpens);
  const { compression, burning, expansion } = w.steps;
  const parts: readonly [Part, Part, Part] = [
    { zones: 1, point: 0, node: 0, steps: compression, step: (wiebe.start - span.intakeCloses) / compression },
    { zones: 2, point: 2 * compression + 1, node: compression, steps: burning, step: (end - wiebe.start) / burning },
    {
      zones: 2,
      point: 2 * (compression + burning) + 2,
      node: compression + burning,
      steps: expansion,
      step: (span.exhaustOpens - end) / expansion,
    },
  ];
  fillVolumes(w, shape, { part: parts[0], from: span.intakeCloses });
  fillVolumes(w, shape, { part: parts[1], from: wiebe.start });
  fillVolumes(w, shape, { part: parts[2], from: end });
  fillBurning(w, parts, span);
  return parts;
}

/**
 * Wall area × volume^−0.55, and (clearance/volume)^1.3 for the motored pressure of the heat transfer law: exponent 1.3, common practice
 * 1.30 … 1.35, no source. Sine and cosine go on by rotation, which is as good as the library's for these few points.
 */
function fillVolumes(
  w: Workspace,
  shape: CylinderShape,
  { part, from }: { readonly part: Part; readonly from: number },
): void {
  const { points, trace } = w;
  const { pistonArea, clearance } = cylinderSize(shape);
  const r = shape.stroke / 2;
  const rod = shape.rodLength;
  const rodSquare = rod * rod;
  const half = part.step / 2;
  const [turnSine, turnCosine] = [Math.sin(half), Math.cos(half)];
  let sine = Math.sin(from);
  let cosine = Math.cos(from);
  const flat = 2 * pistonArea;
  const liner = 4 / shape.bore;
  const scale = clearance ** WOSCHNI.temperature;
  const perClearance = 1 / clearance;
  for (let i = 0; i <= 2 * part.steps; i++) {
    const j = part.point + i;
    const q = Math.sqrt(rodSquare - r * r * sine * sine);
    const volume = clearance + pistonArea * (r * (1 - cosine) + rod - q);
    points.volume[j] = volume;
    points.relativeChange[j] = (pistonArea * r * sine * (1 + (r * cosine) / q)) / volume;
    const quarter = Math.sqrt(Math.sqrt(volume * perClearance));
    const square = quarter * quarter;
    const whole = square * fifthRoot(quarter);
    points.heatArea[j] = (scale * (flat + liner * volume)) / whole;
    points.motored[j] = 1 / (whole * square * quarter);
    if ((i & 1) === 0) trace.angle[part.node + i / 2] = from + i * half;
    const next = sine * turnCosine + cosine * turnSine;
    cosine = cosine * turnCosine - sine * turnSine;
    sine = next;
  }
}

/** Share of the burning that is followed. @source Wiebe's law at the end of the span */
const FOLLOWED = -Math.expm1(-WIEBE_EFFICIENCY * BURN_SPAN ** (WIEBE_FORM + 1));

function fillBurning(w: Workspace, [first, burning, last]: readonly [Part, Part, Part], span: CycleSpan): void {
  const { points, burnShape } = w;
  const { start, duration } = span.wiebe;
  const cutShort = start + BURN_SPAN * duration > span.exhaustOpens;
  // Burning that is not cut short has the same shape in every cycle.
  const step = cutShort ? burning.step / 2 / duration : BURN_SPAN / (2 * burning.steps);
  if (step !== burnShape.step) shapeBurningInto(burnShape, step);
  const share = span.burnedShare / FOLLOWED;
  const rate = (share * WIEBE_EFFICIENCY * (WIEBE_FORM + 1)) / duration;
  const walls = Math.cbrt(share) ** 2;
  for (let j = first.point; j < burning.point; j++) points.share[j] = 0;
  for (let i = 0; i <= 2 * burning.steps; i++) {
    const j = burning.point + i;
    points.share[j] = share * burnShape.share[i];
    points.rate[j] = rate * burnShape.rate[i];
    points.hotWalls[j] = walls * burnShape.walls[i];
  }
  const done = last.point - 1;
  for (let j = last.point; j <= last.point + 2 * last.steps; j++) {
    points.share[j] = points.share[done];
    points.rate[j] = 0;
    points.hotWalls[j] = points.hotWalls[done];
  }
}

function shapeBurningInto(shape: BurnShape, step: number): void {
  shape.step = step;
  for (let i = 0; i < shape.share.length; i++) {
    const t = i * step;
    const left = Math.exp(-WIEBE_EFFICIENCY * t * t * t);
    // for small t the difference from 1 would lose digits
    const x = t < 0.02 ? WIEBE_EFFICIENCY * t * t * t * (1 - 0.5 * WIEBE_EFFICIENCY * t * t * t) : 1 - left;
    shape.share[i] = x;
    shape.rate[i] = t * t * left;
    shape.walls[i] = Math.cbrt(x) ** 2;
  }
}
