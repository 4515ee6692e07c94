import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { trapezoid } from '../../core/numerics/index.ts';
import { toSi, unitOf } from '../../core/quantities/index.ts';
import { readDay, type SeenDay } from '../../scenarios/testing/read-day.ts';
import type { Channel, Meaning } from '../channels/index.ts';
import type { Peak, PullResult } from '../pulls/index.ts';

// Source of every measured figure here: fixtures/chassis-dyno/SOURCE.md; figures of the pulls: speed times force of the file, by hand.
const FIXTURE = fileURLToPath(new URL('./fixtures/chassis-dyno/61410007-trimmed.tsv', import.meta.url));
const FOLDER = fileURLToPath(new URL('../../../shared/data/chassis-dyno-turbodiesel/', import.meta.url));
const absent = existsSync(FOLDER) ? '' : ' (skipped: the measured roller logs in ../shared/data are absent)';
const MILE = 1609.344;
const POUND_FORCE = toSi(1, unitOf('lbf'));

/** The whole chain on one roller log as the only entry of a day; nobody decides anything. */
function seen(path: string, ambient = ''): SeenDay {
  const text = `knurl: 1\ntitle: Measured\n${ambient}entries:\n  - id: "1"\n    kind: pull\n    files: [log.tsv]\n`;
  return readDay({
    files: [
      { name: 'day.yaml', bytes: new TextEncoder().encode(text) },
      { name: 'log.tsv', bytes: readFileSync(path) },
    ],
  });
}

function kilowatts(pull: PullResult | undefined, basis: Peak['basis']): number {
  const peak = pull?.peaks.find((one) => one.what === 'roll power' && one.basis === basis);
  return (peak?.value ?? Number.NaN) / 1000;
}

describe('three full-load accelerations of a measured car', () => {
  const day = seen(FIXTURE);
  const result = day.report.entries[0]?.result;
  const pulls = result?.pulls ?? [];

  test('no column is asked about', () => {
    expect(day.logs.questions.size).toBe(0);
    expect(day.logs.findings).toEqual([]);
  });

  // The summary says about 32-49, 92-108 and 153-170 s.
  test('are found where they are, each with its gears named', () => {
    expect(pulls.map(({ segment }) => [Math.round(segment.fromTime), Math.round(segment.toTime)])).toEqual([
      [31, 49],
      [91, 108],
      [152, 170],
    ]);
    for (const { segment } of pulls) expect(segment.reason).toMatch(/gears 1, 2, 3/);
  });

  test.each([
    [0, 86.5, 85.6],
    [1, 89.2, 88.1],
    [2, 90.5, 87.6],
  ])('pull %i makes %f kW in single samples and %f kW over a second, its curve lies between', (...row) => {
    const [index, samples, second] = row;
    const pull = pulls[index];
    expect(Math.abs(kilowatts(pull, 'samples') / samples - 1)).toBeLessThan(0.015);
    expect(Math.abs(kilowatts(pull, 'one second') / second - 1)).toBeLessThan(0.015);
    expect(kilowatts(pull, 'curve')).toBeLessThan(kilowatts(pull, 'samples'));
    expect(kilowatts(pull, 'curve')).toBeGreaterThan(kilowatts(pull, 'one second'));
  });

  test('every peak is at least as uncertain as the force calibration that nobody stated', () => {
    for (const { value, standardUncertainty } of pulls.flatMap(({ peaks }) => peaks))
      expect(standardUncertainty / value).toBeGreaterThan(0.005);
  });

  test('the dead fuel flow, the missing boost and the missing barometer are said', () => {
    const found = result?.findings ?? [];
    expect(found.find(({ kind }) => kind === 'dead-channel')?.message).toContain('Fuel_Flow');
    expect(found.filter(({ kind }) => kind === 'missing-channel').map(({ message }) => message)).toEqual(
      expect.arrayContaining([expect.stringContaining('no boost channel')]),
    );
    expect(found.map(({ kind }) => kind)).toContain('missing-barometer');
  });

  test('engine power is not claimed: nobody coasted down', () => {
    for (const { peaks, curve } of pulls) {
      expect(peaks.map(({ what }) => what)).not.toContain('engine power');
      expect(curve.missing.join()).toContain('coast-down');
    }
  });
});

