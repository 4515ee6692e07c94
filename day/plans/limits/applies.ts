import type { EngineModel } from '../model/engine-model.ts';
import { isBoosted } from '../model/sensitivities.ts';
import type { LimitName } from './limit.ts';

/** Limits of parts that only a compressor brings. */
const OF_COMPRESSOR: ReadonlySet<LimitName> = new Set<LimitName>([
  'compressor speed',
  'compressor choke',
  'compressor surge',
  'wastegate authority',
]);

/** Limits that only sparks bring. */
const OF_SPARK: ReadonlySet<LimitName> = new Set<LimitName>(['spark voltage', 'coil heat', 'knock']);

/** Why a limit is none of this engine's; undefined where it is. */
export function notApplicable(model: EngineModel, name: LimitName): string | undefined {
  if (OF_COMPRESSOR.has(name) && !isBoosted(model)) return 'no compressor on this engine';
  if (OF_SPARK.has(name) && isCompressionLit(model))
    return 'compression ignition: no spark, and no knock of an end gas';
  return undefined;
}

/** Does compression light the charge of this engine. */
export function isCompressionLit({ values }: Pick<EngineModel, 'values'>): boolean {
  return values.has('halfBurned');
}

/** Without a compressor the intake may stand a little above the air outside by waves [1]. @source our default */
const BY_WAVES = 1.03;

/** Highest manifold pressure that can come about [Pa]: without a compressor about that outside, else any. */
export function highestPressure(model: EngineModel, ambientPressure: number): number {
  return isBoosted(model) ? Number.POSITIVE_INFINITY : BY_WAVES * ambientPressure;
}
