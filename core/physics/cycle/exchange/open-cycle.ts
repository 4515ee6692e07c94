/** Ends of the closed part and the two manifolds; Pa, m³. */
export interface OpenInput {
  readonly displacement: number;
  readonly clearance: number;
  readonly closing: { readonly volume: number; readonly pressure: number };
  readonly opening: { readonly volume: number; readonly pressure: number };
  readonly manifoldPressure: number;
  readonly exhaustPressure: number;
  /** Loss of the valves [Pa]. */
  readonly valvePumping: number;
}

/** Work done on the piston [J]: by the open ends of compression and expansion, and by the two strokes of gas exchange. */
export interface OpenWork {
  /** From exhaust opening to bottom dead centre and from there to intake closing. */
  readonly ends: number;
  /** Over the exhaust and intake strokes; negative when pumping costs work. */
  readonly pumping: number;
  /** Part of `ends` before bottom dead centre [J]: done by gas that later leaves. */
  readonly blowdown: number;
}

/** Share of the pressure above exhaust pressure that is still there on average between exhaust opening and bottom dead centre. @source our default */
const BLOWDOWN_SHARE = 0.5;

/**
 * Work outside the closed part.
 *
 * Blow-down: pressure falls from that at exhaust opening to that of the exhaust, half of the difference on average. Before the intake closes
 * the cylinder stands between manifold and closing pressure. Strokes of gas exchange: (pi − pe)·Vd less the loss of the valves.
 *
 * @source  mean-value pumping; the two halves are our defaults
 */
export function openWork(input: OpenInput): OpenWork {
  const { opening, closing, exhaustPressure, manifoldPressure, displacement } = input;
  const whole = displacement + input.clearance;
  const falling = exhaustPressure + BLOWDOWN_SHARE * (opening.pressure - exhaustPressure);
  const blowdown = falling * (whole - opening.volume);
  const filling = 0.5 * (manifoldPressure + closing.pressure) * (closing.volume - whole);
  return {
    ends: blowdown + filling,
    pumping: (manifoldPressure - exhaustPressure - input.valvePumping) * displacement,
    blowdown,
  };
}
