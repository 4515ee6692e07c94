import { displayUnit, fromSi, type UnitSystem, unitSymbol } from '../../../core/quantities/index.ts';
import type { PowerCurve } from '../../../day/pulls/index.ts';
import { escaped } from './html.ts';
import { voidWindows } from './void-windows.ts';

const WIDTH = 720;
const HEIGHT = 320;
const LEFT = 56;
const BOTTOM = 40;
const TOP = 26;

/**
 * One pull's power against engine speed (roll speed where the curve lies on it): a line for each power that is known, and a band of
 * two standard uncertainties about the furthest one. Void windows are marked. Nothing is drawn across points that are missing.
 */
export function curveSvg(curve: PowerCurve, system: UnitSystem): string {
  const lines = knownLines(curve);
  const [best] = lines;
  if (!best) return '';
  const alongKind = curve.axis === 'engine-speed' ? 'engine-speed' : 'speed';
  const along = curve.axis === 'engine-speed' ? curve.engineSpeed : curve.rollSpeed;
  const xs = along.map((value) => fromSi(value, displayUnit(alongKind, system)));
  const ys = (series: Float64Array): Float64Array => series.map((value) => fromSi(value, displayUnit('power', system)));
  const low = Math.min(...xs.filter(Number.isFinite));
  const high = Math.max(...xs.filter(Number.isFinite));
  const top = niceTop(
    Math.max(
      ...lines.flatMap(({ power, spread }) =>
        Array.from(ys(power), (y, i) => y + 2 * (ys(spread)[i] ?? 0)).filter(Number.isFinite),
      ),
    ),
  );
  const x = (value: number): number => LEFT + ((value - low) / (high - low || 1)) * (WIDTH - LEFT - 12);
  const y = (value: number): number => HEIGHT - BOTTOM - (value / top) * (HEIGHT - BOTTOM - TOP);
  const place = (series: Float64Array): readonly Point[] =>
    Array.from(series, (value, i) => ({ x: x(xs[i] ?? Number.NaN), y: y(value) }));
  const spread = ys(best.spread);
  const upper = place(ys(best.power).map((value, i) => value + 2 * (spread[i] ?? 0)));
  const lower = place(ys(best.power).map((value, i) => value - 2 * (spread[i] ?? 0)));
  return [
    `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escaped(`power against ${alongKind.replace('-', ' ')}`)}">`,
    ...gridLines({ low, high, top, x, y }, { x: unitSymbol(alongKind, system), y: unitSymbol('power', system) }),
    ...voidMarks(curve, (speed) => x(fromSi(speed, displayUnit(alongKind, system))), [x(low), x(high)]),
    `<path class="band" d="${bandPath(upper, lower)}"/>`,
    ...lines.map(
      ({ name, power }, i) =>
        `<path class="line line-${i}" d="${linePath(place(ys(power)))}"><title>${escaped(name)}</title></path>`,
    ),
    ...lines.map(
      ({ name }, i) =>
        `<path class="line line-${i}" d="M${WIDTH - 150} ${HEIGHT - BOTTOM - 56 + 18 * i}h28"/><text x="${WIDTH - 114}" y="${HEIGHT - BOTTOM - 52 + 18 * i}">${escaped(name)}</text>`,
    ),
    '</svg>',
  ].join('\n');
}

/** Void windows as bars over the whole height; one at an end of the curve reaches to it. */
function voidMarks(
  curve: PowerCurve,
  place: (speed: number) => number,
  ends: readonly [number, number],
): readonly string[] {
  return voidWindows(curve).map(({ low, high }) => {
    const left = low === undefined ? ends[0] : place(low);
    const right = high === undefined ? ends[1] : place(high);
    const width = Math.max(2, right - left).toFixed(1);
    return `<rect class="void" x="${left.toFixed(1)}" y="${TOP}" width="${width}" height="${HEIGHT - BOTTOM - TOP}"><title>void</title></rect>`;
  });
}

interface Point {
  readonly x: number;
  readonly y: number;
}

function knownLines(curve: PowerCurve): readonly { name: string; power: Float64Array; spread: Float64Array }[] {
  return [
    { name: 'engine power', power: curve.enginePower, spread: curve.enginePowerUncertainty },
    { name: 'wheel power', power: curve.tyrePower, spread: curve.tyrePowerUncertainty },
    { name: 'roll power', power: curve.rollPower, spread: curve.rollPowerUncertainty },
  ].filter(({ power }) => power.some(Number.isFinite));
}

function linePath(points: readonly Point[]): string {
  let open = false;
  return points
    .map((point) => {
      if (!Number.isFinite(point.x) || !Number.isFinite(point.y)) {
        open = false;
        return '';
      }
      const command = open ? 'L' : 'M';
      open = true;
      return `${command}${point.x.toFixed(1)} ${point.y.toFixed(1)}`;
    })
    .join('');
}

/** One closed shape for every unbroken stretch. */
function bandPath(upper: readonly Point[], lower: readonly Point[]): string {
  const shapes: string[] = [];
  let stretch: number[] = [];
  const close = (): void => {
    const up = stretch.flatMap((i) => upper[i] ?? []);
    const down = stretch.flatMap((i) => lower[i] ?? []).reverse();
    if (up.length > 1)
      shapes.push(`M${[...up, ...down].map(({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`);
    stretch = [];
  };
  upper.forEach((point, i) => {
    if (Number.isFinite(point.x) && Number.isFinite(point.y)) stretch.push(i);
    else close();
  });
  close();
  return shapes.join('');
}

interface Scales {
  readonly low: number;
  readonly high: number;
  readonly top: number;
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

function gridLines(
  { low, high, top, x, y }: Scales,
  units: { readonly x: string; readonly y: string },
): readonly string[] {
  const across = steps(low, high).map(
    (value) =>
      `<path class="grid" d="M${x(value).toFixed(1)} ${TOP}V${HEIGHT - BOTTOM}"/><text class="tick" x="${x(value).toFixed(1)}" y="${HEIGHT - BOTTOM + 18}" text-anchor="middle">${value}</text>`,
  );
  const up = steps(0, top).map(
    (value) =>
      `<path class="grid" d="M${LEFT} ${y(value).toFixed(1)}H${WIDTH - 12}"/><text class="tick" x="${LEFT - 6}" y="${(y(value) + 4).toFixed(1)}" text-anchor="end">${value}</text>`,
  );
  return [
    ...across,
    ...up,
    `<text class="tick" x="${WIDTH - 12}" y="${HEIGHT - 6}" text-anchor="end">${escaped(units.x)}</text>`,
    `<text class="tick" x="${LEFT - 6}" y="${TOP - 12}" text-anchor="end">${escaped(units.y)}</text>`,
  ];
}

/** About six round values from low to high. */
function steps(low: number, high: number): readonly number[] {
  const raw = (high - low) / 6 || 1;
  const scale = 10 ** Math.floor(Math.log10(raw));
  const step = ([1, 2, 5, 10].find((factor) => factor * scale >= raw) ?? 10) * scale;
  const found: number[] = [];
  for (let value = Math.ceil(low / step) * step; value <= high + 1e-9; value += step)
    found.push(Math.round(value / step) * step);
  return found.map((value) => Number(value.toPrecision(12)));
}

function niceTop(value: number): number {
  const scale = 10 ** Math.floor(Math.log10(value || 1));
  return Math.ceil((value / scale) * 5) * (scale / 5);
}
