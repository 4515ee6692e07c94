import { clamp } from '../interpolate.ts';
import type { Asked } from './asked.ts';
import type { EngineState } from './state.ts';

/** Fuel side of one step. target, lambda: 1; pulse: s; duty: as the control unit counts it [1]; difference: over the manifold [Pa]; flow: kg/s. */
export interface Fed {
  readonly target: number;
  readonly lambda: number;
  readonly pulse: number;
  readonly duty: number;
  readonly difference: number;
  readonly flow: number;
}

/** Pulse by the air, fuel by the pulse and the pressure difference, lambda by both. @source flow through an orifice ∝ √Δp */
export function feed(state: EngineState, asked: Asked): Fed {
  const { engine } = state;
  const { knobs } = asked;
  const target = lambdaTargetOf(state, asked) + knobs.lambdaTarget;
  const cycle = (4 * Math.PI) / Math.max(30, asked.speed);
  const rough = knobs.railRough * state.slow.normal();
  const difference = engine.railSet * Math.max(0.05, 1 - knobs.railLost - rough);
  if (asked.stage === 'overrun' || knobs.lost)
    return { target, lambda: 2.2, pulse: 0, duty: 0, difference, flow: 1e-6 };
  const size = engine.injector * knobs.injector;
  const learnt = 1 + 0.006 * state.burst;
  const open = (state.airFlow * learnt) / (target * engine.stoichiometric) / size;
  const dead = engine.deadTime * (14 / state.volts) ** 1.5;
  const pulse = open * cycle + dead;
  const share = pulse >= cycle ? 1 : Math.min(1, open);
  const flow = Math.max(1e-6, size * Math.sqrt(difference / engine.railSet) * share * knobs.fuel);
  return {
    target,
    lambda: clamp(state.airFlow / (flow * engine.stoichiometric), 0.3, 9),
    pulse,
    duty: pulse / cycle,
    difference,
    flow,
  };
}

function lambdaTargetOf({ engine }: EngineState, { stage, sinceTipIn }: Asked): number {
  if (engine.ignition === 'compression') return stage === 'full' ? engine.lambdaFull : 2.4;
  if (stage !== 'full') return 1;
  return 1 + (engine.lambdaFull - 1) * clamp(sinceTipIn / 0.4, 0, 1);
}

/** Work for a lambda over the work at its best, of the same air [1]. @source λ 0.80 to 0.86 gives 1.5 to 2.5 %: common practice, no source */
export function workOfLambda(ignition: 'spark' | 'compression', lambda: number): number {
  if (ignition === 'compression') return 1 / Math.max(1, lambda);
  const near = 1 - 2.4 * (lambda - 0.89) ** 2;
  return lambda <= 1 ? Math.max(0.3, near) : 0.96 / lambda;
}
