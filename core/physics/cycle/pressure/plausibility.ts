import type { Finding } from '../../../quantities/index.ts';

/**
 * How long before top dead centre a motored cylinder has its highest pressure [rad]: heat and leakage take it that far ahead.
 *
 * @source  common practice, no source: 0.4 … 1.2° for car engines; the limits leave room on both sides
 */
export const LOSS_ANGLE = { least: (0.1 / 180) * Math.PI, most: (1.8 / 180) * Math.PI } as const;

/**
 * Whether the crank phase of a pressure trace can be right, judged by a motored trace of the same engine and clock.
 *
 * @param peakAngle  of the motored pressure, after top dead centre [rad]
 * @returns a finding when the peak lies outside {@link LOSS_ANGLE}, with the shift that would bring it to the nearer limit
 */
export function crankPhaseFinding(peakAngle: number): Finding | undefined {
  const ahead = -peakAngle;
  if (ahead >= LOSS_ANGLE.least && ahead <= LOSS_ANGLE.most) return undefined;
  const limit = ahead > LOSS_ANGLE.most ? LOSS_ANGLE.most : LOSS_ANGLE.least;
  return {
    kind: 'crank phase doubtful',
    weight: 'fault',
    message: 'motored pressure peaks where no engine has its top dead centre',
    numbers: { peakAngle, least: -LOSS_ANGLE.most, most: -LOSS_ANGLE.least, shift: ahead - limit },
    rule: 'loss angle of a motored cylinder, common practice',
  };
}

/**
 * Whether indicated and brake work can belong together: nothing brakes more than it indicates.
 *
 * @param indicated  net indicated mean effective pressure [Pa] @param brake brake mean effective pressure [Pa]
 * @source  energy balance
 */
export function mechanicalEfficiencyFinding(indicated: number, brake: number): Finding | undefined {
  const efficiency = brake / indicated;
  if (indicated > 0 && efficiency < 1) return undefined;
  return {
    kind: 'more work at the crank than in the cylinder',
    weight: 'fault',
    message: 'mechanical efficiency out of validity: must be below 1; crank phase, pressure scale or torque is wrong',
    numbers: { indicated, brake, efficiency },
    rule: 'energy balance',
  };
}
