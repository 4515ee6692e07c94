/**
 * Constants of the heat transfer law.
 *
 *     h = 3.26·B^−0.2·p^0.8·T^−0.55·w^0.8      B [m], p [kPa], T [K], w [m/s], h [W/(m²·K)]
 *     w = C₁·c + C₂·(Vd·Tr/(pr·Vr))·(p − pm)   c mean piston speed, r a state of the closed cycle, pm without burning
 *
 * @source  Woschni, SAE 670931, as in Heywood (1988), ch. 12; C₁ seen in a university course page, the rest from memory. The
 *          temperature exponent of the paper is −0.53; −0.55 is the common textbook use (0.75 − 1.62·0.8)
 */
export const WOSCHNI = {
  scale: 3.26,
  bore: -0.2,
  pressure: 0.8,
  temperature: -0.55,
  motion: 2.28,
  burning: 3.24e-3,
  motionPower: 0.8,
} as const;

export interface WoschniInput {
  readonly bore: number;
  /** [Pa] */
  readonly pressure: number;
  readonly temperature: number;
  /** w [m/s] */
  readonly gasSpeed: number;
}

/** Heat transfer coefficient [W/(m²·K)]. @source {@link WOSCHNI} */
export function woschniCoefficient({ bore, pressure, temperature, gasSpeed }: WoschniInput): number {
  return (
    WOSCHNI.scale *
    bore ** WOSCHNI.bore *
    (pressure / 1000) ** WOSCHNI.pressure *
    temperature ** WOSCHNI.temperature *
    gasSpeed ** WOSCHNI.motionPower
  );
}

export interface WoschniSpeedInput {
  readonly meanPistonSpeed: number;
  readonly displacement: number;
  readonly reference: { readonly temperature: number; readonly pressure: number; readonly volume: number };
  readonly pressure: number;
  readonly motoredPressure: number;
}

/** Gas speed w during compression and burning [m/s]. @source {@link WOSCHNI} */
export function woschniSpeed(input: WoschniSpeedInput): number {
  const { temperature, pressure, volume } = input.reference;
  const rise = input.pressure - input.motoredPressure;
  return (
    WOSCHNI.motion * input.meanPistonSpeed +
    WOSCHNI.burning * ((input.displacement * temperature) / (pressure * volume)) * rise
  );
}
