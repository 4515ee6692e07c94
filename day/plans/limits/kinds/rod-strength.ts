import { columnLimit, partingForce } from '../../../../core/physics/index.ts';
import { area, force, type Measured, ratio } from '../../../../core/quantities/index.ts';
import type { EngineModel } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import type { Ledger } from '../ledger.ts';

/** Bolts of a rod where nobody said how many. @source common practice, no source */
const USUAL_BOLTS = { value: 2, standardUncertainty: 0, source: 'common practice, no source' };
/** Stiffness of a bolt over that of bolt and cap together [1]. @source common practice, no source: 0.15 … 0.3 */
const STIFFNESS = around(0.2, 0.05);
/** A cap that bends pries at its bolts: they feel so many times their share [1]. @source our default; it can double: Shigley, from memory */
const PRYING = around(1.3, 0.15);
/** Stress at which the steel of rods yields [Pa]. @source common practice, no source: 750 … 1 050 MPa */
const USUAL_YIELD = { value: 900e6, standardUncertainty: 75e6, source: 'common practice, no source' };
/** Of steel [Pa]. @source handbook value, from memory: 200 … 210 GPa */
const STEEL = 205e9;
/** Of what the shank bears once it bears so much again and again [1]. @source common practice, no source: twofold reserve */
const AGAIN = around(0.5, 0.1);

/**
 * Tension at which a rod and its cap part [N]: n·Fi/((1 − C)·prying). undefined without a preload.
 *
 * @source  {@link partingForce}
 */
export function boltHold(ledger: Ledger): Measured | undefined {
  const preload = ledger.look('rodBoltPreload');
  if (!preload) return undefined;
  const bolts = ledger.take('rodBolts', USUAL_BOLTS).value;
  const held = (share: number): number =>
    (bolts * partingForce({ preload: force(preload.value), stiffnessShare: ratio(share), stressArea: area(1) })) /
    PRYING.value;
  const value = held(STIFFNESS.value);
  const byStiffness = held(STIFFNESS.value + STIFFNESS.standardUncertainty) / value - 1;
  const relative = Math.hypot(
    preload.standardUncertainty / preload.value,
    PRYING.standardUncertainty / PRYING.value,
    byStiffness,
  );
  return around(value, relative * value);
}

/**
 * Compression that the shank of a rod bears again and again [N]: half of what it bears once as a column. undefined where its section is not stated, or is none.
 *
 * @valid   steel, I-section of even size; impact of knock is not in it
 * @source  {@link columnLimit}
 */
export function shankHold({ engine }: EngineModel, ledger: Ledger): Measured | undefined {
  const sizes = ['shankDepth', 'shankWidth', 'shankFlange', 'shankWeb'].map((name) => ledger.look(name)?.value);
  const [depth = Number.NaN, width = Number.NaN, flange = Number.NaN, web = Number.NaN] = sizes;
  if (!(depth > 2 * flange && width >= web)) return undefined;
  const steel = ledger.take('shankYield', USUAL_YIELD);
  const between = depth - 2 * flange;
  const section = {
    length: engine.rodLength,
    area: area(2 * width * flange + between * web),
    inPlane: (width * depth ** 3 - (width - web) * between ** 3) / 12,
    acrossPlane: (2 * flange * width ** 3 + between * web ** 3) / 12,
    modulus: STEEL,
  };
  const once = (yieldStrength: number): number => columnLimit({ ...section, yieldStrength }).load;
  const load = once(steel.value);
  const byYield = once(steel.value + steel.standardUncertainty) - load;
  return around(AGAIN.value * load, Math.hypot(AGAIN.standardUncertainty * load, AGAIN.value * byYield));
}
