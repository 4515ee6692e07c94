import { type CrankTrain, crankForces } from '../../../../core/physics/index.ts';
import { absolutePressure, angle, angularSpeed, type Measured, mass } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { predicted } from '../balance.ts';
import type { Ledger } from '../ledger.ts';
import { outsideAir } from '../surroundings.ts';

/** Where the highest pressure lies after firing top dead centre [rad]. @source common practice, no source: 12 … 18° near best timing, later when retarded */
const PEAK_ANGLE = around((15 * Math.PI) / 180, (3 * Math.PI) / 180);

/** compression at firing, tension at the dead centre of gas exchange with the throttle shut: both positive [N]. */
export interface RodForces {
  readonly compression: Measured;
  readonly tension: Measured;
}

export interface RodQuestion {
  readonly model: EngineModel;
  readonly prediction: Prediction;
  readonly step: Step;
  readonly ledger: Ledger;
}

/**
 * Extreme forces of one rod at one engine speed, first order in mass and pressure.
 *
 * Tension is worst when the driver lifts off at that speed: then no gas presses on the piston.
 *
 * @source  {@link crankForces}; JCGM 100:2008, equation 10
 */
export function rodForces({ model, prediction, step, ledger }: RodQuestion, index: number): RodForces {
  const { engine } = model;
  const moving = ledger.take('reciprocatingMass', usualMass(engine.bore, engine.stroke));
  const outside = outsideAir(step, ledger).pressure;
  const rotation = angularSpeed(prediction.speed[index]);
  const rod = (m: number, pressure: number, at: number): number => {
    const train: CrankTrain = { crank: engine, reciprocating: mass(m), rotating: mass(0), crankcasePressure: outside };
    return crankForces(train, absolutePressure(pressure), { angle: angle(at), rotation }).rod;
  };
  const peak = predicted(prediction, 'peak pressure', index);
  const m = moving.value;
  const press = (mm: number, p: number): number => Math.max(rod(mm, p, PEAK_ANGLE.value), rod(mm, 0.97 * p, 0));
  const compression = press(m, peak.value);
  const byMass = press(m + moving.standardUncertainty, peak.value) - compression;
  const byPeak = press(m, peak.value + peak.standardUncertainty) - compression;
  const byPlace =
    rod(m, peak.value, PEAK_ANGLE.value + PEAK_ANGLE.standardUncertainty) - rod(m, peak.value, PEAK_ANGLE.value);
  const tension = -rod(m, outside, 0);
  return {
    compression: around(compression, Math.hypot(byMass, byPeak, byPlace)),
    tension: around(tension, (tension * moving.standardUncertainty) / m),
  };
}

/** Piston, pin and small end of a car engine [kg]. @source common practice, no source: about 1.4 kg per litre of the cylinder */
export function usualMass(bore: number, stroke: number) {
  const value = 1400 * (Math.PI / 4) * bore * bore * stroke;
  return { value, standardUncertainty: 0.2 * value, source: 'common practice, no source' };
}
