import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { type Measured, measured, toSi, unitOf } from '../../../core/quantities/index.ts';
import type { Channel, Meaning } from '../../channels/index.ts';
import type { AmbientRuleName, DayFacts } from '../facts.ts';
import type { JoinedRecord } from '../record.ts';
import type { Conditions } from '../result.ts';
import { conditionsOf } from './conditions.ts';
import { pressureRounding } from './reading.ts';

const CELSIUS = (value: number): number => toSi(value, unitOf('°C'));
const INHG = (value: number): number => toSi(value, unitOf('inHg'));

function record(values: Partial<Record<Meaning, number | readonly number[]>>): JoinedRecord {
  const tracks = Object.entries(values).map(([meaning, value]) => {
    const samples = Float64Array.from(typeof value === 'number' ? Array.from({ length: 10 }, () => value) : value);
    const channel: Channel = {
      name: meaning,
      meaning: MEANING[meaning] ?? 'unknown',
      kind: 'ratio',
      samples,
      mask: new Uint8Array(samples.length),
      refreshRate: 1,
      origin: 'measured',
    };
    return {
      channel,
      times: samples.map((_, i) => i),
      pieces: [{ from: 0, to: samples.length }],
      file: 'a.csv',
    };
  });
  const alignment = {
    clock: 'a',
    other: 'a',
    pieces: [],
    correlation: 1,
    second: undefined,
    by: 'same clock' as const,
  };
  return { tracks, alignment, findings: [] };
}

const MEANING: Readonly<Record<string, Meaning>> = {
  'ambient-temperature': 'ambient-temperature',
  'barometric-pressure': 'barometric-pressure',
  'relative-humidity': 'relative-humidity',
  'dew-point': 'dew-point',
  'wet-bulb': 'wet-bulb',
};

function day(facts: Partial<Pick<DayFacts, 'ambient' | 'engine' | 'place'>>): DayFacts {
  return {
    title: '',
    place: {},
    vehicle: {},
    engine: {},
    roller: {},
    ambient: {},
    entries: [],
    mappings: [],
    ...facts,
  };
}

const TURBO = { engine: { boostControl: 'absolute', ignition: 'spark' } } as const;
const exactly = (value: number): Measured => measured(value, 0);

function factor({ factors }: Conditions, rule: AmbientRuleName): Conditions['factors'][number] {
  const line = factors.find((one) => one.rule === rule);
  if (!line) throw new Error(`no line for ${rule}`);
  return line;
}

describe('where a value of the air comes from', () => {
  test('a logged value goes before a stated one, and says which channel it was', () => {
    const found = conditionsOf({
      record: record({ 'ambient-temperature': 300, 'barometric-pressure': 99_000 }),
      day: day({ ambient: { temperature: exactly(280), pressure: exactly(90_000) } }),
      rule: undefined,
    });
    expect(found.temperature?.value).toBe(300);
    expect(found.pressure?.value).toBe(99_000);
    expect(found.origin.temperature).toContain('logged, "ambient-temperature" in a.csv');
  });

  test('without a channel the stated value stands, with the uncertainty of such a sensor or its own', () => {
    const found = conditionsOf({
      record: record({}),
      day: day({ ambient: { temperature: exactly(295), pressure: measured(98_765, 40) } }),
      rule: undefined,
    });
    expect(found.temperature).toEqual(measured(295, 1.5));
    expect(found.pressure).toEqual(measured(98_765, 40));
    expect(found.origin).toEqual({ temperature: 'stated', pressure: 'stated', humidity: 'unknown' });
  });

  test('with neither everything is unknown, no pressure rule has a factor and the missing barometer is said', () => {
    const found = conditionsOf({ record: record({}), day: day({}), rule: 'SAE J1349' });
    expect(found).toMatchObject({ temperature: undefined, pressure: undefined, vapourPressure: undefined });
    expect(factor(found, 'SAE J1349')).toMatchObject({ factor: undefined, valid: false });
    expect(found.findings.map(({ kind }) => kind)).toContain('missing-barometer');
  });

  test('a probe that moves is as uncertain as it scatters', () => {
    const moving = [292, 293, 294, 295, 296, 297, 298, 299, 300, 301];
    const found = conditionsOf({ record: record({ 'ambient-temperature': moving }), day: day({}), rule: undefined });
    expect(found.temperature?.value).toBeCloseTo(296.5, 9);
    expect(found.temperature?.standardUncertainty).toBeGreaterThan(3);
  });
});

