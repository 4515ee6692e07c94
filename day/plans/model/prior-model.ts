import type { CompressorMap } from '../../../core/physics/index.ts';
import type { DayFacts } from '../../pulls/index.ts';
import type { EngineModel } from './engine-model.ts';
import { engineOf } from './engine-of.ts';
import { habitsOf } from './habits.ts';
import { knownValues, type Numbers } from './known-values.ts';

/** The engine before any pull: stated parts and values of the trade, wide bands. @param map of the compressor, when its file is there */
export function priorModel(facts: DayFacts, map?: CompressorMap, measuredToday?: Numbers): EngineModel {
  const values = knownValues(facts, measuredToday);
  const fuel = facts.parts?.fuel;
  const redline = values.get('redline')?.value ?? 700;
  return {
    ...engineOf(values, fuel),
    map,
    values,
    habits: habitsOf({ timing: [], lambda: [], camPhase: [] }, { redline, fuel }),
    parameters: [],
    covariance: new Float64Array(0),
    pulls: 0,
    unknown: ['no pull yet: everything rests on stated parts and values of the trade', ...ignitionWords(facts)],
    boosted: isBoostedByFacts(facts, map),
  };
}

/** What a compression-ignition engine must be told: there is no cycle model for it. */
export function ignitionWords({ engine, parts = {} }: DayFacts): readonly string[] {
  if (engine.ignition !== 'compression' && parts.fuel !== 'diesel') return [];
  return [
    'compression ignition: the cycle model is of spark ignition, so torque and peak pressure beyond the pulls are unknown',
  ];
}

function isBoostedByFacts({ engine, parts = {} }: DayFacts, map: CompressorMap | undefined): boolean {
  if (map) return true;
  if (engine.boostControl === 'none') return false;
  if (engine.boostControl === 'absolute' || engine.boostControl === 'gauge') return true;
  const { compressorWheel, turbineArea, compressorMap, coolerEffectiveness } = parts;
  return [compressorWheel, turbineArea, compressorMap, coolerEffectiveness, engine.turboSpeedLimit].some(
    (part) => part !== undefined,
  );
}
