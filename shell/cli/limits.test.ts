import { describe, expect, it } from 'vitest';
import { makePlateauDay } from '../../scenarios/index.ts';
import { folderWith, said } from './testing/command-line.ts';

const { files } = makePlateauDay({ seed: 5, pulls: ['C1', '9'] });
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');
/** Figures belong to the physics: what is left says the shape of the answer. */
const shape = (text: string) =>
  text
    .replaceAll(/[\d.]+/g, '#')
    .replaceAll(/ +/g, ' ')
    .replaceAll(/─+/g, '─');

/** A day with a tank of water before its charge. */
function withTank(bytes: Uint8Array): Uint8Array {
  const tank = 'parts:\n  cooler kind: water-to-air\n  cooler water: 12 kg\n  cooler ice: 8 kg\n';
  return new TextEncoder().encode(new TextDecoder().decode(bytes).replace('parts:\n', tank));
}

interface Told {
  readonly sentence: string;
  readonly pulls: number;
  readonly limits: readonly {
    readonly name: string;
    readonly margin: readonly (number | null)[];
    readonly why?: string;
    readonly tightest?: { readonly over: number; readonly margin: number };
  }[];
  readonly next: readonly { readonly name: string; readonly manifoldPressure: number }[];
  readonly goal?: { readonly chance: number; readonly rows: readonly unknown[] };
  readonly values: readonly { readonly name: string; readonly origin: string }[];
}

async function told(at: string, ...more: string[]): Promise<Told> {
  const { code, out, err } = await said(['limits', at, '--json', ...more]);
  expect([code, err]).toEqual([0, '']);
  return JSON.parse(out);
}

