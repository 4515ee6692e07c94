import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readDelimited } from './delimited.ts';

const folder = fileURLToPath(new URL('../../../../shared/data/', import.meta.url));
const why = existsSync(folder) ? '' : ' (skipped: the folder ../shared/data with measured data is absent)';

function summary(path: string) {
  const outcome = readDelimited({ bytes: readFileSync(folder + path), file: path, source: '' });
  if (!outcome.ok) return outcome.refusal;
  const { rows, columns, findings } = outcome.value;
  return {
    rows,
    heads: columns.map(({ name, unit }) => (unit ? `${name} in ${unit}` : name)).join(' | '),
    sums: columns.map(({ samples }) => samples.reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : value), 0)),
    missing: columns.map(({ mask }) => mask.reduce((sum, code) => sum + (code === 1 ? 1 : 0), 0)),
    findings: findings.map(({ kind }) => kind),
  };
}

/** Sums by cutting the text at line ends and delimiters: the slow plain way. */
function plainSums(path: string, delimiter: string): number[] {
  const lines = readFileSync(folder + path, 'utf8')
    .trimEnd()
    .split(/\r?\n/)
    .slice(1);
  const sums: number[] = [];
  for (const line of lines) {
    line.split(delimiter).forEach((cell, k) => {
      sums[k] = (sums[k] ?? 0) + (cell === '' || Number.isNaN(Number(cell)) ? 0 : Number(cell));
    });
  }
  return sums;
}

describe.skipIf(why !== '')(`measured files are read as they are${why}`, () => {
  it('a roller log with tabs and units in brackets', () => {
    const path = 'chassis-dyno-turbodiesel/61410007.tsv';
    const found = summary(path);
    expect(found).toMatchObject({
      rows: 2821,
      heads:
        'Time in sec | Dyno_Speed in mph | Dyno_Tractive_Effort in N | Test_Cell_Temp in C | Test_Cell_RH in % | Phase_# | Engine_Speed in rpm | Fuel_Flow_Bench_Modal in g/s | Engine_Coolant_Temp in C | Engine_Oil_Temp in C',
      findings: [],
      sums: plainSums(path, '\t'),
    });
  });
  it('road logs whose channels begin one after the other', () => {
    const files = readdirSync(`${folder}obd-turbo-road`).filter((name) => name.endsWith('.csv'));
    expect(files.length).toBeGreaterThan(0);
    for (const name of files) {
      const path = `obd-turbo-road/${name}`;
      expect(summary(path)).toMatchObject({ findings: [], sums: plainSums(path, ',') });
    }
  });
  it('a station column of text, pressure missing in 935 rows and the temperature row in one', () => {
    const found = summary('hourly-weather/EWR.csv');
    expect(found).toMatchObject({ rows: 8703, findings: [] });
    expect('missing' in found && found.missing).toEqual([0, 0, 0, 0, 0, 1, 1, 1, 935, expect.any(Number), 0, 0]);
  });
  it('full-load tables', () => {
    expect(summary('regulation-vehicles-full-load/engine.csv')).toMatchObject({
      rows: 2804,
      heads: 'veh | n | p | ASM',
      findings: [],
    });
    expect(summary('regulation-vehicles-full-load/vehicle.csv')).toMatchObject({ findings: [] });
  });
});
