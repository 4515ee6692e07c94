import { chanceOf } from '../random.ts';
import { type Rig, tyreSpeedAt } from '../rig/rig.ts';
import type { RollerKind, SimpleEngine, SimplePlace } from '../simple/draw.ts';
import { drawPlace, drawRig } from '../simple/draw.ts';
import { drawVirtualEngine, type VirtualEngine } from './engine.ts';
import { type Act, fullLoad, type PullPlan, type VirtualRun, virtualPull } from './run.ts';
import { startedEngine, type Warmth } from './state.ts';

/** Engine, vehicle, roller and place of a virtual day. supplyGain: of the ignition, so that the clean engine has its margin. */
export interface Nature {
  readonly seed: number;
  readonly engine: VirtualEngine;
  readonly stated: Rig;
  readonly kind: RollerKind;
  readonly place: SimplePlace;
  readonly supplyGain: number;
  readonly cold: Warmth;
  readonly plan: PullPlan;
}

/** Draws them; what is given stays. */
export function drawNature(
  seed: number,
  given: { engine?: Partial<SimpleEngine> | undefined; roller?: RollerKind | undefined; altitude?: number | undefined },
): Nature {
  const chance = chanceOf(seed, 'virtual nature');
  const drawn = drawPlace(chanceOf(seed, 'virtual place'));
  const low = chance.uniform() < 0.5;
  const altitude = Math.round(given.altitude ?? (low ? drawn.altitude / 8 : drawn.altitude));
  const pressure = 101.3e3 * (1 - 2.25577e-5 * altitude) ** 5.25588 * chance.between(0.985, 1.012);
  const place = { ...drawn, altitude, pressure };
  const engine = drawVirtualEngine(chanceOf(seed, 'virtual engine'), given.engine ?? {}, place);
  const kind = given.roller ?? chance.pick(['brake', 'brake', 'inertia', 'combined'] as const);
  const stated = drawRig(chanceOf(seed, 'virtual rig'), engine, kind);
  const cold: Warmth = {
    oil: 273.15 + chance.between(88, 100),
    coolant: 273.15 + chance.between(82, 90),
    gearbox: 273.15 + chance.between(50, 75),
    axle: 273.15 + chance.between(45, 70),
    soak: chance.between(0.5, 2),
  };
  const plan = {
    from: -1,
    tipIn: chance.between(2.5, 4.5),
    holdShare: chance.between(0.3, 0.38),
    rate: (0.63 * engine.redline) / chance.between(7, 15),
    topShare: chance.between(0.95, 0.985),
    overrun: chance.between(5, 9),
    longest: 40,
    luck: 1,
  };
  const nature = { seed, engine, stated, kind, place, cold, plan, supplyGain: 1e3 };
  return { ...nature, supplyGain: sparkMargin(nature, chance.between(0.68, 0.78)) };
}

/** A pull of these without noise of the day, for sizing faults before they are put in. */
export function rehearse(nature: Nature, acts: readonly Act[], changes: Partial<PullPlan> = {}): VirtualRun {
  const state = startedEngine({ ...nature, warmth: nature.cold, purpose: 'rehearsal' });
  const plan = { ...nature.plan, from: 1, tipIn: 1.6, overrun: 0.6, ...changes };
  return virtualPull(nature.stated, state, { plan, acts });
}

/** Tyre surface speed at the redline [m/s]. */
export function speedAtRedline({ stated, engine }: Nature): number {
  return tyreSpeedAt(stated, engine.redline);
}

/** Gain of the ignition at which the largest need is a share of what there is. */
function sparkMargin(nature: Nature, share: number): number {
  const rows = fullLoad(rehearse(nature, []), 0.3);
  const worst = Math.max(...rows.map(({ at }) => at('need') / at('supply')));
  return (nature.supplyGain * worst) / share;
}
