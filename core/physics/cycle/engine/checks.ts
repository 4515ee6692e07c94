import type { Refusal } from '../../../quantities/index.ts';
import { MIXTURE_RANGE } from '../gas/gas-model.ts';
import { type CycleEngine, valveAngles } from './engine.ts';
import type { CycleState } from './state.ts';

interface Bound {
  readonly what: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** First thing that keeps this state from being computed, or undefined. Bounds: our default, well outside any car engine. */
export function refusalOf(engine: CycleEngine, state: CycleState): Refusal | undefined {
  for (const { what, value, low, high } of [...engineBounds(engine), ...stateBounds(engine, state)]) {
    if (value >= low && value <= high) continue;
    return {
      kind: Number.isFinite(value) ? 'out of validity' : 'missing',
      message: Number.isFinite(value) ? `${what} out of validity: ${value}, valid ${low}–${high}` : `missing ${what}`,
      numbers: { value, low, high },
      rule: 'range of the cycle model, our default',
    };
  }
  return undefined;
}

function engineBounds(engine: CycleEngine): readonly Bound[] {
  return [
    { what: 'bore [m]', value: engine.bore, low: 0.02, high: 0.3 },
    { what: 'stroke [m]', value: engine.stroke, low: 0.02, high: 0.4 },
    { what: 'rod over crank radius', value: engine.rodLength / (engine.stroke / 2), low: 2, high: 10 },
    { what: 'compression ratio', value: engine.compressionRatio, low: 4, high: 25 },
    { what: 'number of cylinders', value: engine.cylinders, low: 1, high: 24 },
    { what: 'intake flow area over piston area', value: engine.intakeArea, low: 0.02, high: 0.5 },
    { what: 'wall temperature [K]', value: engine.wallTemperature, low: 300, high: 700 },
    { what: 'burned share', value: engine.burnedShare, low: 0.5, high: 0.999 },
    { what: 'evaporation share', value: engine.evaporationShare, low: 0, high: 1 },
    { what: 'leak area [m²]', value: engine.leakArea, low: 0, high: 1e-4 },
  ];
}

function stateBounds(engine: CycleEngine, state: CycleState): readonly Bound[] {
  const valves = valveAngles(engine.timing, { intake: state.intakePhase, exhaust: state.exhaustPhase });
  const { lambda, humidityRatio } = MIXTURE_RANGE;
  return [
    { what: 'engine speed [rad/s]', value: state.speed, low: 30, high: 2000 },
    { what: 'manifold pressure [Pa]', value: state.manifoldPressure, low: 15e3, high: 800e3 },
    { what: 'exhaust pressure [Pa]', value: state.exhaustPressure, low: 40e3, high: 1000e3 },
    { what: 'charge temperature [K]', value: state.chargeTemperature, low: 230, high: 420 },
    { what: 'λ', value: state.lambda, low: lambda[0], high: lambda[1] },
    { what: 'humidity ratio', value: state.humidityRatio, low: humidityRatio[0], high: humidityRatio[1] },
    { what: 'intake closing after bottom dead centre [rad]', value: valves.intakeCloses + Math.PI, low: -1, high: 1.8 },
    { what: 'exhaust opening after top dead centre [rad]', value: valves.exhaustOpens, low: 1.4, high: Math.PI },
    state.phasing.kind === 'spark'
      ? { what: 'spark advance [rad]', value: state.phasing.advance, low: -0.5, high: 1.2 }
      : { what: 'place of half burned [rad]', value: state.phasing.angle, low: -0.3, high: 1.2 },
  ];
}
