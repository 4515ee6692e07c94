import type { EngineModel, Prediction, Step } from '../model/engine-model.ts';
import { notApplicable } from './applies.ts';
import type { Foresight } from './foresight.ts';
import { bearingFilm } from './kinds/bearing-film.ts';
import { beltSpeed } from './kinds/belt-speed.ts';
import { chargeTemperature } from './kinds/charge-temperature.ts';
import { coilHeat } from './kinds/coil-heat.ts';
import { compressorChoke } from './kinds/compressor-choke.ts';
import { compressorSpeed } from './kinds/compressor-speed.ts';
import { compressorSurge } from './kinds/compressor-surge.ts';
import { engineSpeed } from './kinds/engine-speed.ts';
import { exhaustTemperature } from './kinds/exhaust-temperature.ts';
import { fuelSupply } from './kinds/fuel-supply.ts';
import { headClamp } from './kinds/head-clamp.ts';
import { injectorDuty } from './kinds/injector-duty.ts';
import { knock } from './kinds/knock.ts';
import { peakPressure } from './kinds/peak-pressure.ts';
import { pistonSpeed } from './kinds/piston-speed.ts';
import { rodCompression } from './kinds/rod-compression.ts';
import { rodTension } from './kinds/rod-tension.ts';
import { rollerForce } from './kinds/roller-force.ts';
import { rollerPower } from './kinds/roller-power.ts';
import { rollerSpeed } from './kinds/roller-speed.ts';
import { sparkVoltage } from './kinds/spark-voltage.ts';
import { traction } from './kinds/traction.ts';
import { valveFloat } from './kinds/valve-float.ts';
import { wastegateAuthority } from './kinds/wastegate-authority.ts';
import type { Limit, LimitName } from './limit.ts';

/** How one limit is worked out: pure, from the model, what it foretells for a step, and the step. */
export type LimitRule = (model: EngineModel, prediction: Prediction, step: Step) => Limit;

/** Every limit that is known, in the order in which a reader meets them. */
const LIMIT_RULES: Readonly<Record<LimitName, LimitRule>> = {
  'spark voltage': sparkVoltage,
  'coil heat': coilHeat,
  'compressor speed': compressorSpeed,
  'compressor choke': compressorChoke,
  'compressor surge': compressorSurge,
  'wastegate authority': wastegateAuthority,
  'injector duty': injectorDuty,
  'fuel supply': fuelSupply,
  knock,
  'peak pressure': peakPressure,
  'head clamp': headClamp,
  'rod compression': rodCompression,
  'rod tension': rodTension,
  'bearing film': bearingFilm,
  'piston speed': pistonSpeed,
  'engine speed': engineSpeed,
  'valve float': valveFloat,
  'belt speed': beltSpeed,
  'exhaust temperature': exhaustTemperature,
  traction,
  'roller force': rollerForce,
  'roller speed': rollerSpeed,
  'roller power': rollerPower,
  'charge temperature': chargeTemperature,
};

/** Their names, in that order. */
export const LIMIT_NAMES: readonly LimitName[] = [
  'spark voltage',
  'coil heat',
  'compressor speed',
  'compressor choke',
  'compressor surge',
  'wastegate authority',
  'injector duty',
  'fuel supply',
  'knock',
  'peak pressure',
  'head clamp',
  'rod compression',
  'rod tension',
  'bearing film',
  'piston speed',
  'engine speed',
  'valve float',
  'belt speed',
  'exhaust temperature',
  'traction',
  'roller force',
  'roller speed',
  'roller power',
  'charge temperature',
];

/** One limit from what was foretold; where the engine has no such part, that. */
export function limitBy(
  name: LimitName,
  { model, prediction, step }: { readonly model: EngineModel; readonly prediction: Prediction; readonly step: Step },
): Limit {
  const limit = LIMIT_RULES[name](model, prediction, step);
  const why = notApplicable(model, name);
  return why === undefined ? limit : emptied(limit, why);
}

function emptied(limit: Limit, why: string): Limit {
  const nothing = new Float64Array(limit.speed.length).fill(Number.NaN);
  return {
    ...{ name: limit.name, subject: limit.subject, kind: limit.kind, source: limit.source, speed: limit.speed },
    ...{ required: nothing, requiredUncertainty: nothing, available: nothing, availableUncertainty: nothing },
    ...{ margin: nothing, marginUncertainty: nothing, over: nothing },
    ...{ why, applies: false, missing: [], assumed: [] },
  };
}

/** Every limit for one step over engine speeds [rad/s], known or with the reason why not. */
export function limitsOf({ model, predict }: Foresight, step: Step, speeds: Float64Array): readonly Limit[] {
  const prediction = predict(step, speeds);
  return LIMIT_NAMES.map((name) => limitBy(name, { model, prediction, step }));
}

/** One limit by name. */
export function limitOf(
  foresight: Foresight,
  name: LimitName,
  at: { readonly step: Step; readonly speeds: Float64Array },
): Limit {
  const { model, predict } = foresight;
  return limitBy(name, { model, prediction: predict(at.step, at.speeds), step: at.step });
}