test.each([
  ['29 inHg', INHG(29), 3386.389],
  ['28.9 inHg', INHG(28.9), 338.6389],
  ['98 kPa', 98_000, 1000],
  ['985 hPa', 98_500, 100],
  ['740 mmHg', toSi(740, unitOf('mmHg')), 133.3224],
])('a barometer stated as %s was rounded to its own step', (_text, pressure, step) => {
  expect(pressureRounding(pressure)?.step).toBeCloseTo(step, 2);
  const { pressure: known } = conditionsOf({
    record: record({}),
    day: day({ ambient: { pressure: exactly(pressure) } }),
    rule: undefined,
  });
  expect(known?.standardUncertainty).toBeCloseTo(Math.hypot(100, step / Math.sqrt(12)), 1);
});

test('a barometer stated to a hundredth of a hectopascal was not rounded to anything coarse', () => {
  expect(pressureRounding(98_537.4)).toBeUndefined();
});

// Saturation pressures: WMO-No. 8, Annex 4.B: 2 338 Pa at 20 °C, 1 228 Pa at 10 °C. Wet bulb by the psychrometer formula of the same
// annex, e = e'w − 6.53e-4·(1 + 0.000944 t')·p·(t − t'): 20 °C, 15 °C, 1000 hPa gives 1705 − 331 = 1374 Pa;
// the instrument's coefficient and adiabatic saturation differ by under 1 %.
describe('vapour pressure', () => {
  const warm = { 'ambient-temperature': CELSIUS(20), 'barometric-pressure': 100_000 };
  test.each([
    ['relative humidity', { 'relative-humidity': 0.5 }, 1169, 3],
    ['dew point', { 'dew-point': CELSIUS(10) }, 1228, 3],
    ['wet bulb', { 'wet-bulb': CELSIUS(15) }, 1374, 12],
  ] as const)('from %s', (...[name, channels, expected, within]) => {
    const found = conditionsOf({ record: record({ ...warm, ...channels }), day: day({}), rule: undefined });
    expect(Math.abs((found.vapourPressure?.value ?? 0) - expected)).toBeLessThan(within);
    expect(found.origin.humidity).toContain(name);
    expect(found.vapourPressure?.standardUncertainty).toBeGreaterThan(50);
  });

  test('a wet bulb without a barometer gives none', () => {
    const found = conditionsOf({
      record: record({ 'ambient-temperature': CELSIUS(20), 'wet-bulb': CELSIUS(15) }),
      day: day({}),
      rule: undefined,
    });
    expect(found.vapourPressure).toBeUndefined();
  });
});

describe('rules', () => {
  const high = { 'ambient-temperature': CELSIUS(22), 'barometric-pressure': 85_400 };

  test('without humidity a rule of dry pressure has no factor, and says why', () => {
    const found = conditionsOf({ record: record(high), day: day({}), rule: 'SAE J1349' });
    for (const rule of ['SAE J1349', 'ISO 1585 spark'] as const) {
      expect(factor(found, rule)).toMatchObject({ factor: undefined, valid: false });
      expect(factor(found, rule).why).toMatch(/humidity|vapour/);
    }
    expect(found.findings.map(({ kind }) => kind)).toContain('ambient-rule-out-of-validity');
  });

  test('nothing is corrected unless a rule was chosen; the factors of the rules stand beside it', () => {
    const found = conditionsOf({
      record: record({ ...high, 'relative-humidity': 0.38 }),
      day: day(TURBO),
      rule: undefined,
    });
    expect(found.chosen).toMatchObject({ rule: 'none', factor: 1 });
    const known = found.factors.filter((line) => line.factor !== undefined).map(({ rule }) => rule);
    expect(known).toEqual(expect.arrayContaining(['none', 'SAE J1349', 'ISO 1585 spark', 'temperature only']));
  });

  // SAE J1349 by hand: 1.18·(99/(85.4 − 0.38·2.645))·√(295/298) − 0.18 = 1.1972; ISO 1585: (99/84.395)^1.2·(295.15/298)^0.6 = 1.204.
  test('at 1 420 m the factors are far outside the band that ISO 1585 allows, and that is said', () => {
    const found = conditionsOf({
      record: record({ ...high, 'relative-humidity': 0.38 }),
      day: day({ ...TURBO, engine: { ignition: 'spark', boostControl: 'none' } }),
      rule: 'ISO 1585 spark',
    });
    expect(factor(found, 'SAE J1349').factor).toBeCloseTo(1.1972, 4);
    expect(found.chosen.factor).toBeCloseTo(1.204, 2);
    expect(found.chosen.valid).toBe(false);
    expect(found.findings.find(({ kind }) => kind === 'ambient-rule-out-of-validity')?.message).toContain('1.07');
  });
});

