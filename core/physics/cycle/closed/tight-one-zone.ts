import { RANGE_BORDER } from '../gas/species.ts';
import type { Part } from './grid.ts';
import { CALORIC, F, S, type Workspace } from './workspace.ts';

/**
 * As closed/march.ts over a part before burning, for a cylinder that does not leak: equations of oneZoneSlopesInto in closed/slopes.ts.
 *
 * One function, so that the numbers of a stage stay in registers; see closed/tight-two-zones.ts.
 *
 * @source  classical Runge–Kutta method of fourth order; first law
 */
export function marchTightOneZone({ frame, state, points, trace, caloric: a }: Workspace, part: Part): void {
  const { volume, relativeChange, heatArea } = points;
  const h = part.step;
  const R = frame[F.freshConstant];
  const wall = frame[F.wall];
  const motionHeat = frame[F.motionHeat];
  const perMass = 1 / state[S.mass];
  let [p0, T0, work, heat] = [state[S.pressure], state[S.unburned], state[S.work], state[S.heat]];
  let [p, T] = [p0, T0];
  let [sumP, sumT, sumWork, sumHeat] = [0, 0, 0, 0];
  let j = part.point;
  let node = part.node;
  // four stages a step, and one more that writes the last node
  for (let look = 0; look <= 4 * part.steps; look++) {
    const o = T > RANGE_BORDER ? CALORIC.size : 0;
    const perHeatCapacity = 1 / (a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4]))));
    const lost = motionHeat * heatArea[j] * Math.sqrt(Math.sqrt(p)) * (T - wall);
    const ratio = R * perHeatCapacity;
    const change = relativeChange[j];
    const energy = p * volume[j];
    const rise = (-change - (ratio * lost) / energy) / (1 - ratio);
    const dp = p * rise;
    const dT = ratio * T * rise - lost * perMass * perHeatCapacity;
    const stage = look & 3;
    if (stage === 0) {
      trace.pressure[node] = p;
      trace.pressureSlope[node] = dp;
      trace.unburned[node] = T;
      trace.share[node++] = 0;
    }
    const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
    sumP += weight * dp;
    sumT += weight * dT;
    sumWork += weight * energy * change;
    sumHeat += weight * lost;
    const on = stage === 2 ? h : 0.5 * h;
    if (stage < 3) {
      p = p0 + on * dp;
      T = T0 + on * dT;
      if (stage !== 1) j++;
      continue;
    }
    [p, T, p0, T0] = [p0 + sumP, T0 + sumT, p0 + sumP, T0 + sumT];
    [work, heat] = [work + sumWork, heat + sumHeat];
    [sumP, sumT, sumWork, sumHeat] = [0, 0, 0, 0];
  }
  [state[S.pressure], state[S.unburned], state[S.work], state[S.heat]] = [p0, T0, work, heat];
}
