import type { MassFlow, Ratio } from '../../quantities/index.ts';

/** Conductance of a cooler core at one pair of flows. */
export interface KnownCore {
  /** UA [W/K] */
  readonly conductance: number;
  readonly chargeFlow: MassFlow;
  readonly coolantFlow: MassFlow;
  /** Part of the whole resistance that lies on the charge side [1]; default {@link CHARGE_SIDE_SHARE}. */
  readonly chargeSide?: Ratio;
}

/** Part of the resistance on the charge side of a charge cooler [1]. @source our default: gas against gas, even */
export const CHARGE_SIDE_SHARE = 0.5;

/** Heat transfer of turbulent flow grows with this power of flow [1]. @source Dittus & Boelter; louvred fins lie nearer 0.6 (from memory) */
const FLOW_POWER = 0.8;

/**
 * Conductance of the same core at other flows [W/K].
 *
 *     1/UA = (s·(ṁ0/ṁ)^0.8 + (1 − s)·(ṁc0/ṁc)^0.8)/UA0
 *
 * @valid   turbulent on both sides, wall resistance none; within a factor of two of the known flows
 * @source  resistances in series; Incropera, Fundamentals of Heat and Mass Transfer, 11.2 (from memory)
 */
export function coreConductance(known: KnownCore, chargeFlow: MassFlow, coolantFlow: MassFlow): number {
  const share = known.chargeSide ?? CHARGE_SIDE_SHARE;
  const charge = share * (known.chargeFlow / chargeFlow) ** FLOW_POWER;
  const coolant = (1 - share) * (known.coolantFlow / coolantFlow) ** FLOW_POWER;
  return known.conductance / (charge + coolant);
}
