import type { ColumnReading, FileReading } from '../../desk/index.ts';

/** An invented reading for tests: a recognised column, a question, a worked-on power, and one that nothing spoke for. */
export function smallReading(file: string, bytes: number): FileReading {
  return {
    source: `sha-${file}`,
    file,
    bytes,
    table: {
      format: {
        kind: 'delimited',
        dialect: {
          encoding: 'utf-8',
          byteOrderMark: false,
          delimiter: ';',
          decimal: ',',
          thousands: '',
          headerLine: 3,
          unitLine: 4,
          firstLine: 5,
          quote: '',
        },
      },
      rows: 1600,
      preamble: ['invented log'],
      findings: [],
    },
    columns: columns(),
    columnSet: `set-${file}`,
    remembered: false,
    findings: [
      {
        kind: 'missing-cells',
        weight: 'note',
        message: '9 of 1600 cells of P_in are empty',
        place: { file, channel: 'P_in' },
      },
    ],
  };
}

function columns(): readonly ColumnReading[] {
  const sketch = Array.from({ length: 120 }, (_, at) => (at > 60 && at < 70 ? Number.NaN : Math.min(200, 40 + at * 2)));
  const column = (name: string, unit: string, proposal: Partial<FileReading['columns'][number]['proposal']>) => ({
    name,
    unit,
    low: 40,
    high: 200,
    missing: 9,
    sketch,
    proposal: {
      column: name,
      meaning: 'unknown',
      unit: '1',
      origin: 'measured',
      confidence: 0.2,
      reason: 'nothing spoke for a meaning',
      alternatives: [],
      ...proposal,
    } as const,
  });
  const boost = { meaning: 'boost-pressure', unit: 'kPa', confidence: 0.38, reason: 'range fits' } as const;
  return [
    column('time', 's', {
      meaning: 'time',
      unit: 's',
      confidence: 0.99,
      reason: 'name and unit; rises evenly by 10 ms',
    }),
    column('n_mot', 'rpm', { meaning: 'engine-speed', unit: 'rpm', confidence: 0.96, reason: 'name and unit' }),
    column('P_in', '', {
      meaning: 'manifold-pressure',
      unit: 'kPa',
      confidence: 0.41,
      reason: 'range fits, name does not',
      alternatives: [boost],
      question: 'Is P_in measured before or after the throttle?',
    }),
    column('P_eng', 'kW', {
      meaning: 'stated-power',
      unit: 'kW',
      origin: 'corrected',
      confidence: 0.9,
      reason: 'smooth beyond its sample rate: worked on before, never used as a measurement',
    }),
    column('x17', '', {}),
  ];
}
