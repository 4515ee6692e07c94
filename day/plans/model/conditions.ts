import { humidityRatio, standardAtmosphere, vapourPressure } from '../../../core/physics/index.ts';
import {
  absolutePressure,
  length,
  type Measured,
  measured,
  ratio,
  temperature,
} from '../../../core/quantities/index.ts';
import { USUAL_SOAK_SCATTER } from './coolant.ts';
import type { EngineModel, Step } from './engine-model.ts';
import type { Query } from './operating-point.ts';

/** What a step asks at one engine speed, and how well it is known. */
export interface Asked {
  readonly query: Query;
  readonly gap: number;
  /** Standard uncertainties of entries of the query, SI. */
  readonly spreads: { readonly [Key in UncertainEntry]: number };
}

export type UncertainEntry = 'timing' | 'lambda' | 'camPhase' | 'ambientTemperature' | 'ambientPressure' | 'soak';

/** Air of a step: as given, else of the standard atmosphere at its height, else of the day. */
export interface StepAir {
  readonly temperature: Measured;
  readonly pressure: Measured;
  readonly humidityRatio: number;
}

/** @source standard atmosphere for a height alone; its spread against weather 8 K and 800 Pa: our default */
export function airOf(model: Pick<EngineModel, 'values'>, step: Step): StepAir {
  const of = (name: string): Measured => model.values.get(name) ?? measured(Number.NaN, 0);
  const standard = step.altitude === undefined ? undefined : standardAtmosphere(length(step.altitude));
  const given = (value: number | undefined, otherwise: Measured): Measured =>
    value === undefined ? otherwise : measured(value, 0);
  const T = given(step.ambientTemperature, standard ? measured(standard.temperature, 8) : of('ambientTemperature'));
  const p = given(step.ambientPressure, standard ? measured(standard.pressure, 800) : of('ambientPressure'));
  const humid = step.relativeHumidity ?? of('relativeHumidity').value;
  const vapour = vapourPressure(ratio(humid), temperature(T.value));
  const water = humidityRatio(vapour, absolutePressure(p.value));
  return { temperature: T, pressure: p, humidityRatio: Math.min(0.039, Math.max(0, water)) };
}

/** The whole question at one engine speed; what the step leaves out is as it was on the day. */
export function askedAt(model: EngineModel, step: Step, { speed, air }: { speed: number; air: StepAir }): Asked {
  const { manifoldPressure } = step;
  const timing = model.habits.timing(speed, manifoldPressure);
  const habitual = (value: number | undefined, habit: 'lambda' | 'camPhase'): Measured =>
    value === undefined ? model.habits[habit](speed, manifoldPressure) : measured(value, 0);
  const lambda = habitual(step.lambda, 'lambda');
  const camPhase = habitual(step.camPhase, 'camPhase');
  return {
    query: {
      speed,
      manifoldPressure,
      timing: timing.value + (step.timing ?? 0),
      timingShift: step.timing ?? 0,
      lambda: lambda.value,
      camPhase: camPhase.value,
      ambientTemperature: air.temperature.value,
      ambientPressure: air.pressure.value,
      humidityRatio: air.humidityRatio,
      soak: step.soak,
      loadTime: Math.max(0, model.habits.loadTime(speed, manifoldPressure).value),
      water: step.water,
      ice: step.ice,
      inletLoss: step.inletLoss ?? 0,
    },
    gap: step.plugGap ?? model.values.get('plugGap')?.value ?? Number.NaN,
    spreads: {
      timing: timing.standardUncertainty,
      lambda: lambda.standardUncertainty,
      camPhase: camPhase.standardUncertainty,
      ambientTemperature: air.temperature.standardUncertainty,
      ambientPressure: air.pressure.standardUncertainty,
      soak: step.soak === undefined ? (model.values.get('soakScatter')?.value ?? USUAL_SOAK_SCATTER.kelvin) : 0,
    },
  };
}
