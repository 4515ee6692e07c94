import type { CompressorMap, Fuel } from '../../../core/physics/index.ts';
import type { DayFacts } from '../../pulls/index.ts';
import type { EngineModel } from './engine-model.ts';
import { engineOf } from './engine-of.ts';
import { fuelChoice, fuelName, fuelWords, isCompressionIgnition } from './fuel-of.ts';
import { habitsOf } from './habits.ts';
import { knownValues, type Numbers } from './known-values.ts';

/** The engine before any pull: stated parts and values of the trade, wide bands. @param map of the compressor, when its file is there */
export function priorModel(facts: DayFacts, map?: CompressorMap, measuredToday?: Numbers): EngineModel {
  const values = knownValues(facts, measuredToday);
  const fuel = fuelName(facts);
  const boosted = isBoostedByFacts(facts, map);
  const parts = engineOf(values, fuelChoice(facts));
  const redline = values.get('redline')?.value ?? 700;
  return {
    ...parts,
    ...(fuel === undefined ? {} : { fuel }),
    map,
    values,
    habits: habitsOf({ timing: [], lambda: [], camPhase: [], loadTime: [] }, { redline, fuel }),
    parameters: [],
    covariance: new Float64Array(0),
    pulls: 0,
    unknown: [
      'no pull yet: everything rests on stated parts and values of the trade',
      ...(boosted
        ? ['boost threshold: no pull tells from which engine speed on a pressure is there, so every speed counts']
        : []),
      ...burningWords(facts, parts.gas.fuel),
    ],
    boosted,
  };
}

/** What must be known of the fuel and of how it burns. */
export function burningWords(facts: DayFacts, fuel: Fuel): readonly string[] {
  return [
    ...(isCompressionIgnition(facts)
      ? [
          'compression ignition: one burn law about the place where half is burned, no injection law; peak pressure and exhaust temperature are known the less',
        ]
      : []),
    ...fuelWords(facts, fuel),
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
