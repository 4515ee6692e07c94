import type { CompressorMap } from '../../../../core/physics/index.ts';
import { readDelimited } from '../../../channels/index.ts';
import { mapOfTable } from '../map-of-table.ts';

/** Corrected speed [krpm], then corrected flow [kg/s], pressure ratio and efficiency from surge to choke. Invented. */
const ROWS: readonly (readonly [number, ...(readonly string[])])[] = [
  [60, '.060 1.46 .597', '.090 1.46 .704', '.120 1.44 .758', '.150 1.40 .758', '.180 1.33 .704', '.203 1.25 .629'],
  [75, '.082 1.78 .597', '.117 1.77 .704', '.152 1.75 .758', '.188 1.68 .758', '.223 1.55 .704', '.249 1.40 .629'],
  [90, '.106 2.23 .597', '.146 2.22 .704', '.185 2.18 .758', '.224 2.06 .758', '.264 1.85 .704', '.293 1.62 .629'],
  [105, '.133 2.86 .592', '.176 2.85 .699', '.219 2.78 .752', '.261 2.59 .752', '.304 2.25 .699', '.336 1.89 .623'],
  [120, '.163 3.73 .580', '.208 3.72 .684', '.253 3.61 .737', '.298 3.31 .737', '.343 2.79 .684', '.376 2.25 .611'],
  [132, '.189 4.67 .567', '.235 4.65 .669', '.281 4.49 .721', '.327 4.07 .721', '.373 3.34 .669', '.408 2.61 .598'],
];

/** The demonstration engine's compressor map as a file of the day. */
export const MAP_TEXT = [
  '# invented compressor; reference 298 K, 100 kPa',
  'krpm,corrected flow kg/s,pressure ratio,efficiency',
  ...ROWS.flatMap(([krpm, ...cells]) => cells.map((cell) => `${krpm},${cell.split(' ').join(',')}`)),
].join('\n');

export function tableOf(text: string) {
  const table = readDelimited({
    bytes: new TextEncoder().encode(text),
    file: 'compressor-map.csv',
    source: 'compressor-map.csv',
  });
  if (!table.ok) throw new Error(table.refusal.message);
  return table.value;
}

export function inventedMap(): CompressorMap {
  const map = mapOfTable(tableOf(MAP_TEXT));
  if (!map.ok) throw new Error(map.refusal.message);
  return map.value;
}
