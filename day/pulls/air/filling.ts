import { median, quantile } from '../../../core/numerics/index.ts';
import { airMassFlow } from '../../../core/physics/index.ts';
import {
  absolutePressure,
  angularSpeed,
  type Finding,
  type Measured,
  measured,
  ratio,
  temperature,
  volume,
} from '../../../core/quantities/index.ts';
import type { JoinedRecord, Track } from '../record.ts';
import { trackOf } from '../rolls/find-track.ts';
import { type AtRenewals, interpolated, renewals } from './renewals.ts';

/** Relative standard uncertainties of the readings [1]. @source common practice, no source */
const SPREAD = { airFlow: 0.03, pressure: 0.01, temperature: 0.007, engineSpeed: 0.003 } as const;

/**
 * Gas that pipes, cooler and manifold hold, as a multiple of what the engine swallows in a cycle [1]: while the pressure moves, the air
 * meter sees what goes into that store and the engine does not. @source common practice, no source: a charged engine with its cooler holds three to eight
 */
const STORE = 6;

/** How far the filling itself differs over engine speeds at full load, standard deviation as a share of it [1]. @source common practice, no source */
const FILLING_VARIES = 0.03;

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
 * they moved between their renewals joins the uncertainty, as does the gas that is stored while the pressure moves.
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
  const at = (track: Track): AtRenewals => interpolated(track, renewed.times);
  const [p, n, T] = [at(pressure), at(speed), at(charge)];
  return Array.from(renewed.times, (time, i): FillingPoint | undefined => {
    const moved = Math.hypot(renewed.moved[i], p.moved[i], n.moved[i], T.moved[i], stored(p.rate[i], n.value[i]));
    const state = { pressure: p.value[i], temperature: T.value[i], engineSpeed: n.value[i] };
    return fillingAt({ time, flow: renewed.values[i], moved, ...state });
  }).filter((point) => point !== undefined);
}

/** Share of the measured flow that may fill or leave the pipes instead: STORE · |ṗ|/p · time of a cycle [1]. */
function stored(relativeRate: number, engineSpeed: number): number {
  return STORE * relativeRate * ((4 * Math.PI) / engineSpeed);
}

/** One point, or nothing where the engine stands, a value is missing or nothing flows. */
function fillingAt(state: {
  readonly time: number;
  readonly flow: number;
  readonly pressure: number;
  readonly temperature: number;
  readonly engineSpeed: number;
  readonly moved: number;
}): FillingPoint | undefined {
  const { time, flow, pressure, engineSpeed, moved } = state;
  if (!(flow > 0 && pressure > 0 && state.temperature > 0 && engineSpeed > 0 && moved < 1)) return undefined;
  const perVolume = airMassFlow({
    volumetricEfficiency: ratio(1),
    manifoldPressure: absolutePressure(pressure),
    chargeTemperature: temperature(state.temperature),
    displacement: volume(1),
    engineSpeed: angularSpeed(engineSpeed),
  });
  const relative = Math.hypot(SPREAD.airFlow, SPREAD.pressure, SPREAD.temperature, SPREAD.engineSpeed, moved);
  const filled = flow / perVolume;
  return { time, pressure, engineSpeed, volume: measured(filled, filled * relative) };
}

/** Share of the highest pressures that is taken for full load, where no exhaust is recirculated [1]. @source our default */
const FULL_LOAD = 0.9;

/** Share of the highest pedal from which a point counts as high load: below it exhaust may be recirculated [1]. @source our default */
const PEDAL_DOWN = 0.7;

/** Largest relative standard uncertainty of a point that still says something [1]. @source our default */
const TOO_UNCERTAIN = 0.15;

/**
 * How well the two ways of knowing the air agree at high load: middle filling, and the share of points within two of their own
 * uncertainties of it, the filling's own change with engine speed included.
 */
export function fillingCheck(record: JoinedRecord): { volume: Measured; within: number; count: number } | undefined {
  const points = fillingPoints(record);
  if (points.length < 10) return undefined;
  const loaded = highLoad(record, points);
  if (loaded.length < 5) return undefined;
  const middle = median(
    loaded.map(({ volume }) => volume.value),
    'skip',
  );
  const inside = loaded.filter(
    ({ volume }) =>
      Math.abs(volume.value - middle) <= 2 * Math.hypot(volume.standardUncertainty, FILLING_VARIES * middle),
  );
  const typical = median(
    loaded.map(({ volume }) => volume.standardUncertainty),
    'skip',
  );
  return {
    volume: measured(middle, Math.hypot(typical / Math.sqrt(loaded.length), SPREAD.airFlow * middle)),
    within: inside.length / loaded.length,
    count: loaded.length,
  };
}

/** Points close to the highest pressure with the pedal down, as far as a pedal is logged, that are not too uncertain. */
function highLoad(record: JoinedRecord, points: readonly FillingPoint[]): readonly FillingPoint[] {
  const high = (samples: ArrayLike<number>): number =>
    quantile({ samples: Float64Array.from(samples), probability: 0.995, missing: 'skip' });
  const top = high(points.map(({ pressure }) => pressure));
  const pedal = trackOf(record, 'pedal');
  const down =
    pedal &&
    interpolated(
      pedal,
      Float64Array.from(points, ({ time }) => time),
    ).value;
  const floor = down?.some(Number.isFinite) ? PEDAL_DOWN * high(down) : 0;
  return points.filter(
    ({ pressure, volume }, i) =>
      pressure >= FULL_LOAD * top &&
      volume.standardUncertainty < TOO_UNCERTAIN * volume.value &&
      !(down && down[i] < floor),
  );
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
      message: `air mass flow and manifold pressure ${agree ? 'agree' : 'do not agree'} at high load: the engine swallows ${litres(check.volume.value)} ± ${litres(2 * check.volume.standardUncertainty)} L of manifold gas a cycle (volumetric efficiency × displacement), ${Math.round(100 * check.within)} % of ${check.count} points within their uncertainty${agree ? '' : '; recirculated exhaust, a leak or a wrong channel would do this'}`,
      numbers: {
        volume: check.volume.value,
        standardUncertainty: check.volume.standardUncertainty,
        within: check.within,
      },
    },
  ];
}
