import type { LimitPictures, MapPointsView } from '../../contract/index.ts';
import type { PlotMark, PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/writing.ts';

type Pulls = MapPointsView['pulls'];

interface MapPicture extends Pick<LimitPictures, 'compressor'> {
  readonly pulls: Pulls;
}

/** The map as lines over corrected flow, the engine's own line strongest, and where the pulls of the day stood. */
export function compressorFigure({ compressor, pulls }: MapPicture, writing: Writing): PlotSpec {
  const { lines, surge, choke, operating } = compressor;
  const flow = (values: readonly (number | null)[]) => values.map((value) => writing.plain(value, 'mass-flow'));
  return {
    label:
      'Compressor map: pressure ratio over corrected flow, with the line on which the engine runs and the pulls of the day',
    xLabel: `corrected flow, ${writing.symbol('mass-flow')}`,
    yLabel: 'pressure ratio',
    lines: [
      ...lines.map(({ speed, flow: x, pressureRatio }) => {
        const tag = writing.text(speed, 'turbo-speed', { decimals: 0 });
        return { label: `speed line of ${tag}`, tag, x: flow(x), y: pressureRatio, look: 6, faint: true };
      }),
      { label: 'surge line', x: flow(surge.flow), y: surge.pressureRatio, look: 2 },
      { label: 'choke', x: flow(choke.flow), y: choke.pressureRatio, look: 4 },
      { label: 'this step, over engine speed', x: flow(operating.flow), y: operating.pressureRatio, look: 1 },
    ],
    marks: [
      ...pressureGroups(pulls).flatMap(({ members, sign, look }) =>
        members.flatMap((pull) => pullMarks(pull, { sign, look }, writing)),
      ),
      ...endMarks(operating, writing),
    ],
    hatches: [],
    height: 'tall',
    floor: 1,
  };
}

/** Engine speed at both ends of the line on which the engine runs. */
function endMarks(
  { flow, pressureRatio, speed }: LimitPictures['compressor']['operating'],
  writing: Writing,
): readonly PlotMark[] {
  const known = flow.flatMap((value, at) => {
    const [x, y, omega] = [writing.plain(value, 'mass-flow'), pressureRatio[at], speed[at]];
    return x === null || y === null || y === undefined || omega === undefined ? [] : [{ x, y, omega }];
  });
  const [first, last] = [known[0], known.at(-1)];
  return [first, last].flatMap((end, at) =>
    end && (at === 0 || end !== first)
      ? [{ x: end.x, y: end.y, sign: 'disc', look: 1, label: writing.text(end.omega, 'engine-speed'), left: at === 0 }]
      : [],
  );
}

function pullMarks(pull: Pulls[number], group: Pick<PlotMark, 'sign' | 'look'>, writing: Writing): readonly PlotMark[] {
  const { flow, flowUncertainty, pressureRatio, pressureRatioUncertainty } = pull;
  return flow.flatMap((value, at) => {
    const [x, y] = [writing.plain(value, 'mass-flow'), pressureRatio[at]];
    if (x === null || y === null || y === undefined || value === null) return [];
    const right = writing.plain(value + 2 * (flowUncertainty[at] ?? 0), 'mass-flow') ?? x;
    return [{ ...group, x, y, spreadX: right - x, spreadY: 2 * (pressureRatioUncertainty[at] ?? 0) }];
  });
}

/** Pulls driven at about the same manifold pressure [Pa]. */
export interface PressureGroup extends Pick<PlotMark, 'sign' | 'look'> {
  readonly low: number;
  readonly high: number;
  readonly count: number;
  readonly members: Pulls;
}

const GROUP_SIGNS: readonly Pick<PlotMark, 'sign' | 'look'>[] = [
  { sign: 'ring', look: 3 },
  { sign: 'square', look: 4 },
  { sign: 'wedge', look: 5 },
  { sign: 'diamond', look: 6 },
];

/** At most four groups of neighbouring pressures, parted at the widest gaps; a gap of less than 4 % parts nothing. @source our default */
export function pressureGroups(pulls: Pulls): readonly PressureGroup[] {
  const placed = pulls
    .map((pull) => ({ pull, pressure: middleOf(pull.manifoldPressure) }))
    .filter(({ pressure }) => Number.isFinite(pressure))
    .sort((one, other) => one.pressure - other.pressure);
  const gaps = placed
    .slice(1)
    .map(({ pressure }, at) => ({ at: at + 1, gap: pressure / (placed[at]?.pressure ?? 1) - 1 }));
  const cuts = gaps
    .filter(({ gap }) => gap >= 0.04)
    .sort((one, other) => other.gap - one.gap)
    .slice(0, GROUP_SIGNS.length - 1)
    .map(({ at }) => at)
    .sort((one, other) => one - other);
  const bounds = [0, ...cuts, placed.length];
  return GROUP_SIGNS.flatMap((group, k) => {
    const members = placed.slice(bounds[k], bounds[k + 1]);
    const [first, last] = [members[0], members.at(-1)];
    if (bounds[k + 1] === undefined || !first || !last) return [];
    const all = members.map(({ pull }) => pull);
    return [{ ...group, low: first.pressure, high: last.pressure, count: all.length, members: all }];
  });
}

function middleOf(values: readonly (number | null)[]): number {
  const known = values.filter((value): value is number => value !== null).sort((one, other) => one - other);
  return known[known.length >> 1] ?? Number.NaN;
}

/** What the charge cooler still holds, with the band of its time constant. */
export function soakFigure({ time, rise, low, high }: LimitPictures['soak'], writing: Writing): PlotSpec {
  const minutes = time.map((one) => (one === null ? null : one / 60));
  const shown = (values: readonly (number | null)[]) =>
    values.map((value) => writing.plain(value, 'temperature-difference'));
  return {
    label: 'Warmth of the charge cooler after a pull',
    xLabel: 'time after the pull, min',
    yLabel: `above air, ${writing.symbol('temperature-difference')}`,
    lines: [
      { label: 'charge cooler', x: minutes, y: shown(rise), look: 1 },
      { label: 'quicker', x: minutes, y: shown(low), look: 1, faint: true },
      { label: 'slower', x: minutes, y: shown(high), look: 1, faint: true },
    ],
    hatches: [],
    height: 'middle',
    ...(rise.every((one) => one === null || one >= 0) && { floor: 0 }),
  };
}
