import { median, quantile } from '../../../core/numerics/index.ts';
import type { Channel } from '../channel.ts';

/** Columns in SI, all as long as the log; undefined where the log has none. */
export interface Known {
  readonly time: Float64Array | undefined;
  readonly speed: Float64Array | undefined;
  readonly force: Float64Array | undefined;
  readonly speedKind: 'roll-speed' | 'vehicle-speed';
}

/** What was done to a column before it was written. factor: ratio to the recomputed value. width: of the smoothing [s]. */
export interface Working {
  readonly origin: Channel['origin'];
  readonly reason: string;
  readonly factor?: number;
  readonly width?: number;
}

/** Relative spread of engine speed over roll speed below which one was computed from the other. @source our default: a measured ratio keeps tyre creep of 0.1 % and more */
const DERIVED_SPREAD = 4e-4;
/** Rows needed for any of these statements. @source our default */
const ROWS = 40;

/** Engine speed that is roll speed times a constant was not measured and cannot show slip. */
export function engineSpeedWorking(engineSpeed: Float64Array, speed: Float64Array): Working | undefined {
  const rows = significantRows(engineSpeed, speed);
  if (rows.length < ROWS) return undefined;
  const ratios = rows.map((i) => engineSpeed[i] / speed[i]);
  const middle = median(ratios, 'skip');
  const spread =
    (quantile({ samples: ratios, probability: 0.95, missing: 'skip' }) -
      quantile({ samples: ratios, probability: 0.05, missing: 'skip' })) /
    middle;
  const speeds = rows.map((i) => speed[i]);
  const range =
    quantile({ samples: speeds, probability: 0.95, missing: 'skip' }) /
    quantile({ samples: speeds, probability: 0.05, missing: 'skip' });
  if (!(spread < DERIVED_SPREAD) || !(range > 1.2)) return undefined;
  return {
    origin: 'derived',
    reason: `engine speed is roll speed times a constant (spread ${(spread * 100).toFixed(3)} %): computed from it, it cannot show slip`,
  };
}

/** Rows in which both are well away from zero. */
function significantRows(a: Float64Array, b: Float64Array): readonly number[] {
  const high = (samples: Float64Array) => 0.3 * quantile({ samples, probability: 0.98, missing: 'skip' });
  const [floorA, floorB] = [high(a), high(b)];
  const rows: number[] = [];
  for (let i = 0; i < a.length; i++) if (a[i] > floorA && b[i] > floorB) rows.push(i);
  return rows;
}
