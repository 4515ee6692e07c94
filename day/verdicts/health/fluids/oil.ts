import { measured } from '../../../../core/quantities/index.ts';
import type { StopClass } from '../../detector.ts';
import { middle } from '../../scene/series.ts';
import { valuesBetween } from '../../scene/track.ts';
import type { HealthEntry } from '../entries.ts';
import { oilSpec } from '../lines/line-table.ts';
import { type LineSource, type PullLine, pullLine } from '../lines/pull-line.ts';
import { cellValue, type PullCell, recordCells } from '../pull-state.ts';
import { type HealthFinding, type HealthPart, type HealthUnknown, type HealthValue, heldValue } from '../result.ts';
import type { HealthLimits } from '../thresholds.ts';

/** Oil of the day: its pressure at equal engine speed and temperature as a line over all records, and its absolute limits. */
export interface OilHealth extends HealthPart {
  readonly line: PullLine | undefined;
}

/**
 * Oil pressure of every record with one, whatever was done in it: it follows engine speed and oil temperature, not load. Middle values per step
 * of engine speed, so that a spike of the sensor does not count.
 *
 * @source limits: thresholds `oil.…`
 */
export function oilHealth(entries: readonly HealthEntry[], limits: HealthLimits): OilHealth {
  const sources = entries
    .filter(({ tracks }) => tracks.some(({ meaning }) => meaning === 'oil-pressure'))
    .map((entry) => ({ key: entry.id, entry, cells: recordCells(entry) }));
  if (sources.length === 0) {
    return {
      line: undefined,
      findings: [],
      unknown: [{ what: 'oil pressure', entries: [], why: 'missing oil-pressure' }],
    };
  }
  const line = pullLine(oilSpec(limits), sources, { entries, limits });
  const findings = [
    ...(line
      ? line.sources.flatMap((source, i) => fallFinding(line, { i, cells: source.cells, entry: source.entry, limits }))
      : []),
    ...absoluteFindings(sources, limits),
  ];
  const unknown: HealthUnknown[] = line
    ? []
    : [
        {
          what: 'oil pressure over the day',
          entries: sources.map(({ key }) => key),
          why: 'not enough records share engine speeds',
        },
      ];
  return { line, findings, unknown };
}

interface Place {
  readonly i: number;
  readonly cells: readonly PullCell[];
  readonly entry: HealthEntry;
  readonly limits: HealthLimits;
}

function fallFinding({ line, state }: PullLine, { i, cells, entry, limits }: Place): readonly HealthFinding[] {
  const point = line.points[i];
  const share = measured(Math.exp(point.deviation.value) - 1, point.deviation.standardUncertainty);
  const sure = -point.deviation.value > limits['significance'].value * point.deviation.standardUncertainty;
  const name =
    -share.value > limits['oil.stop'].value
      ? 'oil.stop'
      : -share.value > limits['oil.hold'].value
        ? 'oil.hold'
        : 'oil.note';
  if (!sure || !(-share.value > limits[name].value)) return [];
  const offset = stoppedPressure(entry);
  const typical = middle(cells.map((cell) => cellValue(cell, 'oil-pressure')));
  const bySensor = Math.abs(offset) > 0.5 * Math.abs(share.value) * typical;
  const stopClass: StopClass = bySensor ? 1 : name === 'oil.stop' ? 3 : name === 'oil.hold' ? 2 : 0;
  return [
    {
      ...{ kind: 'oil-pressure-fall', subject: 'loads', stopClass, entry: entry.id, changed: point.changed },
      rests: [entry.id, ...line.points.slice(0, line.baseline).map((one) => one.entry)],
      values: [
        heldValue('oil pressure over that at equal speed and temperature, less 1', share, limits[name]),
        ...state.slopes.map(
          (slope): HealthValue =>
            heldValue('allowed for, per kelvin', slope, { kind: 'ratio', source: limits['oil.per-kelvin'].source }),
        ),
        ...(Number.isFinite(offset)
          ? [
              heldValue('reading with the engine stopped', measured(offset, 1e3), {
                kind: 'gauge-pressure',
                source: 'measured',
              }),
            ]
          : []),
      ],
      why: bySensor
        ? 'the channel reads so much with the engine stopped that the sensor may be the whole cause'
        : 'lower at equal engine speed and oil temperature: oil level, pick-up, bearing clearance, relief valve or the sensor',
    },
  ];
}

