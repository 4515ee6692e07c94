import { describe, expect, it } from 'vitest';
import { readDelimited } from './delimited.ts';
import { markedNumber, plainNumber } from './number.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const plain = (text: string, decimal = '.'): number | undefined => {
  const bytes = bytesOf(text);
  return plainNumber(bytes, { from: 0, to: bytes.length }, decimal.charCodeAt(0));
};

/** Small seeded generator: the same spellings in every run. @source Numerical Recipes, quick linear congruential constants */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    return (state >>> 0) / 4294967296;
  };
}

function spelling(random: () => number): string {
  const digits = (most: number): string =>
    Array.from({ length: Math.floor(random() * (most + 1)) }, () => Math.floor(random() * 10)).join('');
  const whole = digits(random() < 0.1 ? 20 : 7);
  const fraction = random() < 0.7 ? `.${digits(random() < 0.1 ? 20 : 6)}` : '';
  const exponent =
    random() < 0.15
      ? `${random() < 0.5 ? 'e' : 'E'}${['', '+', '-'][Math.floor(random() * 3)]}${Math.floor(random() * 40)}`
      : '';
  const sign = ['', '', '-', '+'][Math.floor(random() * 4)];
  const body = `${whole}${fraction}`;
  return `${sign}${/\d/.test(body) ? body : '0'}${exponent}`;
}

describe('a written number', () => {
  it('is the double nearest to it: twin of Number() on a million spellings', () => {
    const random = seeded(20310502);
    let wrong = '';
    for (let k = 0; k < 1_000_000; k++) {
      const text = spelling(random);
      if (!Object.is(plain(text), Number(text))) wrong ||= text;
    }
    expect(wrong).toBe('');
  });
  it('is the same through the fast loop of the reader: twin on 200 000 spellings, point and comma', () => {
    const random = seeded(7);
    const texts = Array.from({ length: 200_000 }, () => spelling(random));
    const expected = texts.map(Number);
    for (const decimal of ['.', ','] as const) {
      const body = texts.map((text) => `${text.replace('.', decimal)};x`).join('\n');
      const outcome = readDelimited({
        bytes: bytesOf(`n;t\n${body}\n`),
        file: '',
        source: '',
        dialect: { decimal, delimiter: ';', thousands: '', headerLine: 1, firstLine: 2 },
      });
      const samples = outcome.ok ? outcome.value.columns[0].samples : [];
      expect(samples.length).toBe(texts.length);
      expect(texts.find((_text, k) => !Object.is(samples[k], expected[k]))).toBeUndefined();
    }
  });
  it.each(['', '.', '-', '+-1', '1e', '1e+', 'e5', '1.2.3', '1 2', '0x10', '1_000', '--1', '1-', '१२'])(
    'is not "%s"',
    (text) => {
      expect(plain(text)).toBeUndefined();
    },
  );
  it('is never infinite', () => {
    expect(plain('1e400')).toBeUndefined();
    expect(plain('1e-400')).toBe(0);
  });
  it('keeps its other sign for itself', () => {
    expect(plain('1,5', '.')).toBeUndefined();
    expect(plain('1.5', ',')).toBeUndefined();
    expect(plain('1,5', ',')).toBe(1.5);
  });
});

describe('thousands marks', () => {
  it.each([
    { text: '1.234,5', decimal: ',', thousands: '.', value: 1234.5 },
    { text: '-1.234.567', decimal: ',', thousands: '.', value: -1234567 },
    { text: '12 345,25', decimal: ',', thousands: ' ', value: 12345.25 },
    { text: "1'000.5e1", decimal: '.', thousands: "'", value: 10005 },
    { text: '1.23,5', decimal: ',', thousands: '.', value: undefined },
    { text: '1.2345', decimal: ',', thousands: '.', value: undefined },
    { text: '1234.567', decimal: ',', thousands: '.', value: undefined },
    { text: '1 234.5', decimal: ',', thousands: ' ', value: undefined },
  ] as const)('$text with $thousands and $decimal', ({ text, decimal, thousands, value }) => {
    expect(markedNumber(text, { decimal, thousands })).toBe(value);
  });
});
