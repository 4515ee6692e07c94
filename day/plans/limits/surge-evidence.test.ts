import { describe, expect, it } from 'vitest';
import type { EngineModel } from '../model/engine-model.ts';
import type { Foresight } from './foresight.ts';
import { limitOf } from './limits-of.ts';
import { surgeFlowFactorOf } from './surge-evidence.ts';
import { RPM } from './testing/build-sheet.ts';
import { inventedForesight } from './testing/invented-engine.ts';

const foresight = inventedForesight();
const STEP = { manifoldPressure: 200e3 };
const at = (speed: number, by: Foresight = foresight) =>
  limitOf(by, 'compressor surge', { step: STEP, speeds: Float64Array.of(speed) });
/** The engine speed at which the map's smallest flow is a share of the engine's: the slower, the larger. */
function speedAt(share: number): number {
  for (let speed = 4000 * RPM; speed > 1500 * RPM; speed -= 2) {
    const { required, available } = at(speed);
    if (required[0] / available[0] >= share) return speed;
  }
  throw new Error('never so near to surge');
}
const taught = (factor: ReturnType<typeof surgeFlowFactorOf>): Foresight => {
  if (!factor) throw new Error('nothing learnt');
  const model: EngineModel = { ...foresight.model, values: new Map(foresight.model.values).set(factor.name, factor) };
  return { ...foresight, model };
};
const seen = (share: number, surged: boolean) => ({ speed: speedAt(share), step: STEP, surged });

describe('the border of surge as the pulls of a day show it', () => {
  it('a clean pull well beyond the map’s line moves the border: what was passed for certain no longer is', () => {
    const beyond = speedAt(1.2);
    expect(at(beyond).over[0]).toBeGreaterThan(0.99);
    const by = taught(surgeFlowFactorOf(foresight, [seen(1.2, false)]));
    expect(at(beyond, by).over[0]).toBeLessThan(0.5);
    expect(by.model.values.get('surgeFlowFactor')?.value).toBeLessThan(0.87);
  });

  it('surge seen before the map’s line moves it the other way', () => {
    const by = taught(surgeFlowFactorOf(foresight, [seen(0.9, true), seen(0.8, false)]));
    expect(by.model.values.get('surgeFlowFactor')?.value).toBeGreaterThan(1.05);
    expect(at(speedAt(0.95), by).over[0]).toBeGreaterThan(at(speedAt(0.95)).over[0]);
  });

  it('clean pulls far from the line say nothing of it', () => {
    expect(surgeFlowFactorOf(foresight, [seen(0.7, false), seen(0.85, false)])).toBeUndefined();
    expect(surgeFlowFactorOf(foresight, [])).toBeUndefined();
  });

  it('between a place that surged and one that did not lies the border, narrower than before', () => {
    const factor = surgeFlowFactorOf(foresight, [seen(1.05, false), seen(1.15, true), seen(1.06, false)]);
    expect(1 / (factor?.value ?? 1)).toBeGreaterThan(1.03);
    expect(1 / (factor?.value ?? 1)).toBeLessThan(1.17);
    expect(factor?.standardUncertainty).toBeLessThan(0.05);
  });
});
