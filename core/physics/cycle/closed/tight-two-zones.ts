import { CELL, GRID, ROOT_CENTRE, ROOT_HALF } from '../gas/burned-table.ts';
import { RANGE_BORDER } from '../gas/species.ts';
import { fifthRoot } from './fifth-root.ts';
import type { Part } from './grid.ts';
import { CALORIC, F, S, type Workspace } from './workspace.ts';

const LAST_CELL = GRID.cells - 1;
const PER_STEP = 1 / GRID.enthalpyStep;
const PER_HALF = 1 / ROOT_HALF;
const ZERO = -GRID.firstEnthalpy / GRID.enthalpyStep;

/**
 * As closed/march.ts over a part that burns or has burned, for a cylinder that does not leak: twoZoneSlopesInto in closed/slopes.ts with
 * closed/burned-lookup.ts written into it, which are its twin.
 *
 * Three quarters of a cycle's time go here. As one function the compiler keeps the numbers of a stage in registers: a fifth of the cycle's time.
 *
 * @source  classical Runge–Kutta method of fourth order; first law for two open zones
 */
// biome-ignore format: equations of one kind side by side, so that the loop can be seen as a whole
export function marchTightTwoZones(w: Workspace, part: Part): void {
  const { frame, state, points, trace, burned: c, caloric: a } = w;
  const { volume, relativeChange, heatArea, motored, share, rate, hotWalls } = points;
  const h = part.step, R = frame[F.freshConstant], wall = frame[F.wall], reference = frame[F.reference];
  const motionHeat = frame[F.motionHeat], faster = frame[F.burning], start = frame[F.startPressure];
  const m = state[S.mass], perMass = 1 / m;
  let p0 = state[S.pressure], T0 = state[S.unburned], lag0 = state[S.lag], work = state[S.work], heat = state[S.heat];
  let p = p0, T = T0, shareLag = lag0, j = part.point, node = part.node;
  let sumP = 0, sumT = 0, sumLag = 0, sumWork = 0, sumHeat = 0;
  // four stages a step, and one more that writes the last node
  for (let look = 0; look <= 4 * part.steps; look++) {
    // unburned gas
    const o = T > RANGE_BORDER ? CALORIC.size : 0;
    const perHeatCapacity = 1 / (a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4]))));
    const enthalpy = a[o + 5] + T * (a[o + 6] + T * (a[o + 7] + T * (a[o + 8] + T * (a[o + 9] + T * a[o + 10]))));
    const ratio = R * perHeatCapacity, cool = R * T;
    // burned gas: R·T, its slopes with enthalpy and with ln p, temperature
    const x = share[j], lag = x > 0 ? shareLag / x : 0;
    const root = Math.sqrt(Math.sqrt(p)), perRoot = 1 / root;
    const place = (enthalpy + lag - reference) * PER_STEP + ZERO;
    const cell = place < 1 ? 0 : place >= LAST_CELL ? LAST_CELL : place | 0;
    const u = place - cell, v = (perRoot - ROOT_CENTRE) * PER_HALF, b = cell * CELL, twice = 2 * u, thrice = 3 * u * u;
    const a1 = c[b + 1], a2 = c[b + 2], a3 = c[b + 3], b1 = c[b + 5], b2 = c[b + 6], b3 = c[b + 7];
    const c1 = c[b + 9], c2 = c[b + 10], c3 = c[b + 11], d1 = c[b + 13], d2 = c[b + 14], d3 = c[b + 15];
    const g0 = c[b] + u * (a1 + u * (a2 + u * a3)), g1 = c[b + 4] + u * (b1 + u * (b2 + u * b3));
    const g2 = c[b + 8] + u * (c1 + u * (c2 + u * c3)), g3 = c[b + 12] + u * (d1 + u * (d2 + u * d3));
    const s0 = a1 + twice * a2 + thrice * a3, s1 = b1 + twice * b2 + thrice * b3;
    const s2 = c1 + twice * c2 + thrice * c3, s3 = d1 + twice * d2 + thrice * d3;
    const t0 = c[b + 16] + u * (c[b + 17] + u * (c[b + 18] + u * c[b + 19]));
    const t1 = c[b + 20] + u * (c[b + 21] + u * (c[b + 22] + u * c[b + 23]));
    const t2 = c[b + 24] + u * (c[b + 25] + u * (c[b + 26] + u * c[b + 27]));
    const g = g0 + v * (g1 + v * (g2 + v * g3)), byEnthalpy = (s0 + v * (s1 + v * (s2 + v * s3))) * PER_STEP;
    const byLogPressure = (g1 + v * (2 * g2 + v * 3 * g3)) * (-0.25 * PER_HALF) * perRoot, hot = t0 + v * (t1 + v * t2);
    // walls
    const quarter = Math.sqrt(Math.sqrt(1 + faster * (p - start * motored[j])));
    const perKelvin = motionHeat * quarter * quarter * quarter * fifthRoot(quarter) * heatArea[j] * root, walls = hotWalls[j];
    const lostHot = perKelvin * walls * (hot - wall), lostCool = perKelvin * (1 - walls) * (T - wall);
    // slopes
    const energy = p * volume[j], perVolume = 1 / energy, perEnergy = m * perVolume, change = relativeChange[j];
    const stiffness = 1 - perEnergy * ((1 - x) * ratio * cool + x * (byEnthalpy * g + byLogPressure));
    const burning = perEnergy * rate[j] * (g - cool - byEnthalpy * lag);
    const rise = (burning - change - (ratio * lostCool + byEnthalpy * lostHot) * perVolume) / stiffness;
    const coolLoss = (lostCool * perMass) / (1 - x);
    const dp = p * rise, dT = (cool * rise - coolLoss) * perHeatCapacity;
    const dLag = x * ((g - cool) * rise + coolLoss) - lostHot * perMass;
    const stage = look & 3, weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
    if (stage === 0) {
      trace.pressure[node] = p; trace.pressureSlope[node] = dp; trace.unburned[node] = T;
      trace.burned[node] = hot; trace.share[node++] = x;
    }
    sumP += weight * dp; sumT += weight * dT; sumLag += weight * dLag;
    sumWork += weight * energy * change; sumHeat += weight * (lostHot + lostCool);
    if (stage < 3) {
      const on = stage === 2 ? h : 0.5 * h;
      p = p0 + on * dp; T = T0 + on * dT; shareLag = lag0 + on * dLag;
      if (stage !== 1) j++;
    } else {
      p0 += sumP; T0 += sumT; lag0 += sumLag; work += sumWork; heat += sumHeat;
      p = p0; T = T0; shareLag = lag0;
      sumP = 0; sumT = 0; sumLag = 0; sumWork = 0; sumHeat = 0;
    }
  }
  state[S.pressure] = p0; state[S.unburned] = T0; state[S.lag] = lag0; state[S.work] = work; state[S.heat] = heat;
}
