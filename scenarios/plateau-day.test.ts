import { describe, expect, test } from 'vitest';
import type { EntryResult } from '../day/pulls/index.ts';
import { type EntryTruth, type InjectedFault, type MadeDay, makePlateauDay, truthAt } from './index.ts';
import { claimAt, POWERS, type PowerName } from './testing/coverage.ts';
import { readDay, type SeenDay } from './testing/read-day.ts';

const RPM = Math.PI / 30;
const SPEEDS = [3500, 4500, 5500, 6500];
/** A curve is smoothed over about half a second to either side; at 400 rpm/s this far from a fault it no longer shows. */
const REACH = 250 * RPM;

/** Faults that leave the measured chain as it is: torque that is gone is gone in truth and measurement alike. */
const HARMLESS = ['lambda stuck', 'ambient probe polluted', 'clock jump', 'cam phaser', 'boost leak', 'heat soak'];
const SLOW = ['fuel pressure low', 'voltage sag', 'knock', 'head lift'];

/** Whether a power can be expected to be right at this speed, from the true fault windows alone. */
function isClean({ faults }: EntryTruth, speed: number, power: PowerName): boolean {
  const spoils = ({ kind, decoy, fromSpeed, toSpeed }: InjectedFault): boolean => {
    if (decoy || HARMLESS.includes(kind) || SLOW.includes(kind)) return false;
    if (kind === 'driveline drag') return power === 'engine';
    return fromSpeed - REACH <= speed && speed <= toSpeed + REACH;
  };
  return !faults.some(spoils);
}

interface Seen {
  readonly truth: EntryTruth;
  readonly result: EntryResult;
}

function pullsOf(day: MadeDay, seen: SeenDay): readonly Seen[] {
  return day.truth.entries
    .filter(({ kind }) => kind === 'pull')
    .map((truth) => {
      const result = seen.report.entries.find(({ facts }) => facts.id === truth.id)?.result;
      if (!result) throw new Error(`pull ${truth.id} has no result`);
      return { truth, result };
    });
}

/** Relative errors of the claimed power at the clean ones of the four speeds [1]; NaN where nothing is claimed. */
function errors({ truth, result }: Seen, power: PowerName): { id: string; rpm: number; error: number }[] {
  const column = { roll: 'rollPower', wheel: 'tyrePower', engine: 'enginePower' } as const;
  return SPEEDS.filter((rpm) => isClean(truth, rpm * RPM, power)).map((rpm) => {
    const curve = result.pulls[0]?.curve;
    const found = curve && claimAt(curve, power, rpm * RPM);
    const real = truthAt(truth.curve, column[power], rpm * RPM);
    return { id: truth.id, rpm, error: (found?.value ?? Number.NaN) / real - 1 };
  });
}

/** Those that are not within the limit, or not claimed at all. */
function beyond(list: readonly { id: string; rpm: number; error: number }[], limit: number): readonly string[] {
  return list
    .filter(({ error }) => !(Math.abs(error) <= limit))
    .map(({ id, rpm, error }) => `${id} at ${rpm}: ${(100 * error).toFixed(2)} %`);
}

/** True offset and rate against the found ones, piece by piece, at the middle of the piece. A jump of the written clock starts a new piece. */
function clockErrors({ truth, result }: Seen, seen: SeenDay): { id: string; offset: number; rate: number }[] {
  const roller = seen.logs.recordings.get(`pull-${truth.id.padStart(2, '0')}-roller.csv`);
  const jumps = truth.faults.filter(({ kind }) => kind === 'clock jump').map(({ size }) => size['seconds'] ?? 0);
  const { offset = Number.NaN, rate = Number.NaN } = truth.clock ?? {};
  return (result.alignment?.pieces ?? []).map((piece, index) => {
    const middle = (piece.from + piece.to) / 2;
    const jumped = jumps.slice(0, index).reduce((sum, seconds) => sum + seconds, 0);
    const elapsed = middle - (roller?.clock.times[0] ?? Number.NaN) - jumped;
    const found = piece.offset + (1 + piece.rate) * middle;
    return { id: truth.id, offset: found - offset - (1 + rate) * elapsed, rate: piece.rate - rate };
  });
}

