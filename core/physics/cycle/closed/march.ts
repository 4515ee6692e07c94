import type { Part } from './grid.ts';
import { oneZoneSlopesInto, twoZoneSlopesInto } from './slopes.ts';
import { marchTightOneZone } from './tight-one-zone.ts';
import { marchTightTwoZones } from './tight-two-zones.ts';
import { F, G, S, type Workspace } from './workspace.ts';

/**
 * Carries the state through the steps of one part and writes the nodes.
 *
 * @source  classical Runge–Kutta method of fourth order; points in the middle of a step are those of the grid
 */
export function marchPart(w: Workspace, part: Part): void {
  if (w.frame[F.leak] !== 0) marchLeakingPart(w, part);
  else if (part.zones === 1) marchTightOneZone(w, part);
  else marchTightTwoZones(w, part);
}

/** As {@link marchPart} with a leak of any size, also none: the equations in the plain, for cylinders that leak and as the twin of the quick ones. */
export function marchLeakingPart(w: Workspace, part: Part): void {
  for (let i = 0; i < part.steps; i++) {
    const point = part.point + 2 * i;
    advanceStage(w, 0);
    slopesInto(w, point, part);
    recordNode(w, part.node + i, point);
    stepOn(w, point, part);
  }
  advanceStage(w, 0);
  const last = part.point + 2 * part.steps;
  slopesInto(w, last, part);
  recordNode(w, part.node + part.steps, last);
}

/** Plain calls, which the compiler can follow. */
function slopesInto(w: Workspace, point: number, part: Part): void {
  if (part.zones === 1) oneZoneSlopesInto(w, point);
  else twoZoneSlopesInto(w, point);
}

/** Written out instead of looped over: state and totals are few, and this runs for every step of every cycle. */
function stepOn(w: Workspace, point: number, part: Part): void {
  const { sum, slope, state } = w;
  const h = part.step;
  sum[0] = slope[0];
  sum[1] = slope[1];
  sum[2] = slope[2];
  sum[3] = slope[3];
  sum[4] = slope[4];
  sum[5] = slope[5];
  sum[6] = slope[6];
  advanceStage(w, 0.5 * h);
  slopesInto(w, point + 1, part);
  addTwice(w);
  advanceStage(w, 0.5 * h);
  slopesInto(w, point + 1, part);
  addTwice(w);
  advanceStage(w, h);
  slopesInto(w, point + 2, part);
  const sixth = h / 6;
  state[0] += sixth * (sum[0] + slope[0]);
  state[1] += sixth * (sum[1] + slope[1]);
  state[2] += sixth * (sum[2] + slope[2]);
  state[3] += sixth * (sum[3] + slope[3]);
  state[4] += sixth * (sum[4] + slope[4]);
  state[5] += sixth * (sum[5] + slope[5]);
  state[6] += sixth * (sum[6] + slope[6]);
}

/** The totals after mass are not asked for by the slopes, so only four places move. */
function advanceStage({ stage, state, slope }: Workspace, h: number): void {
  stage[0] = state[0] + h * slope[0];
  stage[1] = state[1] + h * slope[1];
  stage[2] = state[2] + h * slope[2];
  stage[3] = state[3] + h * slope[3];
}

function addTwice({ sum, slope }: Workspace): void {
  sum[0] += 2 * slope[0];
  sum[1] += 2 * slope[1];
  sum[2] += 2 * slope[2];
  sum[3] += 2 * slope[3];
  sum[4] += 2 * slope[4];
  sum[5] += 2 * slope[5];
  sum[6] += 2 * slope[6];
}

function recordNode({ trace, stage, slope, points, gas }: Workspace, node: number, point: number): void {
  trace.pressure[node] = stage[S.pressure];
  trace.pressureSlope[node] = slope[S.pressure];
  trace.unburned[node] = stage[S.unburned];
  trace.burned[node] = gas[G.temperature];
  trace.share[node] = points.share[point];
}
