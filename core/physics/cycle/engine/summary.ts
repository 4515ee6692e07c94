import {
  absolutePressure,
  angle,
  mass,
  power,
  pressureDifference,
  ratio,
  temperature,
  torque,
} from '../../../quantities/index.ts';
import { DRY_AIR_GAS_CONSTANT } from '../../air/density.ts';
import { halfBurned } from '../burn/burn-law.ts';
import { behindPort, exhaustEnthalpy, temperatureOf } from '../exchange/exhaust.ts';
import { valvePumping } from '../exchange/filling.ts';
import { openWork } from '../exchange/open-cycle.ts';
import { polynomialEnthalpy } from '../gas/polynomial.ts';
import { cylinderSize } from '../mechanism/cylinder.ts';
import type { CycleEngine } from './engine.ts';
import { frictionPressure } from './friction.ts';
import type { Pass } from './pass.ts';
import type { CycleResult } from './result.ts';
import type { CycleState } from './state.ts';

/** All that is told about a state, from its last pass. @source definitions of mean effective pressures; the rest as named there */
export function resultOf(engine: CycleEngine, state: CycleState, pass: Pass): CycleResult {
  const { closed, charge, mixture, intake } = pass;
  const { displacement, clearance } = cylinderSize(engine);
  const open = openWork({
    displacement,
    clearance,
    closing: { volume: pass.closingVolume, pressure: charge.pressure },
    opening: { volume: pass.openingVolume, pressure: closed.pressureAtEnd },
    manifoldPressure: state.manifoldPressure,
    exhaustPressure: state.exhaustPressure,
    valvePumping: engine.fit.pumping * valvePumping(engine, intake),
  });
  const gross = (closed.work + open.ends) / displacement;
  const pumping = open.pumping / displacement;
  const friction =
    engine.fit.friction *
    frictionPressure(engine.friction, {
      peakPressure: closed.peak.pressure,
      meanPistonSpeed: intake.meanPistonSpeed,
    });
  const brake = gross + pumping - friction;
  const whole = displacement * engine.cylinders;
  const fresh = (1 - charge.residual) * charge.mass;
  const fuelEnergy = fresh * mixture.shares.fuel * pass.heatingValue;
  const heldByDisplacement = (state.manifoldPressure * displacement) / (DRY_AIR_GAS_CONSTANT * state.chargeTemperature);
  const brakeTorque = (brake * whole) / (4 * Math.PI);
  return {
    brakeTorque: torque(brakeTorque),
    brakePower: power(brakeTorque * state.speed),
    grossIndicated: pressureDifference(gross),
    pumping: pressureDifference(pumping),
    friction: pressureDifference(friction),
    brake: pressureDifference(brake),
    peakPressure: absolutePressure(closed.peak.pressure),
    peakAngle: angle(closed.peak.angle),
    hottestUnburned: temperature(closed.hottestUnburned),
    knockIntegral: ratio(closed.knockIntegral),
    halfBurned: angle(halfBurned(pass.wiebe)),
    sparkAdvance: angle(-pass.spark),
    burnDelay: angle(pass.angles.delay),
    burnDuration: angle(pass.angles.main),
    exhaustTemperature: temperature(exhaustTemperature(engine, state, { pass, blowdown: open.blowdown })),
    airPerCycle: mass(fresh * mixture.shares.air * engine.cylinders),
    fuelPerCycle: mass(fresh * mixture.shares.fuel * engine.cylinders),
    volumetricEfficiency: ratio((fresh * mixture.shares.air) / heldByDisplacement),
    residualShare: ratio(charge.residual),
    closingPressure: absolutePressure(charge.pressure),
    closingTemperature: temperature(charge.temperature),
    heatShare: ratio(closed.heat / fuelEnergy),
    brakeEfficiency: ratio((brake * displacement) / fuelEnergy),
    energyError:
      (closed.energyAtStart - closed.energyAtEnd - closed.work - closed.heat - closed.leakedEnthalpy) / fuelEnergy,
    residualMismatch: pass.residualTemperature - pass.residualBefore,
  };
}

/** [K] behind the port. */
function exhaustTemperature(
  engine: CycleEngine,
  state: CycleState,
  { pass, blowdown }: { readonly pass: Pass; readonly blowdown: number },
): number {
  const { closed, charge, leaving, residualTemperature } = pass;
  const left = charge.residual * charge.mass;
  const residualEnergy =
    left * (polynomialEnthalpy(leaving, residualTemperature) - pass.leavingConstant * residualTemperature);
  const enthalpy = exhaustEnthalpy({
    energyAtEnd: closed.energyAtEnd,
    blowdownWork: blowdown,
    massAtEnd: closed.massAtEnd,
    residual: left,
    residualEnergy,
    exhaustPressure: state.exhaustPressure,
    displacement: cylinderSize(engine).displacement,
  });
  return behindPort(temperatureOf(leaving, enthalpy, 1200), {
    meanPistonSpeed: (engine.stroke * state.speed) / Math.PI,
    manifoldPressure: state.manifoldPressure,
    factor: engine.fit.exhaustHeat,
  });
}
