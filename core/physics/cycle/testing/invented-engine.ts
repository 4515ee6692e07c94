import { absolutePressure, angle, angularSpeed, length, ratio, temperature } from '../../../quantities/index.ts';
import type { CycleEngine } from '../engine/engine.ts';
import { USUAL_FRICTION } from '../engine/friction.ts';
import { USUAL_FIT } from '../engine/parameters.ts';
import type { CycleState } from '../engine/state.ts';

export const DEGREE = Math.PI / 180;

/** An invented four-cylinder engine: 86 × 86 mm, four valves, ratio 9.5. */
export const INVENTED_ENGINE: CycleEngine = {
  bore: length(0.086),
  stroke: length(0.086),
  rodLength: length(0.143),
  compressionRatio: ratio(9.5),
  cylinders: 4,
  timing: {
    intakeOpens: angle(0),
    intakeCloses: angle(45 * DEGREE),
    exhaustOpens: angle(40 * DEGREE),
    exhaustCloses: angle(5 * DEGREE),
  },
  intakeArea: ratio(0.115),
  wallTemperature: temperature(450),
  evaporationShare: ratio(0.2),
  burnedShare: ratio(0.98),
  leakArea: 0,
  friction: USUAL_FRICTION,
  fit: USUAL_FIT,
};

export interface Asked {
  readonly rpm: number;
  /** [bar] */
  readonly bar: number;
  readonly lambda?: number;
  /** Half burned [°] after top dead centre. */
  readonly half?: number;
  readonly humidity?: number;
}

/** A state of it in the units of the trade. */
export function stateAt({ rpm, bar, lambda = 0.85, half = 10, humidity = 0.008 }: Asked): CycleState {
  return {
    speed: angularSpeed((rpm * Math.PI) / 30),
    manifoldPressure: absolutePressure(bar * 1e5),
    chargeTemperature: temperature(315),
    exhaustPressure: absolutePressure(Math.max(1.05, 0.95 * bar) * 1e5),
    lambda: ratio(lambda),
    humidityRatio: ratio(humidity),
    phasing: { kind: 'half burned', angle: angle(half * DEGREE) },
    intakePhase: angle(0),
    exhaustPhase: angle(0),
  };
}

/** From light load to high boost, slow to fast, rich to lean, early to late. */
export const STATES: readonly Asked[] = [1000, 1700, 2500, 4000, 5500, 7000].flatMap((rpm) =>
  [0.4, 1, 1.6, 2.4].flatMap((bar) =>
    [
      { lambda: 0.8, half: 5 },
      { lambda: 0.9, half: 25 },
      { lambda: 1, half: 12 },
      { lambda: 1.2, half: 10 },
    ].map((rest) => ({ rpm, bar, ...rest })),
  ),
);
