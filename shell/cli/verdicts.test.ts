import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makePlateauDay, makeSimpleDay } from '../../scenarios/index.ts';
import { folderWith, said } from './testing/command-line.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9'] });
const pair = ['pull-09-roller.csv', 'pull-09-engine.csv'];
const clean = makeSimpleDay({
  seed: 11,
  roller: 'brake',
  oneFile: false,
  pulls: 1,
  rates: { roller: 50, engine: 50 },
});
const words = (at: string, ...more: string[]) => ['pull', ...pair.map((name) => join(at, name)), '--like', at, ...more];
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

interface Told {
  readonly verdicts: readonly {
    readonly validity: string;
    readonly stopClass: number;
    readonly voidWindows: readonly unknown[];
    readonly occurrences: readonly { readonly hypotheses: readonly { readonly fault: string }[] }[];
    readonly detections: readonly { readonly fault: string; readonly answer: string }[];
  }[];
}

const told = (out: string): Told => JSON.parse(out);

describe('the verdict on the command line', () => {
  it('is the same in text and in JSON, whatever it is, and the exit code says a stop', async () => {
    const at = folderWith(files);
    const json = await said(words(at, '--json'));
    const [verdict] = told(json.out).verdicts;
    expect(verdict).toBeDefined();
    expect(verdict).not.toHaveProperty('pull');
    expect(json.code).toBe(Number(verdict?.stopClass) >= 2 ? 4 : 0);
    const text = await said(words(at));
    expect(text.code).toBe(json.code);
    expect(flat(text.out)).toContain(`Verdict: ${verdict?.validity}`);
    const blind = verdict?.detections.filter(({ answer }) => answer === 'cannot tell') ?? [];
    expect(blind.length).toBeGreaterThan(0);
    expect(flat(text.out)).toContain('cannot tell ');
    expect(flat(text.out)).toContain('looked for and not seen: ');
    for (const line of text.out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(105);
  });

  it('stands in the day for every pull, with a word in the table', async () => {
    const at = folderWith(files);
    const day = await said(['day', at]);
    expect(day.out).toMatch(/entry +clock +what +made +where +clean +to know/);
    expect(day.out).toMatch(/\n[!·] 9: /);
    const json = JSON.parse((await said(['day', at, '--json'])).out);
    const entry = json.entries.find(({ facts }: { facts: { id: string } }) => facts.id === '9');
    expect(entry.verdicts).toHaveLength(1);
    expect(entry.verdicts[0].voidWindows.length).toBeGreaterThan(0);
    expect(day.out).toMatch(/ (partly|HOLD)/);
  });

  it('the day tells of its health too, in text and in JSON, by the limits that are set', async () => {
    const at = folderWith(files);
    const day = await said(['day', at]);
    expect(day.out).toMatch(/\nHealth of the day\n[!·] /);
    expect(flat(day.out)).toContain('left open: ');
    const { health } = JSON.parse((await said(['day', at, '--json'])).out);
    expect(health.stop.class).toBeLessThanOrEqual(3);
    expect(health.unknown.length).toBeGreaterThan(0);
    const wrong = await said(['day', at, '--set', 'health.bad-luck = 3']);
    expect([wrong.code, wrong.err]).toEqual([2, expect.stringContaining('unknown threshold: health.bad-luck')]);
    const set = await said(['day', at, '--set', 'boost-overshoot.pressure = 200 kPa', '--json']);
    const { entries, facts } = JSON.parse(set.out);
    expect(facts.thresholds).toEqual({ 'boost-overshoot.pressure': '200 kPa' });
    expect(entries).toHaveLength(JSON.parse((await said(['day', at, '--json'])).out).entries.length);
  }, 120_000);

  it('says what could not be told where channels are missing', async () => {
    const at = folderWith(clean.files);
    const roller = clean.files.find(({ name }) => name.startsWith('run-1') && name.includes('roller'))?.name ?? '';
    const { out } = await said(['pull', join(at, roller), '--like', at]);
    expect(flat(out)).toMatch(/cannot tell [^:]*low oil pressure[^:]*: missing oil pressure/);
  });
});

describe('knurl read --coverage', () => {
  it('says which faults logs could show together, and what one of them lacks', async () => {
    const at = folderWith(files);
    const [roller = '', engine = ''] = pair.map((name) => join(at, name));
    const decided = ['--column', 'force_N = brake force, N'];
    const both = await said(['read', roller, engine, '--coverage', ...decided]);
    expect([0, 3]).toContain(both.code);
    expect(both.out).toMatch(/^Of \d+ faults with these channels: \d+ would show, \d+ weakly, \d+ not at all\./);
    for (const line of both.out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(100);
    const one = await said(['read', roller, '--coverage', '--json', ...decided]);
    const row = (out: string, fault: string) =>
      JSON.parse(out).rows.find((each: { fault: string }) => each.fault === fault);
    const alone = row(one.out, 'oil-pressure-low');
    expect(alone.reach).toBe('blind');
    expect(alone.lacking.map(({ channel }: { channel: string }) => channel)).toContain('oil pressure');
    const two = await said(['read', roller, engine, '--coverage', '--json', ...decided]);
    expect(row(two.out, 'oil-pressure-low').reach).not.toBe('blind');
  });
});

describe('--set and --thresholds', () => {
  it('a limit that is set decides, and the list says so', async () => {
    const at = folderWith(files);
    const limits = ['roughness.share = 90 %', 'roughness.times=99', 'ignition-breakup.unlit = 50 %'];
    const loose = await said(words(at, ...limits.flatMap((limit) => ['--set', limit]), '--json'));
    const seen = ({ verdicts }: Told) =>
      verdicts[0]?.occurrences.flatMap(({ hypotheses }) => hypotheses.map(({ fault }) => fault)) ?? [];
    const before = told((await said(words(at, '--json'))).out);
    const spark = ['ignition-breakup', 'spark-energy'];
    expect(seen(before).some((fault) => spark.includes(fault))).toBe(true);
    const detection = told(loose.out).verdicts[0]?.detections.find(({ fault }) => fault === 'ignition-breakup');
    expect(detection?.answer).not.toBe('seen');
  });

  it('lists every limit with ours and its source, without a log', async () => {
    const { code, out } = await said(['pull', '--thresholds', '--set', 'heat-soak.start = 5 K']);
    expect(code).toBe(0);
    expect(out).toMatch(/^limit +in force +ours +set +source of ours/);
    expect(out).toMatch(/\nboost-overshoot\.pressure +[\d.]+ kPa +[\d.]+ kPa +common practice/);
    expect(out).toMatch(/\nheat-soak\.start +5 °C +[\d.]+ °C +day +/);
    const json = JSON.parse((await said(['pull', '--thresholds', '--json'])).out);
    expect(json.length).toBeGreaterThan(60);
    for (const { name, source } of json) expect(source, name).not.toBe('');
    for (const line of out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(100);
  });

  it.each([
    ['boost-overshoot.pressure = 12,5 kPa', 'no comma'],
    ['boost-overshoot.pressure = 12', 'with its unit'],
    ['boost-overshoot.pressure', 'expected "NAME = NUMBER UNIT"'],
    ['boost = 10 kPa', 'unknown threshold: boost'],
  ])('refuses %s with words, code 2', async (text, expected) => {
    const at = folderWith(files);
    const { code, err } = await said(words(at, '--set', text));
    expect(code).toBe(2);
    expect(err).toContain(expected);
  });
});
