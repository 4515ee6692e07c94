import { type CompressorMap, compressorMap, type GasState, MAP_REFERENCES } from '../../../core/physics/index.ts';
import {
  absolutePressure,
  answered,
  type Finding,
  type Outcome,
  parseQuantity,
  refused,
  temperature,
} from '../../../core/quantities/index.ts';
import type { Column, Table } from '../../channels/index.ts';

type Role = 'speed' | 'flow' | 'pressureRatio' | 'efficiency';

/** Words by which a column is known, and the unit that is taken when none is written. The first role that fits wins. */
const ROLES: readonly { readonly role: Role; readonly words: RegExp; readonly units: readonly string[] }[] = [
  { role: 'efficiency', words: /eff|eta|η|wirkungsgrad|rendement/i, units: ['%'] },
  { role: 'pressureRatio', words: /ratio|\bpr\b|^π$|^pi$|p2.?\/?p1|druckverh|rapport/i, units: [] },
  {
    role: 'flow',
    words: /flow|mass|massen|durchsatz|d[ée]bit|volume|kg\/s|lb\/min|m³\/s|g\/s/i,
    units: ['kg/s', 'g/s', 'lb/min', 'm³/s'],
  },
  { role: 'speed', words: /speed|rpm|drehzahl|r[ée]gime|vitesse|rev/i, units: ['krpm', 'rpm', 'rad/s'] },
];

/**
 * A compressor map from a table with columns for speed, flow, pressure ratio and efficiency, in any order and with header words.
 *
 * Units come from the header or a unit row; a unit inside the name (`flow kg/s`, `krpm`) counts. Reference state: 298.15 K and
 * 100 kPa unless a line before the header gives a temperature and a pressure.
 */
export function mapOfTable(table: Table, stated?: GasState): Outcome<CompressorMap> {
  const found = new Map<Role, Column>();
  for (const column of table.columns) {
    const role =
      ROLES.find(({ role: one, words }) => !found.has(one) && words.test(column.name))?.role ?? roleOfUnit(column);
    if (role && !found.has(role)) found.set(role, column);
  }
  const [speed, flow, ratio] = [found.get('speed'), found.get('flow'), found.get('pressureRatio')];
  if (!speed || !flow || !ratio) {
    const lacking = (['speed', 'flow', 'pressureRatio'] as const).filter((role) => !found.has(role));
    const names = table.columns.map(({ name }) => name).join(', ');
    const words = lacking.map((role) => (role === 'pressureRatio' ? 'pressure ratio' : role)).join(', ');
    return refused({
      kind: 'map-column-missing',
      message: `missing column: ${words}; the header has: ${names}`,
      place: { file: table.file },
    });
  }
  const unreadable = [...found.values()].find(({ writing }) => writing !== 'number');
  if (unreadable) {
    return refused({
      kind: 'map-column-unreadable',
      message: `invalid column: ${unreadable.name}, expected numbers`,
      place: { file: table.file, channel: unreadable.name },
    });
  }
  const inNotes = referenceOf(table.preamble);
  const reference = stated ?? inNotes ?? MAP_REFERENCES['298K-100kPa'];
  const efficiency = found.get('efficiency');
  const made = compressorMap({
    reference,
    columns: {
      speed: { values: speed.samples, unit: speedUnit(speed) },
      flow: { values: flow.samples, unit: unitIn(flow, 'flow') || 'kg/s' },
      pressureRatio: { values: ratio.samples, unit: '' },
      ...(efficiency ? { efficiency: { values: efficiency.samples, unit: efficiencyUnit(efficiency) } } : {}),
    },
  });
  if (!made.ok) return refused({ ...made.refusal, place: { ...made.refusal.place, file: table.file } });
  return answered(made.value, [...made.findings, ...(stated || inNotes ? [] : [assumedReference(table)])]);
}

/** A column that only its unit tells. */
function roleOfUnit({ unit }: Column): Role | undefined {
  return ROLES.find(({ units }) => units.includes(unit.trim()))?.role;
}

function unitIn({ name, unit }: Column, role: Role): string {
  if (unit.trim() !== '') return unit.trim();
  const units = ROLES.find((one) => one.role === role)?.units ?? [];
  return units.find((one) => name.toLowerCase().includes(one.toLowerCase())) ?? '';
}

/** Speed without a unit: in thousands of revolutions per minute where its numbers are too small for anything else. */
function speedUnit(column: Column): string {
  const written = unitIn(column, 'speed');
  if (written !== '') return written;
  return largest(column.samples) < 1000 ? 'krpm' : 'rpm';
}

function efficiencyUnit(column: Column): string {
  if (column.unit.trim() !== '') return column.unit.trim() === '1' ? '' : column.unit.trim();
  return largest(column.samples) > 1 ? '%' : '';
}

const largest = (values: Float64Array): number => Math.max(0, ...values.filter(Number.isFinite));

/** Temperature and pressure in the lines before the header: `reference 298.15 K, 100 kPa`. */
function referenceOf(preamble: readonly string[]): GasState | undefined {
  const text = preamble.join(' ');
  const T = /(-?\d+(?:\.\d+)?)\s*(K|°C|°F)(?![A-Za-z])/.exec(text);
  const p = /(\d+(?:\.\d+)?)\s*(kPa|hPa|mbar|bar|inHg|psi)\b/.exec(text);
  if (!T || !p) return undefined;
  const kelvin = parseQuantity(`${T[1]} ${T[2]}`, 'temperature');
  const pascal = parseQuantity(`${p[1]} ${p[2]}`, 'absolute-pressure');
  if (!kelvin.ok || !pascal.ok) return undefined;
  return { temperature: temperature(kelvin.value.value), pressure: absolutePressure(pascal.value.value) };
}

function assumedReference({ file }: Table): Finding {
  return {
    kind: 'map-reference-assumed',
    weight: 'doubt',
    message: 'missing reference state of the compressor map: 298.15 K and 100 kPa are taken',
    place: { file },
    rule: 'our default',
  };
}