describe('the demonstration day, from raw bytes to the report', () => {
  const day = makePlateauDay({ seed: 1 });
  const seen = readDay(day);
  const pulls = pullsOf(day, seen);

  test('everything is read, and no question that matters is left open', () => {
    expect(seen.logs.findings).toEqual([]);
    expect([...seen.logs.questions.keys()]).toEqual([]);
    expect(pulls.length).toBe(26);
    for (const { truth, result } of pulls) expect([truth.id, result.refusal]).toEqual([truth.id, undefined]);
  });

  test.each(POWERS)('%s power of every clean speed is within 0.7 % of the truth of its pull', (power) => {
    const list = pulls.flatMap((pull) => errors(pull, power));
    expect(list.length).toBeGreaterThan(power === 'engine' ? 30 : 75);
    expect(beyond(list, 0.007)).toEqual([]);
  });

  test('the clocks are joined within 10 ms in the middle of every piece', () => {
    const list = pulls.flatMap((pull) => clockErrors(pull, seen));
    expect(list.length).toBeGreaterThanOrEqual(27);
    expect(list.filter(({ offset }) => !(Math.abs(offset) < 0.01))).toEqual([]);
  });

  test('their rate is within 30 ppm of 180 ppm', () => {
    const list = pulls.flatMap((pull) => clockErrors(pull, seen));
    expect(list.filter(({ rate }) => !(Math.abs(rate) < 30e-6))).toEqual([]);
  });

  test('the power that the roller program made up is never used as a measurement', () => {
    const columns = [...seen.logs.recordings.values()].flatMap(({ channels }) =>
      channels.filter(({ name }) => name === 'power'),
    );
    expect(columns.length).toBe(35);
    for (const { origin, meaning } of columns) {
      if (meaning !== 'unknown') expect(['smoothed', 'corrected', 'derived']).toContain(origin);
    }
  });

  test('the gap of pull 11 is not bridged', () => {
    const pull = pulls.find(({ truth }) => truth.id === '11');
    const gap = pull?.truth.faults.find(({ kind }) => kind === 'roller gap');
    const curve = pull?.result.pulls[0]?.curve;
    const inside = [...(curve?.engineSpeed ?? [])].filter(
      (speed, i) => curve?.valid[i] === 1 && gap && speed > gap.fromSpeed + 30 * RPM && speed < gap.toSpeed - 30 * RPM,
    );
    expect(gap).toBeDefined();
    expect(curve?.valid.includes(0)).toBe(true);
    expect(inside).toEqual([]);
  });

  test('the clock of pull 14 that jumps an hour back splits the record, and its pull is whole all the same', () => {
    const pull = pulls.find(({ truth }) => truth.id === '14');
    const pieces = pull?.result.alignment?.pieces ?? [];
    expect(pieces.length).toBe(2);
    expect((pieces[0]?.to ?? 0) - (pieces[1]?.from ?? 0)).toBeGreaterThan(3500);
    expect(pull?.result.pulls.length).toBe(1);
    expect(pull && beyond(errors(pull, 'wheel'), 0.007)).toEqual([]);
  });
});

describe('the same without noise and faults', () => {
  const day = makePlateauDay({ seed: 1, noise: false, faults: false, pulls: ['C1', 'C2', '2', '3', '10', 'C3'] });
  const seen = readDay(day);
  const pulls = pullsOf(day, seen);

  test.each(POWERS)('%s power is within 0.25 %', (power) => {
    const early = power === 'engine' ? pulls.filter(({ truth }) => Number(truth.id) < 6) : pulls;
    expect(
      beyond(
        early.flatMap((pull) => errors(pull, power)),
        0.0025,
      ),
    ).toEqual([]);
  });

  test('the clocks are joined within 5 ms', () => {
    const list = pulls.flatMap((pull) => clockErrors(pull, seen));
    expect(list.filter(({ offset }) => !(Math.abs(offset) < 0.005))).toEqual([]);
  });
});
