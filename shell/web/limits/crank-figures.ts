import type { CrankLimit, CrankView } from '../../contract/index.ts';
import type { PlotLevel, PlotMark, PlotSpec } from '../drawing/plot-spec.ts';
import { twice, type Writing } from '../look/writing.ts';
import { loadUnit } from './load-units.ts';

const PRESSURE = 'cylinder-pressure';
const X_LABEL = 'crank angle, °CA: 0 is firing top dead centre, 360 is overlap';
/** Drawn from bottom dead centre to bottom dead centre, so that neither top dead centre stands at an edge. */
const RANGE = { from: -180, to: 540 };
const STEPS = [30, 90, 180];

/** Cylinder pressure over the cycle, its highest place, and what it must stay below. */
export function pressureFigure(view: CrankView, writing: Writing): PlotSpec {
  const unit = loadUnit(PRESSURE, writing);
  const limits = view.limits.filter(({ kind }) => kind === PRESSURE);
  const [peak] = limits.filter(({ required, angle }) => required !== null && angle !== null);
  return {
    label: 'Cylinder pressure over crank angle, with its highest place and its limits',
    xLabel: X_LABEL,
    yLabel: `cylinder pressure, ${unit.symbol}`,
    ...overCycle(view, [{ label: 'cylinder pressure', look: 1, values: view.pressure }], unit.plain),
    marks: peak ? [markOf(peak, writing)] : peakOf(view, writing),
    levels: limits.flatMap((limit) => levelOf(limit, writing)),
  };
}

/** Gas, inertia and what comes of both along the rod, with the worst pressure and pull of the rod and what it may carry. */
export function forceFigure(view: CrankView, writing: Writing): PlotSpec {
  const unit = loadUnit('force', writing);
  const limits = view.limits.filter(({ kind }) => kind === 'force');
  return {
    label: 'Forces on piston and rod over crank angle, with the worst places and the limits of the rod',
    xLabel: X_LABEL,
    yLabel: `force, ${unit.symbol}`,
    ...overCycle(
      view,
      [
        { label: 'along the rod, pressing positive', look: 1, values: view.rod },
        { label: 'gas on the piston', look: 2, values: view.gas },
        { label: 'inertia of piston and rod', look: 3, values: view.inertia },
      ],
      unit.plain,
    ),
    marks: limits.flatMap((limit) => (limit.required === null ? [] : [markOf(limit, writing)])),
    levels: limits.flatMap((limit) => levelOf(limit, writing)),
  };
}

interface CycleLine {
  readonly label: string;
  readonly look: number;
  readonly values: readonly (number | null)[];
}

type Drawn = Pick<PlotSpec, 'lines' | 'hatches' | 'range' | 'xSteps' | 'height'>;

function overCycle(
  { angle }: CrankView,
  lines: readonly CycleLine[],
  plain: (value: number | null) => number | null,
): Drawn {
  const degrees = angle.map((one) => (one === null ? null : inCycle((one * 180) / Math.PI)));
  const first = degrees.findIndex((one, at) => at > 0 && one !== null && one < (degrees[at - 1] ?? Number.NaN));
  const turned = <Value>(values: readonly Value[]): readonly Value[] =>
    first < 0 ? values : [...values.slice(first), ...values.slice(0, first)];
  const x = turned(degrees);
  return {
    lines: lines.map(({ label, look, values }) => ({ label, look, x, y: turned(values).map(plain) })),
    hatches: [],
    range: RANGE,
    xSteps: STEPS,
    height: 'tall',
  };
}

/** An angle between −180 and 540 °CA; to a thousandth, so that rounding makes no second border. */
export function inCycle(degrees: number): number {
  const turned = Math.round(((((degrees + 180) % 720) + 720) % 720) * 1000) / 1000;
  return (turned === 720 ? 0 : turned) - 180;
}

function markOf(limit: CrankLimit, writing: Writing): PlotMark {
  const { angle, required, requiredUncertainty, kind, sign, name } = limit;
  const unit = loadUnit(kind, writing);
  const y = sign * (unit.plain(required) ?? Number.NaN);
  const spread = twice(requiredUncertainty);
  const upper = spread === null ? null : unit.plain((required ?? 0) + spread);
  const degrees = inCycle(((angle ?? 0) * 180) / Math.PI);
  const what = name === 'rod tension' ? 'pull with the throttle shut' : 'highest';
  return {
    ...{ x: degrees, y, look: sign === 1 ? 1 : 4, sign: sign === 1 ? 'disc' : 'wedge' },
    label: `${what} ${unit.text(required)}`,
    below: sign === -1,
    ...(upper !== null && { spreadY: Math.abs(upper - Math.abs(y)) }),
  };
}

/** The highest sample where no limit knows better. */
function peakOf({ pressure, angle }: CrankView, writing: Writing): readonly PlotMark[] {
  const unit = loadUnit(PRESSURE, writing);
  let best = -1;
  pressure.forEach((value, at) => {
    if (value !== null && (best < 0 || value > (pressure[best] ?? 0))) best = at;
  });
  const [y, x] = [unit.plain(pressure[best]), angle[best]];
  if (y === null || x === null || x === undefined) return [];
  const degrees = inCycle((x * 180) / Math.PI);
  return [{ x: degrees, y, look: 1, sign: 'disc', label: `highest ${unit.text(pressure[best])}` }];
}

const LEVEL_WORDS: Readonly<Record<string, string>> = {
  'peak pressure': 'stated limit',
  'head clamp': 'head lifts',
  'rod compression': 'rod may carry, pressed',
  'rod tension': 'rod may carry, pulled',
};

function levelOf(limit: CrankLimit, writing: Writing): readonly PlotLevel[] {
  const { name, title, kind, sign, available, availableUncertainty } = limit;
  const unit = loadUnit(kind, writing);
  const y = unit.plain(available);
  if (y === null) return [];
  const upper = unit.plain((available ?? 0) + (twice(availableUncertainty) ?? 0));
  const spread = upper === null ? 0 : upper - y;
  return [
    { y: sign * y, label: `${LEVEL_WORDS[name] ?? title}: ${unit.text(available)}`, ...(spread > 0 && { spread }) },
  ];
}
