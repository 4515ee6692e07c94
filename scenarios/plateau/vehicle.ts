import type { Rig } from '../rig/rig.ts';
import { ENGINE } from './engine.ts';

/** The invented buggy in fourth gear on the hired trailer roller. */
export const STATED_RIG: Rig = {
  ratio: 1.24 * 3.55,
  radius: 0.33,
  growth: 0.012,
  creep: 0.0055 / 1000,
  dragAtRest: 180,
  dragPerSpeed: 3.2,
  lossShare: 0.055,
  rollingShare: 0,
  engineInertia: ENGINE.inertia,
  wheelInertia: 2.6,
  rollMass: 450,
  brakeLimit: 9000,
};

/** Share of the tyre force lost to tighter straps (0.35 % from 3 to 5 kN) and to a tread above 55 °C (0.05 % per °C). */
export function rollingShare(straps: number, tread: number): number {
  return (0.0035 * Math.max(0, straps - 3)) / 2 + 0.0005 * Math.max(0, tread - 55);
}