describe('a pressure that does not belong to the altitude', () => {
  const at = (pressure: number, altitude: number | undefined): readonly string[] =>
    conditionsOf({
      record: record({ 'barometric-pressure': pressure }),
      day: day({ place: altitude === undefined ? {} : { altitude: measured(altitude, 10) } }),
      rule: undefined,
    }).findings.map(({ kind }) => kind);

  test('1 013 hPa at 1 420 m was reduced to sea level', () => {
    expect(at(101_300, 1420)).toContain('pressure-at-sea-level');
  });
  test('854 hPa there is the station pressure', () => {
    expect(at(85_400, 1420).join()).not.toMatch(/pressure-(at|against)/);
  });
  test('700 hPa there is neither', () => {
    expect(at(70_000, 1420)).toContain('pressure-against-altitude');
  });
  test('at 100 m the two cannot be told apart, and without an altitude nothing is said', () => {
    expect(at(101_300, 100).join()).not.toMatch(/pressure-(at|against)/);
    expect(at(101_300, undefined).join()).not.toMatch(/pressure-(at|against)/);
  });
});

test.each([
  [0.382, undefined],
  [0.41, 'note'],
  [0.6, 'doubt'],
])('a dew point of 7 °C in air of 22 °C beside a humidity channel of %s', (humidity, weight) => {
  const { findings } = conditionsOf({
    record: record({
      'ambient-temperature': CELSIUS(22),
      'dew-point': CELSIUS(7.2),
      'relative-humidity': humidity,
    }),
    day: day({}),
    rule: undefined,
  });
  expect(findings.find(({ kind }) => kind === 'humidity-disagrees')?.weight).toBe(weight);
});

const WEATHER = fileURLToPath(new URL('../../../../shared/data/hourly-weather/EWR.csv', import.meta.url));
const absent = existsSync(WEATHER) ? '' : ' (skipped: the measured weather in ../shared/data is absent)';

/** Hours with temperature, dew point, humidity and, mostly, sea-level pressure, SI. */
function hours(): { air: number; dew: number; humidity: number; pressure: number }[] {
  const [, ...lines] = readFileSync(WEATHER, 'utf8').trimEnd().split(/\r?\n/);
  return lines.flatMap((line) => {
    const [, , , , , temp = '', dewp = '', humid = '', pressure = ''] = line.split(',');
    const [air, dew, humidity, hectopascal] = [temp, dewp, humid, pressure].map((cell) =>
      cell === '' || cell === 'NA' ? Number.NaN : Number(cell),
    );
    const row = {
      air: toSi(air ?? Number.NaN, unitOf('°F')),
      dew: toSi(dew ?? Number.NaN, unitOf('°F')),
      humidity: (humidity ?? Number.NaN) / 100,
      pressure: (hectopascal ?? Number.NaN) * 100,
    };
    return Number.isFinite(row.air + row.dew + row.humidity) ? [row] : [];
  });
}

describe.skipIf(absent !== '')(`a year of measured hours${absent}`, () => {
  const judged = (hour: ReturnType<typeof hours>[number], altitude: number): readonly string[] =>
    conditionsOf({
      record: record({
        'ambient-temperature': hour.air,
        'dew-point': hour.dew,
        'relative-humidity': hour.humidity,
        ...(Number.isFinite(hour.pressure) ? { 'barometric-pressure': hour.pressure } : {}),
      }),
      day: day({ place: { altitude: measured(altitude, 10) } }),
      rule: undefined,
    }).findings.map(({ kind }) => kind);

  test('every sea-level pressure is caught at 1 420 m, and none near the sea', () => {
    const measuredHours = hours().filter(({ pressure }) => Number.isFinite(pressure));
    const kinds = measuredHours.map((hour) => ({ high: judged(hour, 1420), low: judged(hour, 5) }));
    expect(kinds.length).toBeGreaterThan(7000);
    expect(kinds.filter(({ high }) => high.includes('pressure-at-sea-level')).length).toBe(kinds.length);
    const wrong = kinds.filter(({ low }) => low.some((kind) => kind.startsWith('pressure-')));
    expect(wrong.length / kinds.length).toBeLessThan(0.001);
  });

  // The source's own check: 6 % of hours differ by more than one point.
  test('about 6 % of the hours have a stale dew point', () => {
    const kinds = hours().map((hour) => judged(hour, 5));
    const stale = kinds.filter((found) => found.includes('humidity-disagrees')).length / kinds.length;
    expect(stale).toBeGreaterThan(0.03);
    expect(stale).toBeLessThan(0.08);
  });
});
