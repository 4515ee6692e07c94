import { curveValue, type MonotoneCurve, monotoneCurve } from '../../numerics/index.ts';
import { answered, type Outcome, refused, type Voltage } from '../../quantities/index.ts';

/** Flow of one pump over the pressure it works against, at one voltage. */
export interface PumpLine {
  /** At the pump, under load [V]. */
  readonly voltage: Voltage;
  /** Outlet minus inlet pressure [Pa], rising. */
  readonly pressure: ArrayLike<number>;
  /** Volume flow [m³/s], as long as `pressure`. */
  readonly flow: ArrayLike<number>;
}

/** One pump from its measured lines, lowest voltage first. */
export interface Pump {
  readonly lines: readonly {
    readonly voltage: number;
    readonly curve: MonotoneCurve;
    /** Flow against no pressure at all [m³/s], carried there along the first chord. */
    readonly free: number;
  }[];
}

/**
 * A pump from one or more measured lines.
 *
 * Refuses fewer than two points on a line, pressures that do not rise, flows that rise with pressure, a repeated voltage.
 */
export function pumpOf(lines: readonly PumpLine[]): Outcome<Pump> {
  const sorted = [...lines].sort((a, b) => a.voltage - b.voltage);
  const wrong = (message: string, line: PumpLine): Outcome<Pump> =>
    refused({
      kind: 'pump-line-invalid',
      message: `invalid pump line: ${message}`,
      numbers: { voltage: line.voltage },
    });
  for (const [i, line] of sorted.entries()) {
    const { pressure, flow, voltage } = line;
    if (!(voltage > 0) || (i > 0 && voltage === sorted[i - 1].voltage))
      return wrong('expected distinct voltages above 0', line);
    if (pressure.length < 2 || flow.length !== pressure.length) return wrong('expected at least 2 points', line);
    for (let k = 0; k < pressure.length; k++) {
      const follows = k === 0 || (pressure[k] > pressure[k - 1] && flow[k] <= flow[k - 1]);
      if (!(flow[k] >= 0 && pressure[k] >= 0 && follows))
        return wrong('expected flow falling over rising pressure', line);
    }
  }
  if (sorted.length === 0) return refused({ kind: 'pump-without-lines', message: 'missing pump lines' });
  return answered({
    lines: sorted.map(({ voltage, pressure, flow }) => ({
      voltage,
      curve: monotoneCurve(Float64Array.from(pressure), Float64Array.from(flow)),
      free: flow[0] + ((flow[0] - flow[1]) / (pressure[1] - pressure[0])) * pressure[0],
    })),
  });
}

/**
 * Volume flow of one pump [m³/s].
 *
 * Between measured voltages linear in voltage. Beyond them, or from a single line, shifted by that line's own law:
 *
 *     ω = (V − R·T/k)/k,  T = D·p/2π,  Q = D·ω/2π − leak·p   ⇒   Q(p, V) = Q(p, V0) + Q(0, V0)·(V − V0)/V0
 *
 * @param pressure outlet minus inlet [Pa]; NaN beyond the measured pressures
 * @valid   permanent-magnet motor driving a displacement pump, friction small; never below zero; a few volts from the measured line
 * @source  direct-current motor and displacement pump, worked out by us from the textbook equations
 */
export function pumpFlow({ lines }: Pump, pressure: number, volts: Voltage): number {
  const above = lines.findIndex(({ voltage }) => voltage >= volts);
  const upper = above < 0 ? lines.length - 1 : above;
  const line = lines[upper];
  if (upper > 0 && above >= 0) {
    const lower = lines[upper - 1];
    const share = (volts - lower.voltage) / (line.voltage - lower.voltage);
    const from = curveValue(lower.curve, pressure);
    return from + share * (curveValue(line.curve, pressure) - from);
  }
  const shifted = curveValue(line.curve, pressure) + line.free * (volts / line.voltage - 1);
  return Number.isNaN(shifted) ? shifted : Math.max(0, shifted);
}

/** Highest pressure for which every line of the pump was measured [Pa]. */
export function measuredUpTo({ lines }: Pump): number {
  return Math.min(...lines.map(({ curve }) => curve.x[curve.x.length - 1]));
}
