import { RANGE_BORDER } from '../gas/species.ts';
import { burnedInto } from './burned-lookup.ts';
import { fifthRoot } from './fifth-root.ts';
import { CALORIC, F, G, S, type Workspace } from './workspace.ts';

/**
 * Slopes with crank angle before burning: one zone.
 *
 *     (1 − R/cp)·dln p = −dV/V − dm/m − (R/cp)·dQ/(p·V);   cp·dT = R·T·dln p − dQ/m
 *
 * @param point  place in the arrays of points; the state is read from `stage`, the slopes go to `slope`
 * @source  first law for an ideal gas of varying heat capacity
 */
export function oneZoneSlopesInto(w: Workspace, point: number): void {
  const { frame, stage, slope, caloric: a, points } = w;
  const p = stage[S.pressure];
  const T = stage[S.unburned];
  const m = stage[S.mass];
  const R = frame[F.freshConstant];
  const o = T > RANGE_BORDER ? CALORIC.size : 0;
  const cp = a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4])));
  const perHeatCapacity = 1 / cp;
  const perMass = 1 / m;
  const perKelvin = frame[F.motionHeat] * points.heatArea[point] * Math.sqrt(Math.sqrt(p));
  const lost = perKelvin * (T - frame[F.wall]);
  const leak = frame[F.leak] === 0 ? 0 : leakRate(frame, p);
  const ratio = R * perHeatCapacity;
  const change = points.relativeChange[point];
  const energy = p * points.volume[point];
  const rise = (-change - leak * perMass - (ratio * lost) / energy) / (1 - ratio);
  slope[S.pressure] = p * rise;
  slope[S.unburned] = ratio * T * rise - lost * perMass * perHeatCapacity;
  slope[S.lag] = 0;
  slope[S.mass] = -leak;
  slope[S.work] = energy * change;
  slope[S.heat] = lost;
  slope[S.leaked] = leak === 0 ? 0 : leak * enthalpyOf(a, o, T);
}

/**
 * Slopes with crank angle while burning and after: two zones at one pressure.
 *
 * With x burned share, g = R·T of burned gas over (h, ln p), δ = h burned − h unburned, M = m/(p·V):
 *
 *     dln p·[1 − M·((1−x)·(R/cp)·R·Tu + x·(g_h·g + g_L))]
 *         = −dV/V − dm/m + M·dx·(g − R·Tu − g_h·δ) − [(R/cp)·dQu + g_h·dQb]/(p·V)
 *     cp·dTu = R·Tu·dln p − dQu/((1−x)·m)
 *     d(x·δ) = x·(g − R·Tu)·dln p − dQb/m + dQu·x/((1−x)·m)
 *
 * Woschni's p^0.8·(p·V)^−0.55 leaves p^¼, two roots.
 * Written with x·δ instead of the burned temperature the system is regular at x = 0, where δ = 0: new burned gas has the
 * enthalpy of the unburned gas it came from. Of the walls, burned gas has x^⅔.
 *
 * @source  first law for two open zones; share of the walls: similar shapes, our default
 */
export function twoZoneSlopesInto(w: Workspace, point: number): void {
  const { frame, stage, slope, caloric: a, points, gas, lookup } = w;
  const p = stage[S.pressure];
  const T = stage[S.unburned];
  const m = stage[S.mass];
  const x = points.share[point];
  const R = frame[F.freshConstant];
  const o = T > RANGE_BORDER ? CALORIC.size : 0;
  const cp = a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4])));
  const perHeatCapacity = 1 / cp;
  const perMass = 1 / m;
  const enthalpy = enthalpyOf(a, o, T);
  const lag = x > 0 ? stage[S.lag] / x : 0;
  lookup[0] = enthalpy + lag - frame[F.reference];
  const root = Math.sqrt(Math.sqrt(p));
  lookup[1] = 1 / root;
  burnedInto(gas, w.burned, lookup);
  const g = gas[G.energy];
  const byEnthalpy = gas[G.byEnthalpy];

  const energy = p * points.volume[point];
  const faster = 1 + frame[F.burning] * (p - frame[F.startPressure] * points.motored[point]);
  // faster^0.8
  const quarter = Math.sqrt(Math.sqrt(faster));
  const film = frame[F.motionHeat] * quarter * quarter * quarter * fifthRoot(quarter);
  const perKelvin = film * points.heatArea[point] * root;
  const hotWalls = points.hotWalls[point];
  const lostHot = perKelvin * hotWalls * (gas[G.temperature] - frame[F.wall]);
  const lostCool = perKelvin * (1 - hotWalls) * (T - frame[F.wall]);
  const leak = frame[F.leak] === 0 ? 0 : leakRate(frame, p);
  const ratio = R * perHeatCapacity;
  const cool = R * T;
  const perVolume = 1 / energy;
  const perEnergy = m * perVolume;
  const change = points.relativeChange[point];
  const stiffness = 1 - perEnergy * ((1 - x) * ratio * cool + x * (byEnthalpy * g + gas[G.byLogPressure]));
  const burning = perEnergy * points.rate[point] * (g - cool - byEnthalpy * lag);
  const lost = (ratio * lostCool + byEnthalpy * lostHot) * perVolume;
  const rise = (burning - change - leak * perMass - lost) / stiffness;
  const coolLoss = (lostCool * perMass) / (1 - x);
  slope[S.pressure] = p * rise;
  slope[S.unburned] = (cool * rise - coolLoss) * perHeatCapacity;
  slope[S.lag] = x * ((g - cool) * rise + coolLoss) - lostHot * perMass;
  slope[S.mass] = -leak;
  slope[S.work] = energy * change;
  slope[S.heat] = lostHot + lostCool;
  slope[S.leaked] = leak === 0 ? 0 : leak * (enthalpy + x * lag);
}

/** Enthalpy of unburned gas [J/kg], Horner's rule. @param o where its range of temperature begins among the coefficients */
function enthalpyOf(a: Float64Array, o: number, T: number): number {
  return a[o + 5] + T * (a[o + 6] + T * (a[o + 7] + T * (a[o + 8] + T * (a[o + 9] + T * a[o + 10]))));
}

/** Critical pressure ratio and flow number at k = 1.3. @source one-dimensional gas dynamics */
const CRITICAL = 0.545728;
const FLOW = 0.667262;

/**
 * Gas that leaves through the rings [kg/rad]: choked nozzle, below the critical ratio an ellipse.
 *
 * @source  one-dimensional gas dynamics at wall temperature; ellipse: de Saint-Venant and Wantzel's approximation
 */
function leakRate(frame: Float64Array, p: number): number {
  const over = (frame[F.crankcase] / p - CRITICAL) / (1 - CRITICAL);
  if (over >= 1) return 0;
  const shape = over > 0 ? Math.sqrt(1 - over * over) : 1;
  return frame[F.leak] * FLOW * p * shape;
}