describe('a corrected value of it', () => {
  test('is not given without a barometer, and the report says so', () => {
    const result = seen(FIXTURE, 'ambient:\n  rule: SAE J1349\n').report.entries[0]?.result;
    expect(result?.conditions.chosen).toMatchObject({ factor: undefined, valid: false });
    expect(result?.conditions.chosen.why).toContain('barometer');
    for (const { peaks } of result?.pulls ?? []) expect(peaks.map(({ what }) => what)).not.toContain('corrected power');
  });

  test('stands on a barometer of a whole inch of mercury: ±1.7 %, and its uncertainty contains that', () => {
    const result = seen(FIXTURE, 'ambient:\n  rule: SAE J1349\n  pressure: 29 inHg\n').report.entries[0]?.result;
    const coarse = result?.findings.find(({ kind }) => kind === 'coarse-barometer');
    expect(coarse?.message).toContain('±1.7 %');
    expect(coarse?.numbers?.['share']).toBeCloseTo(0.5 / 29, 5);
    const { factor = Number.NaN, standardUncertainty = Number.NaN } = result?.conditions.chosen ?? {};
    // SAE J1349: factor + 0.18 goes with one over the dry pressure; half an inch is the half width of a rectangle.
    const fromBarometer = ((factor + 0.18) * (0.5 / 29)) / Math.sqrt(3);
    expect(standardUncertainty).toBeGreaterThan(fromBarometer);
    expect(standardUncertainty).toBeLessThan(1.6 * fromBarometer);
  });
});

function channelOf(day: SeenDay, meaning: Meaning): Channel {
  const found = day.logs.recordings.get('log.tsv')?.channels.find((channel) => channel.meaning === meaning);
  if (!found) throw new Error(`no ${meaning}`);
  return found;
}

describe.skipIf(absent !== '')(`whole measured logs${absent}`, () => {
  // tests.csv of the source; the two files with two runs hold twice the distance of their summary.
  test.each([
    ['61410007', 2.36],
    ['61410008', 11.56],
    ['61410012', 7.45],
    ['61410015', 2 * 10.28],
    ['61410016', 2 * 8.04],
    ['61410029', 7.45],
    ['61410030', 7.45],
    ['61410031', 7.49],
  ])('%s covers %f miles', (test, miles) => {
    const day = seen(`${FOLDER}${test}.tsv`);
    const clock = day.logs.recordings.get('log.tsv')?.clock;
    const samples = channelOf(day, 'roll-speed').samples;
    const { integral } = trapezoid({ times: clock?.times ?? new Float64Array(), samples, pieces: clock?.pieces ?? [] });
    expect(Math.abs(integral / MILE / miles - 1)).toBeLessThan(0.003);
  });

  // Target road load of the summary sheet minus the measured roll force: the tyre's and the driveline's loss on the rolls.
  test.each([
    [10, 172],
    [20, 180],
    [30, 185],
    [40, 196],
    [50, 201],
    [60, 199],
    [70, 204],
    [80, 197],
  ])('at a steady %i mph the road load is %i N above the roll force', (speed, newtons) => {
    const force = steadyForce(STEADY, (speed * MILE) / 3600);
    const target = (22.636 + 1.23944 * speed + 0.001929 * speed * speed) * POUND_FORCE;
    expect(Math.abs(target - force - newtons)).toBeLessThan(6);
  });
});

const STEADY = absent === '' ? seen(`${FOLDER}61410008.tsv`) : undefined;

/** Mean roll force where the speed stays within 0.15 m/s of a value for ten seconds to either side [N]. */
function steadyForce(day: SeenDay | undefined, speed: number): number {
  if (!day) return Number.NaN;
  const speeds = channelOf(day, 'roll-speed').samples;
  const forces = channelOf(day, 'tractive-force').samples;
  const steady = (i: number): boolean => Math.abs(speeds[i] - speed) < 0.15;
  const inside = [...speeds.keys()].filter((i) => [-100, -50, 0, 50, 100].every((away) => steady(i + away)));
  return inside.reduce((sum, i) => sum + forces[i], 0) / inside.length;
}
