import { peakBias, trapezoid } from '../../../core/numerics/index.ts';
import type { Peak, PowerCurve } from '../curve.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { ChainLines } from './chain.ts';
import type { PullReading } from './signals.ts';

/** The highest valid point of each power and torque that is known, at the curve’s bandwidth. factorSpread: standard uncertainty of the ambient factor [1]. */
export function curvePeaks(curve: PowerCurve, factorSpread: number): readonly Peak[] {
  const perRotation = (power: Float64Array): Float64Array => power.map((watts, i) => watts / curve.engineSpeed[i]);
  const corrected = curve.rule === 'none' ? undefined : curve.correctedPower;
  return [
    highest(curve, 'roll power', { values: curve.rollPower, spreads: curve.rollPowerUncertainty }),
    highest(curve, 'wheel power', { values: curve.tyrePower, spreads: curve.tyrePowerUncertainty }),
    highest(curve, 'engine power', { values: curve.enginePower, spreads: curve.enginePowerUncertainty }),
    corrected &&
      highest(curve, 'corrected power', {
        values: corrected,
        spreads: curve.enginePowerUncertainty.map((u, i) =>
          Math.hypot(u * curve.factor, curve.enginePower[i] * factorSpread),
        ),
      }),
    highest(curve, 'roll torque', {
      values: perRotation(curve.rollPower),
      spreads: perRotation(curve.rollPowerUncertainty),
    }),
    highest(curve, 'engine torque', {
      values: perRotation(curve.enginePower),
      spreads: perRotation(curve.enginePowerUncertainty),
    }),
  ].filter((peak) => peak !== undefined);
}

function highest(
  curve: PowerCurve,
  what: Peak['what'],
  { values, spreads }: { values: Float64Array; spreads: Float64Array },
): Peak | undefined {
  let best = -1;
  for (let i = 0; i < values.length; i++) {
    if (curve.valid[i] === 1 && Number.isFinite(values[i]) && (best < 0 || values[i] > values[best])) best = i;
  }
  if (best < 0) return undefined;
  return {
    basis: 'curve',
    what,
    value: values[best],
    standardUncertainty: spreads[best],
    engineSpeed: Number.isFinite(curve.engineSpeed[best]) ? curve.engineSpeed[best] : undefined,
    rollSpeed: curve.rollSpeed[best],
    time: curve.time[best],
  };
}

/** Peak of roll power as a mean over 1 s, and, where the logged force is the whole force, as the highest single sample. */
export function extraPeaks(
  side: RollSide,
  reading: PullReading,
  { lines, spread }: { lines: ChainLines; spread: Float64Array },
): readonly Peak[] {
  const { time } = reading.signals;
  if (time.length < 2) return [];
  const raw = side.forceKind === 'whole' ? sampleProducts(side, time) : lines.roll;
  const peaks = [peakOf('one second', time, oneSecondMeans(time, raw))];
  if (side.forceKind === 'whole') peaks.push(peakOf('samples', time, raw));
  return peaks
    .filter((peak) => peak !== undefined)
    .map(({ at, value, basis }) => ({
      basis,
      what: 'roll power',
      value,
      standardUncertainty:
        basis === 'samples' ? Math.hypot(spread[at], scatterAround(at, raw, lines.roll)) : spread[at],
      engineSpeed: Number.isFinite(reading.signals.engineSpeed[at]) ? reading.signals.engineSpeed[at] : undefined,
      rollSpeed: reading.signals.speed[at],
      time: time[at],
    }));
}

/** How far single samples lie from the smooth curve around an index: root mean square of eleven [W]. */
function scatterAround(at: number, raw: Float64Array, smooth: Float64Array): number {
  let [squares, count] = [0, 0];
  for (let i = Math.max(0, at - 5); i <= Math.min(raw.length - 1, at + 5); i++) {
    const away = raw[i] - smooth[i];
    if (!Number.isFinite(away)) continue;
    squares += away * away;
    count += 1;
  }
  return count > 0 ? Math.sqrt(squares / count) : Number.NaN;
}

function sampleProducts(side: RollSide, time: Float64Array): Float64Array {
  const from = side.times.indexOf(time[0]);
  return Float64Array.from(time, (_, i) => side.speed[from + i] * (side.force?.[from + i] ?? Number.NaN));
}

/** Mean over the second around each time; NaN within half a second of the ends. */
function oneSecondMeans(time: Float64Array, power: Float64Array): Float64Array {
  return Float64Array.from(time, (middle) => {
    const from = time.findIndex((t) => t >= middle - 0.5 - 1e-9);
    let to = from;
    while (to < time.length && time[to] <= middle + 0.5 + 1e-9) to++;
    if (middle - 0.5 < time[0] - 1e-9 || middle + 0.5 > time[time.length - 1] + 1e-9) return Number.NaN;
    const { integral, covered } = trapezoid({ times: time, samples: power, pieces: [{ from, to }] });
    return covered > 0.8 ? integral / covered : Number.NaN;
  });
}

function peakOf(
  basis: Peak['basis'],
  time: Float64Array,
  values: Float64Array,
): { basis: Peak['basis']; at: number; value: number } | undefined {
  let best = -1;
  for (let i = 0; i < time.length; i++)
    if (Number.isFinite(values[i]) && (best < 0 || values[i] > values[best])) best = i;
  return best < 0 ? undefined : { basis, at: best, value: values[best] };
}

/**
 * How much the smoothing lowers the highest point of the curve [1], from the curve's own second derivative there. 0 where the
 * highest point lies at an end of the curve and no crest is seen.
 */
export function peakLoss(power: Float64Array, time: Float64Array, bandwidth: number): number {
  let best = 0;
  for (let i = 0; i < power.length; i++) if (power[i] > power[best] || Number.isNaN(power[best])) best = i;
  const reach = 3;
  if (best < reach || best + reach >= power.length) return 0;
  const before = (power[best] - power[best - reach]) / (time[best] - time[best - reach]);
  const after = (power[best + reach] - power[best]) / (time[best + reach] - time[best]);
  const curvature = (2 * (after - before)) / (time[best + reach] - time[best - reach]);
  const bias = peakBias({ peakValue: power[best], curvature, bandwidth });
  return Number.isFinite(bias) ? bias : 0;
}
