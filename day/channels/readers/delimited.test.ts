import { describe, expect, it } from 'vitest';
import type { Column, Dialect, Table } from '../table.ts';
import { readDelimited } from './delimited.ts';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
const utf16 = (text: string, bigEndian = false): Uint8Array =>
  Uint8Array.from(
    [...text].flatMap((letter) => {
      const unit = letter.charCodeAt(0);
      return bigEndian ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8];
    }),
  );

function read(bytes: Uint8Array, dialect?: Partial<Dialect>): Table {
  const outcome = readDelimited({ bytes, file: 'log', source: 'hash', ...(dialect ? { dialect } : {}) });
  if (!outcome.ok) throw new Error(`refused: ${outcome.refusal.message}`);
  return outcome.value;
}

const heads = (table: Table): string =>
  table.columns.map(({ name, unit }) => (unit ? `${name} in ${unit}` : name)).join(' | ');
const rowsOf = (table: Table): number[][] =>
  Array.from({ length: table.rows }, (_, r) => table.columns.map((c: Column) => c.samples[r]));
const kinds = (table: Table): string[] => table.findings.map(({ kind }) => kind);
const _ = Number.NaN;

describe('a delimited text is read for what it is', () => {
  const cases: readonly {
    readonly name: string;
    readonly text: string | Uint8Array;
    readonly heads: string;
    readonly rows: readonly (readonly number[])[];
    readonly dialect?: Partial<Dialect>;
    readonly findings?: readonly string[];
  }[] = [
    {
      name: 'comma and point',
      text: 'time,speed\n0.0,10.5\n0.1,11\n',
      heads: 'time | speed',
      rows: [
        [0, 10.5],
        [0.1, 11],
      ],
      dialect: { delimiter: ',', decimal: '.', headerLine: 1, unitLine: 0, firstLine: 2 },
    },
    {
      name: 'semicolon and decimal comma',
      text: 'Zeit;Drehzahl\n0,0;1000,5\n0,1;-1,5\n',
      heads: 'Zeit | Drehzahl',
      rows: [
        [0, 1000.5],
        [0.1, -1.5],
      ],
      dialect: { delimiter: ';', decimal: ',' },
    },
    {
      name: 'tab',
      text: 'time\tspeed\n0.5\t10\n1.5\t11\n',
      heads: 'time | speed',
      rows: [
        [0.5, 10],
        [1.5, 11],
      ],
      dialect: { delimiter: '\t' },
    },
    {
      name: 'bar',
      text: 'time|speed\n0.5|10\n1.5|11\n',
      heads: 'time | speed',
      rows: [
        [0.5, 10],
        [1.5, 11],
      ],
      dialect: { delimiter: '|' },
    },
    {
      name: 'spaces, any number of them',
      text: '  time   speed\n   0.5    10\n   1.5    11  \n',
      heads: 'time | speed',
      rows: [
        [0.5, 10],
        [1.5, 11],
      ],
      dialect: { delimiter: ' ' },
    },
    {
      name: 'tab and decimal comma',
      text: 'a\tb\n0,5\t10,25\n1,5\t11,75\n',
      heads: 'a | b',
      rows: [
        [0.5, 10.25],
        [1.5, 11.75],
      ],
      dialect: { delimiter: '\t', decimal: ',' },
    },
    {
      name: 'thousands points',
      text: 'a;b\n1.234,5;0,5\n12.345.678,25;1,5\n',
      heads: 'a | b',
      rows: [
        [1234.5, 0.5],
        [12345678.25, 1.5],
      ],
      dialect: { decimal: ',', thousands: '.' },
    },
    {
      name: 'thousands commas in quotes',
      text: 'a,b\n"1,234.5",0.5\n"12,345,678.25",1.5\n',
      heads: 'a | b',
      rows: [
        [1234.5, 0.5],
        [12345678.25, 1.5],
      ],
      dialect: { decimal: '.', thousands: ',', quote: '"' },
    },
    {
      name: 'thousands spaces, narrow and no-break too',
      text: 'a;b\n1 234,5;0,5\n12\u00A0345,25;1\u202F000,5\n',
      heads: 'a | b',
      rows: [
        [1234.5, 0.5],
        [12345.25, 1000.5],
      ],
      dialect: { decimal: ',', thousands: ' ' },
    },
    {
      name: 'thousands apostrophes',
      text: "a;b\n1'234.5;0.5\n12'345;1.5\n",
      heads: 'a | b',
      rows: [
        [1234.5, 0.5],
        [12345, 1.5],
      ],
      dialect: { thousands: "'" },
    },
    {
      name: 'carriage return and line feed',
      text: 'a,b\r\n1.5,2\r\n3,4\r\n',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
    },
    {
      name: 'carriage return alone',
      text: 'a,b\r1.5,2\r3,4\r',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
    },
    {
      name: 'UTF-8 with mark',
      text: new Uint8Array([0xef, 0xbb, 0xbf, ...utf8('T [°C],b\n1.5,2\n3,4\n')]),
      heads: 'T in °C | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { encoding: 'utf-8', byteOrderMark: true },
    },
    {
      name: 'UTF-16 little-endian with mark',
      text: new Uint8Array([0xff, 0xfe, ...utf16('T [°C];b\n1,5;2\n3;4\n')]),
      heads: 'T in °C | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { encoding: 'utf-16le', byteOrderMark: true },
    },
    {
      name: 'UTF-16 big-endian with mark',
      text: new Uint8Array([0xfe, 0xff, ...utf16('T [°C];b\n1,5;2\n3;4\n', true)]),
      heads: 'T in °C | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { encoding: 'utf-16be', byteOrderMark: true },
    },
    {
      name: 'UTF-16 little-endian without mark',
      text: utf16('time;b\n1,5;2\n3;4\n'),
      heads: 'time | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { encoding: 'utf-16le', byteOrderMark: false },
    },
    {
      name: 'UTF-16 big-endian without mark',
      text: utf16('time;b\n1,5;2\n3;4\n', true),
      heads: 'time | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { encoding: 'utf-16be' },
    },
    {
      name: 'Latin-1, as a suggestion',
      text: latin1('T [\xB0C];b\n1,5;2\n3;4\n'),
      heads: 'T in °C | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { encoding: 'latin-1' },
      findings: ['encoding-assumed'],
    },
    {
      name: 'units in a row of their own',
      text: 'time;speed;force\ns;km/h;N\n0,1;100,5;2000\n0,2;101;2001\n',
      heads: 'time in s | speed in km/h | force in N',
      rows: [
        [0.1, 100.5, 2000],
        [0.2, 101, 2001],
      ],
      dialect: { headerLine: 1, unitLine: 2, firstLine: 3 },
    },
    {
      name: 'units in a row, in brackets, with one blank',
      text: 'time,gear,T\n[s],[-],[°C]\n0.1,1,20\n0.2,2,21\n',
      heads: 'time in s | gear in - | T in °C',
      rows: [
        [0.1, 1, 20],
        [0.2, 2, 21],
      ],
    },
    {
      name: 'units in the header',
      text: 'Time (s),Speed [km/h],Oil (front),Bank [bank 1]\n0.1,2,3,4\n0.2,3,4,5\n',
      heads: 'Time in s | Speed in km/h | Oil (front) | Bank [bank 1]',
      rows: [
        [0.1, 2, 3, 4],
        [0.2, 3, 4, 5],
      ],
    },
    {
      name: 'units of which most are 1',
      text: 'time,lambda,gear\ns,1,1\n0.1,0.9,3\n0.2,0.8,3\n0.3,0.8,3\n',
      heads: 'time in s | lambda in 1 | gear in 1',
      rows: [
        [0.1, 0.9, 3],
        [0.2, 0.8, 3],
        [0.3, 0.8, 3],
      ],
    },
    {
      name: 'a first row whose text is a unit by chance',
      text: 'time,lambda,state\n1,1,N\n2,0.9,D\n3,0.8,D\n',
      heads: 'time | lambda | state',
      rows: [
        [1, 1, Number.NaN],
        [2, 0.9, Number.NaN],
        [3, 0.8, Number.NaN],
      ],
    },
    {
      name: 'a preamble',
      text: 'Test day;7\nDate;2031-05-02\n\nVehicle;yellow one\nMass;1450\ntime;rpm;N\n0,1;1000;1\n0,2;1100;2\n0,3;1200;3\n',
      heads: 'time | rpm | N',
      rows: [
        [0.1, 1000, 1],
        [0.2, 1100, 2],
        [0.3, 1200, 3],
      ],
      dialect: { headerLine: 6, firstLine: 7 },
    },
    {
      name: 'no header at all',
      text: '0.1,2\n0.2,3\n0.3,4\n',
      heads: 'column 1 | column 2',
      rows: [
        [0.1, 2],
        [0.2, 3],
        [0.3, 4],
      ],
      dialect: { headerLine: 0, firstLine: 1 },
    },
    {
      name: 'numbers as names',
      text: 'time,1,2,3\n0.1,5,6,7\n0.2,5,6,7\n0.3,5,6,7\n',
      heads: 'time | 1 | 2 | 3',
      rows: [
        [0.1, 5, 6, 7],
        [0.2, 5, 6, 7],
        [0.3, 5, 6, 7],
      ],
    },
    {
      name: 'quoted names with delimiter and line break',
      text: '"Speed, roll","Force\nfront"\n1.5,2\n3,4\n',
      heads: 'Speed, roll | Force front',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      dialect: { firstLine: 3 },
    },
    {
      name: 'a delimiter at the end of every line',
      text: 'a;b;\n1,5;2;\n3;4;\n',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      findings: [],
    },
    {
      name: 'repeated names',
      text: 'T,T,T\n1.5,2,3\n3,4,5\n',
      heads: 'T | T (2) | T (3)',
      rows: [
        [1.5, 2, 3],
        [3, 4, 5],
      ],
      findings: ['repeated-names'],
    },
    {
      name: 'a row with too few cells',
      text: 'a,b,c\n1.5,2,3\n4,5\n6,7,8\n',
      heads: 'a | b | c',
      rows: [
        [1.5, 2, 3],
        [4, 5, _],
        [6, 7, 8],
      ],
      findings: ['short-rows'],
    },
    {
      name: 'a row with too many cells',
      text: 'a,b\n1.5,2\n4,5,6\n6,7\n8,9\n',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [4, 5],
        [6, 7],
        [8, 9],
      ],
      findings: ['extra-cells'],
    },
    {
      name: 'remarks and blank lines between rows',
      text: 'a,b\n1.5,2\n# paused\n\n3,4\n',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      findings: ['comment-lines', 'blank-lines'],
    },
    {
      name: 'a header behind a number sign',
      text: '# made by hand\n# time speed\n0.5 10\n1.5 11\n',
      heads: 'time | speed',
      rows: [
        [0.5, 10],
        [1.5, 11],
      ],
    },
    {
      name: 'a footer',
      text: 'a,b\n1.5,2\n3,4\nEnd of recording\n',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      findings: ['stray-lines'],
    },
    {
      name: 'the header again in the middle',
      text: 'a,b\ns,V\n1.5,2\na,b\ns,V\n3,4\n',
      heads: 'a in s | b in V',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      findings: ['repeated-header'],
    },
    {
      name: 'zero bytes at the end',
      text: 'a,b\n1.5,2\n3,4\n\0\0\0\0\0\0',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      findings: ['nul-bytes'],
    },
    {
      name: 'a last line that is cut',
      text: 'a,b,c\n1.5,2,3\n3,4,5\n5,6',
      heads: 'a | b | c',
      rows: [
        [1.5, 2, 3],
        [3, 4, 5],
      ],
      findings: ['incomplete-last-line'],
    },
    {
      name: 'a last line without its end',
      text: 'a,b\n1.5,2\n3,4',
      heads: 'a | b',
      rows: [
        [1.5, 2],
        [3, 4],
      ],
      findings: ['incomplete-last-line'],
    },
    {
      name: 'a header without rows',
      text: 'time,speed [km/h]\n',
      heads: 'time | speed in km/h',
      rows: [],
      findings: ['no-rows'],
    },
    {
      name: 'header and units without rows',
      text: 'time;speed\ns;km/h\n',
      heads: 'time in s | speed in km/h',
      rows: [],
      findings: ['no-rows'],
    },
    { name: 'a single column', text: 'rpm\n1000.5\n1001\n', heads: 'rpm', rows: [[1000.5], [1001]] },
    {
      name: 'one quote that never closes',
      text: 'a,b\n1.5,"2\n3,4\n5,6\n',
      heads: 'a | b',
      rows: [
        [1.5, _],
        [3, 4],
        [5, 6],
      ],
      findings: ['open-quote', 'unreadable-cells'],
    },
    {
      name: 'decimal commas in quotes between commas',
      text: 'a,b\n"1,5","2,25"\n"3,5","4,75"\n',
      heads: 'a | b',
      rows: [
        [1.5, 2.25],
        [3.5, 4.75],
      ],
      dialect: { delimiter: ',', decimal: ',' },
    },
    {
      name: 'fewer names than columns',
      text: 'a,b\n1.5,2,3\n3,4,5\n6,7,8\n',
      heads: 'a | b | column 3',
      rows: [
        [1.5, 2, 3],
        [3, 4, 5],
        [6, 7, 8],
      ],
      findings: ['unnamed-columns'],
    },
  ];
  it.each(cases)('$name', (given) => {
    const table = read(typeof given.text === 'string' ? utf8(given.text) : given.text);
    expect(heads(table)).toBe(given.heads);
    expect(rowsOf(table)).toEqual(given.rows);
    if (given.dialect) expect(table.format).toMatchObject({ kind: 'delimited', dialect: given.dialect });
    if (given.findings) expect(kinds(table)).toEqual(given.findings);
  });
});

