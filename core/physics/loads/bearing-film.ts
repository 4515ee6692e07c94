import {
  type Angle,
  type AngularSpeed,
  angle,
  type Force,
  type Length,
  length,
  type Ratio,
  ratio,
} from '../../quantities/index.ts';

/** A plain bearing. */
export interface JournalBearing {
  readonly diameter: Length;
  readonly width: Length;
  /** Bearing radius less journal radius [m]. */
  readonly radialClearance: Length;
  /** Of the oil at the film's temperature [Pa·s]. */
  readonly viscosity: number;
}

/** Force over projected area [Pa]: F/(b·d). @source definition */
export function specificLoad({ diameter, width }: JournalBearing, load: Force): number {
  return load / (diameter * width);
}

/**
 * Loads of one cycle in a frame of fixed axes, evenly spaced over `period` [s], [N].
 * entrainment: mean of the journal's and the shell's rotation against the same axes [rad/s], one number or one per sample.
 */
export interface BearingCycle {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly period: number;
  readonly entrainment: AngularSpeed | Float64Array;
}

/**
 * eccentricity: path of the journal, share of the clearance, as long as the loads. thinnest: film [m], and where in the cycle [0 … 1).
 * settled: whether the path had become the same as in the cycle before.
 */
export interface FilmOrbit {
  readonly eccentricityX: Float64Array;
  readonly eccentricityY: Float64Array;
  readonly thinnest: { readonly film: Length; readonly at: Ratio; readonly direction: Angle };
  readonly largestEccentricity: Ratio;
  readonly settled: boolean;
}

/**
 * Path of a journal in its bearing under a changing load, and its thinnest oil film.
 *
 *     dε/dt = F·(c/R)²/(L·D·μ)·M(ε) + ω̄ × ε
 *     M along the load (1 − ξ)^(5/2)/(π·(L/D)²),  across it −4η·(1 − ξ)^(3/2)/(π²·(L/D)²)
 *
 * ξ, η: eccentricity along and across the load. Steps are halved until the path moves little in each; cycles run until it closes.
 *
 * @valid   short bearing (width up to about 0.7 of the diameter), round, rigid, parallel, full of oil, one viscosity. Real thin films
 *          are thickened by elastic shells and thinned by heat and bent pins: a comparison between states, no absolute promise
 * @source  Booker, J. Basic Eng. 87 (1965) 537; short-bearing mobility in closed form: Booker, J. Lubr. Tech. 93 (1971) 168 (from memory;
 *          held here against Ocvirk's steady solution and against the exact short-bearing squeeze film)
 */
export function filmOrbit(bearing: JournalBearing, cycle: BearingCycle, mostCycles = 30): FilmOrbit {
  const n = cycle.x.length;
  if (n < 8 || cycle.y.length !== n) throw new RangeError('expected at least 8 loads in x and as many in y');
  if (cycle.x.some(Number.isNaN) || cycle.y.some(Number.isNaN)) throw new RangeError('missing load in a bearing cycle');
  const eccentricityX = new Float64Array(n);
  const eccentricityY = new Float64Array(n);
  const position = { x: 0, y: 0 };
  let settled = false;
  for (let round = 0; round < mostCycles && !settled; round++) {
    let moved = 0;
    for (let i = 0; i < n; i++) {
      moved = Math.max(moved, Math.hypot(eccentricityX[i] - position.x, eccentricityY[i] - position.y));
      eccentricityX[i] = position.x;
      eccentricityY[i] = position.y;
      advanceInto(position, { bearing, cycle, index: i });
    }
    settled = round > 0 && moved < 1e-4;
  }
  let worst = 0;
  const size = (i: number): number => Math.hypot(eccentricityX[i], eccentricityY[i]);
  for (let i = 1; i < n; i++) if (size(i) > size(worst)) worst = i;
  return {
    eccentricityX,
    eccentricityY,
    thinnest: {
      film: length(bearing.radialClearance * (1 - size(worst))),
      at: ratio(worst / n),
      direction: angle(Math.atan2(eccentricityY[worst], eccentricityX[worst])),
    },
    largestEccentricity: ratio(size(worst)),
    settled,
  };
}

interface Journal {
  x: number;
  y: number;
}

interface Advance {
  readonly bearing: JournalBearing;
  readonly cycle: BearingCycle;
  readonly index: number;
}

/** One interval of the cycle by the midpoint rule, in as many steps as keep each below a fiftieth of the film that is left. */
function advanceInto(position: Journal, { bearing, cycle, index }: Advance): void {
  const n = cycle.x.length;
  const next = (index + 1) % n;
  const spin = (i: number): number =>
    typeof cycle.entrainment === 'number' ? cycle.entrainment : cycle.entrainment[i];
  const interval = cycle.period / n;
  let done = 0;
  while (done < 1 - 1e-12) {
    const load = (share: number): Load => ({
      x: cycle.x[index] + share * (cycle.x[next] - cycle.x[index]),
      y: cycle.y[index] + share * (cycle.y[next] - cycle.y[index]),
      spin: spin(index) + share * (spin(next) - spin(index)),
    });
    const start = velocity(bearing, position, load(done));
    const left = 1 - Math.hypot(position.x, position.y);
    const rate = Math.hypot(start.x, start.y);
    const step = Math.min(1 - done, Math.max(1e-4, (0.02 * left) / (rate * interval + 1e-12)));
    const half = { x: position.x + (start.x * step * interval) / 2, y: position.y + (start.y * step * interval) / 2 };
    const middle = velocity(bearing, half, load(done + step / 2));
    position.x += middle.x * step * interval;
    position.y += middle.y * step * interval;
    const size = Math.hypot(position.x, position.y);
    if (size > THINNEST) {
      position.x *= THINNEST / size;
      position.y *= THINNEST / size;
    }
    done += step;
  }
}

/** Eccentricity that a step may never pass [1]; a film this thin is none. */
const THINNEST = 0.9999;

interface Load {
  readonly x: number;
  readonly y: number;
  readonly spin: number;
}

function velocity(bearing: JournalBearing, at: Journal, { x, y, spin }: Load): Journal {
  const { diameter: D, width: L, radialClearance: c, viscosity } = bearing;
  const F = Math.hypot(x, y);
  const drift = { x: -spin * at.y, y: spin * at.x };
  if (F === 0) return drift;
  const along = { x: x / F, y: y / F };
  const xi = at.x * along.x + at.y * along.y;
  const eta = -at.x * along.y + at.y * along.x;
  const film = Math.max(1e-6, 1 - xi);
  const square = (L / D) ** 2;
  const scale = (F * (c / (D / 2)) ** 2) / (L * D * viscosity);
  const first = (scale * film ** 2.5) / (Math.PI * square);
  const second = (-scale * 4 * eta * film ** 1.5) / (Math.PI ** 2 * square);
  return { x: first * along.x - second * along.y + drift.x, y: first * along.y + second * along.x + drift.y };
}
