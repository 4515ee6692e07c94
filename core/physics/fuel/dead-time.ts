import { curveValue, type MonotoneCurve, monotoneCurve } from '../../numerics/index.ts';
import { answered, type Duration, duration, type Outcome, refused, type Voltage } from '../../quantities/index.ts';

/** Dead time of an injector over voltage. */
export interface DeadTime {
  readonly curve: MonotoneCurve;
}

export interface DeadTimeRow {
  /** At the injector [V]. */
  readonly voltage: Voltage;
  readonly time: Duration;
}

/**
 * Dead time curve from measured rows, in any order.
 *
 * Refuses fewer than two rows, a repeated or missing voltage, a time below zero, and a dead time that grows with voltage.
 *
 * @valid   for the pressure difference of the measurement; it grows by some percent per 100 kPa (common practice, no source)
 * @source  the time offset of SAE J1832, against voltage
 */
export function deadTimeOf(rows: readonly DeadTimeRow[]): Outcome<DeadTime> {
  const sorted = [...rows].sort((a, b) => a.voltage - b.voltage);
  if (sorted.length < 2) {
    return refused({
      kind: 'dead-time-too-few',
      message: 'missing dead times: expected at least 2',
      numbers: { rows: rows.length },
    });
  }
  for (let i = 0; i < sorted.length; i++) {
    const { voltage, time } = sorted[i];
    const rises = i === 0 || (voltage > sorted[i - 1].voltage && time <= sorted[i - 1].time);
    if (!(voltage > 0 && time >= 0 && rises)) {
      const message = `invalid dead time: ${time} s at ${voltage} V, expected less at higher voltage`;
      return refused({ kind: 'dead-time-invalid', message, numbers: { voltage, time } });
    }
  }
  const volts = Float64Array.from(sorted, ({ voltage }) => voltage);
  return answered({
    curve: monotoneCurve(
      volts,
      Float64Array.from(sorted, ({ time }) => time),
    ),
  });
}

/** Dead time at a voltage [s]; NaN outside the measured voltages. */
export function deadTime({ curve }: DeadTime, at: Voltage): Duration {
  return duration(curveValue(curve, at));
}