describe('knurl limits', () => {
  it('names the next limit, then every limit with its margin or why it cannot be told', async () => {
    const at = folderWith(files);
    const { code, out } = await said(['limits', at, '--at', 'MAP 150 kPa']);
    expect(code).toBe(0);
    expect(flat(out)).toMatch(/The next limit is [a-z ]+, at \d+ ± \d+ kPa near \d+ rpm\./);
    expect(out).toMatch(/^spark voltage +\d+ rpm +[\d.]+ kV +[\d.]+ kV +[+−]\d+ ± \d+ % +/m);
    expect(out).toMatch(/^cannot tell rod tension: /m);
    expect(out).toContain('Bands are two standard uncertainties.');
    for (const line of out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(100);
  });

  it('starts from the pressure of the last pull, and a step that does not name it keeps it', async () => {
    const at = folderWith(files);
    const [plain, gap] = [await told(at), await told(at, '--at', 'gap 0.5 mm')];
    const spark = ({ limits }: Told) => limits.find(({ name }) => name === 'spark voltage')?.tightest?.margin ?? 0;
    expect(spark(gap)).toBeGreaterThan(spark(plain));
    expect(gap.limits.find(({ name }) => name === 'injector duty')).toEqual(
      plain.limits.find(({ name }) => name === 'injector duty'),
    );
  });

  it('gives the same next limit whatever pressure was asked', async () => {
    const at = folderWith(files);
    const [low, high] = [await told(at, '--at', 'MAP 180 kPa'), await told(at, '--at', 'MAP 200 kPa')];
    const clamp = ({ next }: Told) => next.find(({ name }) => name === 'head clamp')?.manifoldPressure ?? 0;
    expect(clamp(low)).toBeGreaterThan(100e3);
    expect(clamp(high) / clamp(low)).toBeCloseTo(1, 1.5);
  });

  it('takes stated parts from the facts and the compressor map from its file', async () => {
    const { values, limits } = await told(folderWith(files));
    expect(values.find(({ name }) => name === 'bore')).toMatchObject({ origin: 'stated' });
    expect(limits.find(({ name }) => name === 'compressor speed')?.tightest).toBeDefined();
    const without = await told(folderWith(files.filter(({ name }) => name !== 'compressor-map.csv')));
    expect(without.limits.find(({ name }) => name === 'compressor speed')?.why).toMatch(/map/);
  });

  it('says of a compressor map that cannot be read what and where, and answers the rest', async () => {
    const bytes = new TextEncoder().encode('a,b\n1,2\n3,4\n');
    const broken = files.map((file) => (file.name === 'compressor-map.csv' ? { ...file, bytes } : file));
    const { code, out } = await said(['limits', folderWith(broken)]);
    expect(code).toBe(0);
    expect(flat(out)).toMatch(/compressor-map\.csv could not be read: missing column: speed, flow, pressure ratio/);
  });

  it('says what a goal asks of the parts, by speed', async () => {
    const at = folderWith(files);
    const modest = await told(at, '--goal', '300 N·m');
    const bold = await told(at, '--goal', '560 N·m');
    expect(modest.goal?.chance ?? 0).toBeGreaterThan(bold.goal?.chance ?? 0);
    const { out } = await said(['limits', at, '--goal', '5000 N·m at 4000 rpm']);
    expect(flat(out)).toContain('5000 N·m at 4000 rpm: out of reach at every speed that was looked at.');
  });

  it('says in a sentence each what could be done, and with --advice all of it, by straps, ballast, gear and plugs', async () => {
    const at = folderWith(files);
    const short = await said(['limits', at, '--at', 'MAP 150 kPa']);
    expect(flat(short.out)).toContain(
      'What could be done (--advice tells more): The tyres hold with 10 % of their limit in hand',
    );
    expect(flat(short.out)).toContain(
      'Gear 4 (overall 4.40) asks least of the tyres of those that keep every known limit',
    );
    expect(flat(short.out)).toContain('Common practice, no source, for plugs at ');
    const { out } = await said(['limits', at, '--at', 'MAP 230 kPa, straps 0 N', '--advice', '--keep', '20 %']);
    expect(flat(out)).toMatch(/To keep 20 % of the tyres’ limit in hand near \d+ rpm, \d+ ± \d+ N more/);
    expect(out).toMatch(/^ {2}tension of each of 2 straps then +\d+ ± \d+ N +\d+ N$/m);
    expect(out).toMatch(/^ {2}or ballast over the driven axle +\d+ ± \d+ kg +\d+ kg$/m);
    expect(out).toMatch(/^ {2}4 +4\.40 +\d+ N +198 km\/h +\d+ kW .*now$/m);
    expect(flat(out)).toContain('Reach: cannot be compared; state plug thread and head thread.');
    expect(flat(out)).toContain('Straps and anchors have ratings of their own');
    for (const line of out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(100);
  });

  it('carries a result to another engine or other air, with what it leaves out', async () => {
    const at = folderWith(files);
    const { out } = await said(['limits', at, '--scale', 'displacement 1.65 L, 4 cylinders']);
    expect(out).toMatch(/^ {2}highest torque +[\d.]+ ± [\d.]+ N·m +\d+ rpm +\d+ ± \d+ N·m +\d+ rpm$/m);
    expect(flat(out)).toContain('What this does not carry over: · turbocharger: the same one meets another flow');
    const { code, out: json } = await said(['limits', at, '--scale', 'ambient 40 °C, pull 9', '--json']);
    expect(code).toBe(0);
    const { scaled, advice } = JSON.parse(json);
    expect(scaled).toMatchObject({ from: '9', factors: [{ name: 'temperature outside' }] });
    expect(advice).toMatchObject({
      traction: { kind: 'holds' },
      gears: { best: 4 },
      plugs: { rule: expect.stringContaining('no source') },
    });
  });

  it('says how warm the charge cooler is taken to be: as in the pulls, or as asked', async () => {
    const at = folderWith(files);
    const [usual, cold] = [await said(['limits', at]), await said(['limits', at, '--at', 'soak 0 K'])];
    expect(flat(usual.out)).toMatch(
      /Charge cooler [\d.]+ °C above the air outside when the load begins, .* above it at the redline: /,
    );
    expect(flat(cold.out)).toContain('Charge cooler 0.0 °C above the air outside over the whole pull, as asked');
  });

  it('refuses ice and water where the charge cooler has no tank', async () => {
    const { code, err } = await said(['limits', folderWith(files), '--at', 'ice 4 kg']);
    expect(code).not.toBe(0);
    expect(flat(err)).toContain('ice belongs to a charge cooler with a tank of water');
  });

  it('follows the charge cooler over a series of pulls, with a tank and ice where the facts say so', async () => {
    const air = await said(['limits', folderWith(files), '--pulls', '3', '--pause', '5 min']);
    expect(flat(air.out)).toContain('Charge cooler over 3 pulls, 5.0 min between them');
    expect(flat(air.out)).toMatch(/Ready again after [\d.]+ ± [\d.]+ min/);
    const iced = files.map((file) => (file.name === 'day.yaml' ? { ...file, bytes: withTank(file.bytes) } : file));
    const { code, out } = await said(['limits', folderWith(iced), '--pulls', '2', '--json']);
    expect(code).toBe(0);
    const { cooling, cooler, controls } = JSON.parse(out);
    expect(controls.find(({ name }: { name: string }) => name === 'ice')).toMatchObject({ value: 8, word: 'ice' });
    expect(cooler).toMatchObject({ kind: 'water-to-air', water: 273.15 });
    expect(cooling.pulls).toHaveLength(2);
    expect(cooling.pulls[1].ice).toBeLessThan(cooling.pulls[0].ice);
    expect(cooling.ready).toMatch(/^Ready again at once\. The ice lasts (?:one pull|\d+ pulls)/);
  });

  it('has one shape of text (figures left out: they belong to the physics)', async () => {
    const { out } = await said(['limits', folderWith(files), '--at', 'MAP 150 kPa', '--all']);
    const from = out.slice(out.indexOf('\n\nAt '));
    expect(shape(from).split('\n').slice(0, 5)).toMatchSnapshot();
    expect((await said(['limits', '--help'])).out).toMatchSnapshot();
  });

  it.each([
    [['--at', 'MAP 12,5 kPa'], 'ambiguous number'],
    [['--at', 'boost 1 bar'], 'gauge pressure says nothing'],
    [['--at', 'wheelbase 3 m'], 'unknown setting'],
    [['--keep', '5 %'], 'missing --room or --advice'],
    [['--advice', '--keep', '5'], 'keep'],
    [['--scale', '4.5 cylinders'], 'whole number'],
    [['--scale', 'displacement 2 kg'], '(in "displacement 2 kg")'],
    [['--scale', 'gap 0.5 mm'], 'belongs into the step'],
    [['--scale', '4 cylinders, pull 77'], 'unknown pull: "77"'],
    [['--goal', 'plenty'], 'invalid goal: "plenty"'],
    [['--goal=-5 kW'], 'invalid goal'],
    [['--pause', '5 min'], 'missing --pulls'],
    [['--pulls', '0'], 'invalid pulls: "0"'],
    [['--pulls', '3', '--pause', '5 kPa'], 'pause: invalid time: "5 kPa"'],
    [['--at', 'ice 4 m'], 'ice 4 m'],
  ])('refuses %s with words, code 2', async (more, expected) => {
    const { code, err, out } = await said(['limits', folderWith(files), ...more]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(expected);
  });
});
