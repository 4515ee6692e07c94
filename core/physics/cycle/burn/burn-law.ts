import type { Fuel } from '../gas/fuel.ts';
import { laminarFlameSpeed } from './flame-speed.ts';
import { type Wiebe, wiebePlace } from './wiebe.ts';

/** Gas at the spark, or near it, and the chamber there; SI. */
export interface BurnInput {
  readonly fuel: Fuel;
  readonly pressure: number;
  readonly temperature: number;
  readonly density: number;
  /** Volume over piston area [m]. */
  readonly chamberHeight: number;
  readonly bore: number;
  readonly meanPistonSpeed: number;
  readonly lambda: number;
  /** By mass; the flame law's share by mole is taken as equal. */
  readonly residualShare: number;
}

/** Angles [rad] from spark to 10 % and from 10 to 90 % burned. */
export interface BurnAngles {
  readonly delay: number;
  readonly main: number;
}

/**
 * Factors C and C′ of the two laws below, for angles in rad and all else in SI units.
 *
 * @source  our defaults, so that an ordinary four-valve engine of 86 mm bore at full load, λ 0.9, 3000 rpm takes near 20° and 22°:
 *          common practice, no source; fit per engine
 */
export const BURN_FACTORS = { delay: 144, main: 25 } as const;

/**
 * Angles of burning.
 *
 *     0–10 %:  C·(c·ν)^⅓·(h/S)^⅔        10–90 %:  C′·(B/h)·(c·ν)^⅓·(h/S)^⅔
 *
 * c mean piston speed, ν kinematic viscosity, h chamber height, B bore, S laminar flame speed, all at the spark. So burning takes a
 * little more crank angle with speed, less with density, and more with residual gas and away from the best mixture.
 *
 * @source  Hires, Tabaczynski, Novak SAE 780232, as in Heywood (1988), section 9.4 (from memory)
 */
export function burnAngles(input: BurnInput): BurnAngles {
  const flame = laminarFlameSpeed(input.fuel.flame, {
    temperature: input.temperature,
    pressure: input.pressure,
    equivalenceRatio: 1 / input.lambda,
    residualShare: input.residualShare,
  });
  const viscosity = airViscosity(input.temperature) / input.density;
  const common = Math.cbrt(input.meanPistonSpeed * viscosity) * (input.chamberHeight / flame) ** (2 / 3);
  return {
    delay: BURN_FACTORS.delay * common,
    main: BURN_FACTORS.main * (input.bore / input.chamberHeight) * common,
  };
}

/** Dynamic viscosity of air [Pa·s]: 3.3e-7·T^0.7. @source Heywood (1988), section 4.8 (from memory) */
function airViscosity(T: number): number {
  return 3.3e-7 * T ** 0.7;
}

const TENTH = wiebePlace(0.1);
const HALF = wiebePlace(0.5);
const NINETENTHS = wiebePlace(0.9);

/** Wiebe burning with these angles after a spark at `spark` [rad after TDC]. @source Wiebe's function through 10 and 90 % */
export function wiebeFromSpark(spark: number, { delay, main }: BurnAngles): Wiebe {
  const duration = main / (NINETENTHS - TENTH);
  return { start: spark + delay - TENTH * duration, duration };
}

/** Wiebe burning that is half done at an angle [rad after TDC]. */
export function wiebeFromHalf(half: number, { main }: BurnAngles): Wiebe {
  const duration = main / (NINETENTHS - TENTH);
  return { start: half - HALF * duration, duration };
}

/** Where half is burned [rad after TDC]. */
export function halfBurned({ start, duration }: Wiebe): number {
  return start + HALF * duration;
}

/** Spark that leads to this burning [rad after TDC]. */
export function sparkOf({ start, duration }: Wiebe, { delay }: BurnAngles): number {
  return start + TENTH * duration - delay;
}