/** Reading with the engine stopped [Pa]; NaN when no record shows it stopped for a second. */
function stoppedPressure({ tracks }: HealthEntry): number {
  const speed = tracks.find(({ meaning }) => meaning === 'engine-speed');
  const pressure = tracks.find(({ meaning }) => meaning === 'oil-pressure');
  if (!speed || !pressure) return Number.NaN;
  const still = speed.times.filter((_, i) => speed.raw[i] < 5);
  const [from, to] = [still[0], still[still.length - 1]];
  const whole =
    to - from > 2 &&
    speed.raw.filter((raw, i) => speed.times[i] >= from && speed.times[i] <= to && raw >= 5).length === 0;
  return whole ? middle(valuesBetween(pressure, from + 1.5, to)) : Number.NaN;
}

/** Engine speeds [rad/s]: below, idle; between, neither. @source our default: 1150 and 1430 rpm */
const IDLE = 120;
const DRIVEN = 150;
const PER_1000 = (1000 * Math.PI) / 30;

/** Above this share of a record's highest pressure the relief valve holds it: it then says nothing of pressure per engine speed. @source our default */
const RELIEVED = 0.85;
/** Lower by this than at its first mention it is mentioned again [1]. @source our default */
const FURTHER = 0.1;

/** Lowest pressure per 1000 rpm of a hot record that two steps of engine speed agree on [Pa], below the relief valve; NaN without. */
function perThousand(cells: readonly PullCell[], limits: HealthLimits): number {
  const top = Math.max(...cells.map((cell) => cellValue(cell, 'oil-pressure')).filter(Number.isFinite));
  const low = cells
    .filter((cell) => cell.speed > DRIVEN && cellValue(cell, 'oil-temperature') >= limits['oil.hot'].value)
    .filter((cell) => cellValue(cell, 'oil-pressure') < RELIEVED * top)
    .map((cell) => cellValue(cell, 'oil-pressure') / (cell.speed / PER_1000))
    .sort((a, b) => a - b);
  return low[1] ?? Number.NaN;
}

/**
 * Limits that need no reference: pressure per engine speed, hot idle, temperature. Each is mentioned where it first shows and again where it is
 * further gone. An engine that has always been low by the rule of thumb is asked about once; it is judged by its change.
 */
function absoluteFindings(sources: readonly LineSource[], limits: HealthLimits): readonly HealthFinding[] {
  const found: HealthFinding[] = [];
  const lowest = new Map<string, number>();
  const say = (
    entry: HealthEntry,
    kind: HealthFinding['kind'],
    [stopClass, value]: readonly [StopClass, HealthValue],
  ): void => {
    const before = lowest.get(value.name) ?? Number.POSITIVE_INFINITY;
    if (kind === 'oil-pressure-low' && !(value.value.value < (1 - FURTHER) * before)) return;
    lowest.set(value.name, value.value.value);
    found.push({
      kind,
      subject: 'loads',
      stopClass,
      entry: entry.id,
      rests: [entry.id],
      values: [value],
      changed: [],
      why: value.name,
    });
  };
  for (const { entry, cells } of sources) {
    const second = perThousand(cells, limits);
    const [stop, low] = [limits['oil.per-1000-stop'], limits['oil.per-1000-low']];
    const first = !lowest.has('oil pressure per 1000 rpm, hot');
    if (second < low.value) {
      const [held, stopClass] =
        second < stop.value ? ([stop, first ? 2 : 3] as const) : ([low, first ? 0 : 1] as const);
      say(entry, 'oil-pressure-low', [
        stopClass,
        heldValue('oil pressure per 1000 rpm, hot', measured(second, 0.02 * second), held),
      ]);
    }
    const hot = cells.filter((cell) => cellValue(cell, 'oil-temperature') >= limits['oil.hot'].value);
    const idle = middle(hot.filter(({ speed }) => speed <= IDLE).map((cell) => cellValue(cell, 'oil-pressure')));
    if (idle < limits['oil.hot-idle'].value) {
      say(entry, 'oil-pressure-low', [
        1,
        heldValue('oil pressure at hot idle', measured(idle, 0.03 * idle), limits['oil.hot-idle']),
      ]);
    }
    const warmest = Math.max(...cells.map((cell) => cellValue(cell, 'oil-temperature')).filter(Number.isFinite));
    const far = warmest > limits['oil.far-too-hot'].value;
    if (warmest > limits['oil.too-hot'].value) {
      const held = limits[far ? 'oil.far-too-hot' : 'oil.too-hot'];
      say(entry, 'oil-too-hot', [far ? 2 : 1, heldValue('oil temperature', measured(warmest, 1), held)]);
    }
  }
  return found;
}