describe('a cell is a number, a time, a date, a word or nothing', () => {
  const column = (...cells: string[]): Column =>
    read(utf8(`x;n\n${cells.map((cell) => `${cell};1,5`).join('\n')}\n`)).columns[0];
  const pointColumn = (...cells: string[]): Column =>
    read(utf8(`x;n\n${cells.map((cell) => `${cell};1.5`).join('\n')}\n`)).columns[0];
  it.each([
    { cells: ['1e3', '+2.5E-2', '.5', '7.', '-0.25'], samples: [1000, 0.025, 0.5, 7, -0.25], writing: 'number' },
    {
      cells: ['1', 'NaN', 'inf', 'n/a', '--', 'null', '', '-Infinity', '#DIV/0!'],
      samples: [1, _, _, _, _, _, _, _, _],
      writing: 'number',
    },
    { cells: ['01:02.5', '59:59.999', '75:00.0'], samples: [62.5, 3599.999, 4500], writing: 'clock' },
    { cells: ['01:02:03.250', '23:59:59'], samples: [3723.25, 86399], writing: 'clock' },
    { cells: ['1:05:03 PM', '12:00:00 am'], samples: [47103, 0], writing: 'clock' },
    {
      cells: ['2031-05-02T10:00:00Z', '2031-05-02 10:00:00.5', '2031-05-02T12:00:00+02:00'],
      samples: [1935482400, 1935482400.5, 1935482400],
      writing: 'date',
    },
    { cells: ['02.05.2031 10:00:00', '2.5.2031 10:00:01'], samples: [1935482400, 1935482401], writing: 'date' },
    { cells: ['05/31/2031 10:00:00', '06/01/2031'], samples: [1937988000, 1938038400], writing: 'date' },
    { cells: ['01/06/2031', '31/05/2031 10:00'], samples: [1938038400, 1937988000], writing: 'date' },
    { cells: ['on', 'off', 'ON'], samples: [1, 0, 1], writing: 'number' },
    { cells: ['12.5 V', '13.0 V', '12.25 V'], samples: [12.5, 13, 12.25], writing: 'number' },
    { cells: ['1732523287123', '1732523287124'], samples: [1732523287123, 1732523287124], writing: 'number' },
    { cells: ['run', 'stop', 'run'], samples: [_, _, _], writing: 'text' },
    { cells: ['31.02.2031', '32.01.2031'], samples: [_, _], writing: 'text' },
    { cells: ['0x1F', '1,5,2', '1.2.3'], samples: [_, _, _], writing: 'text' },
  ])('$cells', ({ cells, samples, writing }) => {
    const found = pointColumn(...cells);
    expect([...found.samples]).toEqual(samples);
    expect(found.writing).toBe(writing);
  });
  it('takes the unit behind every number as the unit of the column', () => {
    expect(pointColumn('12.5 V', '13 V').unit).toBe('V');
  });
  it('reads no column whose cells have several units', () => {
    expect(pointColumn('12.5 V', '300 mV', '400 mV').writing).toBe('text');
  });
  it('keeps the words of a switch and of a text, most frequent first', () => {
    expect(column('off', 'on', 'on').texts).toEqual(['on', 'off']);
    expect(column('idle', 'pull', 'pull').texts).toEqual(['pull', 'idle']);
  });
  it('says which cells it could not read, with the first line', () => {
    const table = read(utf8('a,b\n1.5,2\nfoo,3\nbar,4\n2,5\n'));
    expect([...table.columns[0].mask]).toEqual([0, 2, 2, 0]);
    expect(table.findings).toMatchObject([
      {
        kind: 'unreadable-cells',
        weight: 'fault',
        place: { channel: 'a', line: 3 },
        numbers: { count: 2, value: 'foo' },
      },
    ]);
  });
  it('tells an empty cell from an unreadable one', () => {
    expect([...read(utf8('a,b\n1.5,2\n,3\nx,4\n')).columns[0].mask]).toEqual([0, 1, 2]);
  });
  it('asks when no cell says whether the day or the month comes first', () => {
    expect(kinds(read(utf8('t,b\n05/02/2031 10:00:00,1.5\n05/02/2031 10:00:01,2\n')))).toEqual(['day-or-month']);
  });
  it('doubts a clock of two parts', () => {
    expect(kinds(read(utf8('t,b\n10:00,1.5\n10:01,2\n')))).toEqual(['two-part-clock']);
  });
  it('leaves cells of the other decimal sign unread and says so', () => {
    const table = read(
      utf8(
        'a;b\n1,5;2,5\n1.5;3,5\n2,25;4,5\n2,5;1,5\n1,75;2,5\n1,5;1,5\n1,5;1,5\n1,5;1,5\n1,5;1,5\n1,5;1,5\n1,5;1,5\n',
      ),
    );
    expect(table.columns[0].samples[1]).toBeNaN();
    expect(kinds(table)).toContain('other-decimal-sign');
  });
  it('takes a decimal sign that first shows up far below the head', () => {
    const whole = '100;200\n'.repeat(160_000);
    const table = read(utf8(`a;b\n${whole}1,5;2,25\n`));
    expect(table.columns[1].samples[160_000]).toBe(2.25);
    expect(kinds(table)).toEqual(['decimal-decided-late']);
  });
});

