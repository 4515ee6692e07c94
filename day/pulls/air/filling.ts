import { median, quantile } from '../../../core/numerics/index.ts';
import { type Finding, type Measured, measured } from '../../../core/quantities/index.ts';
import { sampleTrack } from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { trackOf, usableSamples } from '../rolls/find-track.ts';

/** Gas constant of dry air [J/(kg·K)]. @source CIPM-2007 molar constants, 8.314472/0.02896546 */
const AIR_GAS = 287.05;

/** Relative standard uncertainties of the readings [1]. @source common practice, no source */
const SPREAD = { airFlow: 0.03, pressure: 0.01, temperature: 0.007, engineSpeed: 0.003 } as const;

/** Filling at one instant: what the mass flow says the engine swallowed per cycle, as a volume at manifold state [m³]. */
export interface FillingPoint {
  readonly time: number;
  readonly pressure: number;
  readonly engineSpeed: number;
  readonly volume: Measured;
}

/**
 * Speed-density turned round: the volume of manifold gas per cycle that would carry the measured air,
 *
 *     V = m·2·R·T·(2π/ω)/p       four-stroke: VE·V_d = V
 *
 * at every renewal of the air flow. Where the other channels were renewed at other instants their values are interpolated, and how much
 * they moved between their renewals joins the uncertainty.
 *
 * @valid  steady or slowly changing; recirculated exhaust or a leak before the manifold makes V too small, a leak after the meter too large
 * @source speed-density relation m = VE·p·V_d·N/(2·R·T)
 */
export function fillingPoints(record: JoinedRecord): readonly FillingPoint[] {
  const flow = trackOf(record, 'air-flow');
  const pressure = trackOf(record, 'manifold-pressure');
  const speed = trackOf(record, 'engine-speed');
  const charge = trackOf(record, 'charge-temperature');
  if (!flow || !pressure || !speed || !charge) return [];
  const renewed = renewals(flow);
  const at = (track: Track): Interpolated => interpolated(track, renewed.times);
  const [p, n, T] = [at(pressure), at(speed), at(charge)];
  return Array.from(renewed.times, (time, i): FillingPoint => {
    const volume = (renewed.values[i] * 2 * AIR_GAS * T.value[i] * 2 * Math.PI) / (n.value[i] * p.value[i]);
    const relative = Math.hypot(
      SPREAD.airFlow,
      SPREAD.pressure,
      SPREAD.temperature,
      SPREAD.engineSpeed,
      renewed.moved[i],
      p.moved[i],
      n.moved[i],
      T.moved[i],
    );
    return {
      time,
      pressure: p.value[i],
      engineSpeed: n.value[i],
      volume: measured(Math.abs(volume), Math.abs(volume * relative)),
    };
  }).filter(
    ({ volume }) => Number.isFinite(volume.value) && Number.isFinite(volume.standardUncertainty) && volume.value > 0,
  );
}

/** Share of the highest pressures that is taken for full load, where no exhaust is recirculated [1]. @source our default */
const FULL_LOAD = 0.9;

/** How well the two ways of knowing the air agree at high load: middle filling, and the share of points within two of their own uncertainties. */
export function fillingCheck(record: JoinedRecord): { volume: Measured; within: number; count: number } | undefined {
  const points = fillingPoints(record);
  if (points.length < 10) return undefined;
  const top = quantile({ samples: points.map(({ pressure }) => pressure), probability: 0.995, missing: 'skip' });
  const loaded = points.filter(
    ({ pressure, volume }) => pressure >= FULL_LOAD * top && volume.standardUncertainty < 0.15 * volume.value,
  );
  if (loaded.length < 5) return undefined;
  const middle = median(
    loaded.map(({ volume }) => volume.value),
    'skip',
  );
  const within =
    loaded.filter(({ volume }) => Math.abs(volume.value - middle) <= 2 * volume.standardUncertainty).length /
    loaded.length;
  const typical = median(
    loaded.map(({ volume }) => volume.standardUncertainty),
    'skip',
  );
  return {
    volume: measured(middle, Math.hypot(typical / Math.sqrt(loaded.length), SPREAD.airFlow * middle)),
    within,
    count: loaded.length,
  };
}

/** Says in words how the air flow compares with manifold pressure; nothing without both channels. */
export function fillingFindings(record: JoinedRecord): readonly Finding[] {
  const check = fillingCheck(record);
  if (!check) return [];
  const litres = (volume: number): string => (1000 * volume).toFixed(2);
  const agree = check.within >= 0.9;
  return [
    {
      kind: 'filling',
      weight: agree ? 'note' : 'doubt',
      message: `air mass flow and manifold pressure ${agree ? 'agree' : 'do not agree'} at high load: the engine swallows ${litres(check.volume.value)} ± ${litres(2 * check.volume.standardUncertainty)} L of manifold gas a cycle (volumetric efficiency × displacement), ${Math.round(100 * check.within)} % of ${check.count} points within their uncertainty`,
      numbers: {
        volume: check.volume.value,
        standardUncertainty: check.volume.standardUncertainty,
        within: check.within,
      },
    },
  ];
}

interface Renewals {
  readonly times: Float64Array;
  readonly values: Float64Array;
  /** How far the value still moves within half a renewal, as a share of it [1]. */
  readonly moved: Float64Array;
}

/** The instants at which a held value changes. A value that stays for several of its usual intervals is taken as renewed, unchanged. */
function renewals(track: Track): Renewals {
  const samples = usableSamples(track);
  const period = 1 / Math.max(track.channel.refreshRate, 1e-3);
  const times: number[] = [];
  const values: number[] = [];
  for (let i = 0; i < samples.length; i++) {
    if (!Number.isFinite(samples[i])) continue;
    const changed = values.length === 0 || samples[i] !== values[values.length - 1];
    if (!changed && track.times[i] - times[times.length - 1] < 1.5 * period) continue;
    times.push(track.times[i]);
    values.push(samples[i]);
  }
  const moved = values.map((value, i) => {
    const before = values[Math.max(0, i - 1)];
    const after = values[Math.min(values.length - 1, i + 1)];
    return Math.abs(after - before) / Math.abs(value) / 4 / Math.sqrt(3);
  });
  return { times: Float64Array.from(times), values: Float64Array.from(values), moved: Float64Array.from(moved) };
}

interface Interpolated {
  readonly value: Float64Array;
  readonly moved: Float64Array;
}

function interpolated(track: Track, times: Float64Array): Interpolated {
  const own = renewals(track);
  const pieces = [{ from: 0, to: own.times.length }];
  const channel = {
    ...track.channel,
    samples: own.values,
    mask: new Uint8Array(own.values.length),
    refreshRate: Number.POSITIVE_INFINITY,
  };
  const moved = { ...channel, samples: own.moved };
  return {
    value: sampleTrack({ channel, times: own.times, pieces, file: track.file }, times),
    moved: sampleTrack({ channel: moved, times: own.times, pieces, file: track.file }, times),
  };
}
