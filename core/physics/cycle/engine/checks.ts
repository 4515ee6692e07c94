import type { Refusal } from '../../../quantities/index.ts';
import { MIXTURE_RANGE } from '../gas/gas-model.ts';
import type { CycleEngine, ValveAngles } from './engine.ts';
import type { CycleState } from './state.ts';

interface Asked {
  readonly engine: CycleEngine;
  readonly state: CycleState;
  readonly valves: ValveAngles;
}

interface Bound {
  readonly what: string;
  readonly of: (asked: Asked) => number;
  readonly low: number;
  readonly high: number;
}

/** First thing that keeps this state from being computed, or undefined. */
export function refusalOf(asked: Asked): Refusal | undefined {
  for (const { what, of, low, high } of BOUNDS) {
    const value = of(asked);
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

const { lambda, humidityRatio } = MIXTURE_RANGE;

/** What is looked at, in this order; made once, since every state of a map is asked. @source our default, well outside any car engine */
const BOUNDS: readonly Bound[] = [
  { what: 'bore [m]', of: ({ engine }) => engine.bore, low: 0.02, high: 0.3 },
  { what: 'stroke [m]', of: ({ engine }) => engine.stroke, low: 0.02, high: 0.4 },
  { what: 'rod over crank radius', of: ({ engine }) => engine.rodLength / (engine.stroke / 2), low: 2, high: 10 },
  { what: 'compression ratio', of: ({ engine }) => engine.compressionRatio, low: 4, high: 25 },
  { what: 'number of cylinders', of: ({ engine }) => engine.cylinders, low: 1, high: 24 },
  { what: 'intake flow area over piston area', of: ({ engine }) => engine.intakeArea, low: 0.02, high: 0.5 },
  { what: 'wall temperature [K]', of: ({ engine }) => engine.wallTemperature, low: 300, high: 700 },
  { what: 'burned share', of: ({ engine }) => engine.burnedShare, low: 0.5, high: 0.999 },
  { what: 'evaporation share', of: ({ engine }) => engine.evaporationShare, low: 0, high: 1 },
  { what: 'leak area [m²]', of: ({ engine }) => engine.leakArea, low: 0, high: 1e-4 },
  { what: 'engine speed [rad/s]', of: ({ state }) => state.speed, low: 30, high: 2000 },
  { what: 'manifold pressure [Pa]', of: ({ state }) => state.manifoldPressure, low: 15e3, high: 800e3 },
  { what: 'exhaust pressure [Pa]', of: ({ state }) => state.exhaustPressure, low: 40e3, high: 1000e3 },
  { what: 'charge temperature [K]', of: ({ state }) => state.chargeTemperature, low: 230, high: 420 },
  { what: 'λ', of: ({ state }) => state.lambda, low: lambda[0], high: lambda[1] },
  { what: 'humidity ratio', of: ({ state }) => state.humidityRatio, low: humidityRatio[0], high: humidityRatio[1] },
  {
    what: 'intake closing after bottom dead centre [rad]',
    of: ({ valves }) => valves.intakeCloses + Math.PI,
    low: -1,
    high: 1.8,
  },
  {
    what: 'exhaust opening after top dead centre [rad]',
    of: ({ valves }) => valves.exhaustOpens,
    low: 1.4,
    high: Math.PI,
  },
  {
    what: 'spark advance [rad]',
    of: ({ state: { phasing } }) => (phasing.kind === 'spark' ? phasing.advance : 0),
    low: -0.5,
    high: 1.2,
  },
  {
    what: 'place of half burned [rad]',
    of: ({ state: { phasing } }) => (phasing.kind === 'half burned' ? phasing.angle : 0),
    low: -0.3,
    high: 1.2,
  },
];