describe('what cannot be read is refused, saying what it is', () => {
  const refusal = (bytes: Uint8Array) => {
    const outcome = readDelimited({ bytes, file: 'log', source: '' });
    return outcome.ok ? { kind: `read with ${outcome.value.columns.length} columns` } : outcome.refusal;
  };
  it.each([
    { name: 'an empty file', bytes: new Uint8Array(0), kind: 'empty-file', message: 'empty' },
    {
      name: 'a spreadsheet',
      bytes: latin1('PK\x03\x04\x14\0\x06\0[Content_Types].xml xl/workbook.xml'),
      kind: 'not-delimited-text',
      message: 'spreadsheet',
    },
    {
      name: 'a zip archive',
      bytes: latin1('PK\x03\x04\x14\0\x06\0log.csv'),
      kind: 'not-delimited-text',
      message: 'zip',
    },
    {
      name: 'an HTML page',
      bytes: utf8('\n<!DOCTYPE html><html><head></head>'),
      kind: 'not-delimited-text',
      message: 'HTML',
    },
    {
      name: 'a gzip archive',
      bytes: Uint8Array.of(0x1f, 0x8b, 8, 0, 1, 2, 3),
      kind: 'not-delimited-text',
      message: 'gzip',
    },
    { name: 'a PDF', bytes: utf8('%PDF-1.7\n'), kind: 'not-delimited-text', message: 'PDF' },
    { name: 'JSON', bytes: utf8('{"time":[1,2,3]}'), kind: 'not-delimited-text', message: 'JSON' },
    {
      name: 'other binary data',
      bytes: Uint8Array.from({ length: 4000 }, (_v, i) => (i * 37 + (i >> 3)) & 255),
      kind: 'not-delimited-text',
      message: 'binary',
    },
    { name: 'nothing but zeros', bytes: new Uint8Array(500), kind: 'not-delimited-text', message: 'binary' },
    {
      name: 'prose',
      bytes: utf8('This is a letter.\nIt has lines.\nNo numbers here\nat all.\n'),
      kind: 'no-table',
      message: 'table',
    },
    {
      name: 'a comma that may be thousands',
      bytes: utf8('a;b\n1,234;5,678\n2,345;6,789\n'),
      kind: 'ambiguous-decimal',
      message: '1,234',
    },
    {
      name: 'two decimal signs',
      bytes: utf8('a;b\n1,5;2.5\n2,5;3.5\n'),
      kind: 'contradictory-decimal',
      message: 'one sign',
    },
    {
      name: 'a comma as delimiter and decimal sign',
      bytes: utf8('a,b\n1,5,2,5\n2,5,3,5\n3,5,4,5\n'),
      kind: 'ambiguous-delimiter',
      message: 'comma',
    },
    {
      name: 'one endless line',
      bytes: utf8(`a,b\n1,2\n${'1'.repeat(17 << 20)}`),
      kind: 'line-too-long',
      message: 'line',
    },
  ])('$name', ({ bytes, kind, message }) => {
    expect(refusal(bytes)).toMatchObject({ kind, message: expect.stringContaining(message) });
  });
  it('reads the ambiguous comma once it is told which', () => {
    const bytes = utf8('a;b\n1,234;5,678\n2,345;6,789\n');
    expect(rowsOf(read(bytes, { decimal: ',' }))).toEqual([
      [1.234, 5.678],
      [2.345, 6.789],
    ]);
    expect(rowsOf(read(bytes, { decimal: '.', thousands: ',' }))).toEqual([
      [1234, 5678],
      [2345, 6789],
    ]);
  });
  it.each([
    { text: 'a;b\n0,234;5,678\n2,345;6,789\n', sample: 0.234 },
    { text: 'a;b\n1,234;5,6\n2,345;6,789\n', sample: 1.234 },
    { text: 'a;b\n1,234;5678,901\n2,345;6,789\n', sample: 1.234 },
    { text: 'a;b\n1,234;5.6\n2,345;6,789\n', sample: 1234 },
  ])('one cell decides: $text', ({ text, sample }) => {
    expect(read(utf8(text)).columns[0].samples[0]).toBe(sample);
  });
  it('doubts a point that no cell proves', () => {
    expect(kinds(read(utf8('a;b\n1.234;5.678\n2.345;6.789\n')))).toEqual(['decimal-assumed']);
  });
});
