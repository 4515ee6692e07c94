import { describe, expect, it } from 'vitest';
import { measured } from '../../../../core/quantities/index.ts';
import { healthEntries } from '../entries.ts';
import { type InventedEntry, inventedDay, inventedLoss, inventedTrack } from '../testing/invented-day.ts';
import { healthLimitsWith } from '../thresholds.ts';
import { coastHealth } from './coast-health.ts';

const RATIO = 13.2;
const ENGINE = { inertia: measured(0.16, 0.016), displacement: measured(2.48e-3, 0) };

/** A coast-down with the clutch open whose whole force is a share above 180 N + 3.2 N·s/m. axle: °C of its oil. */
function coast(
  id: string,
  share: number,
  rest: Partial<InventedEntry['facts']> & { axle?: number; constant?: number } = {},
): InventedEntry {
  const { axle, constant = 0, ...facts } = rest;
  const loss = inventedLoss([180 * (1 + share) + constant, 3.2 * (1 + share)]);
  const tracks =
    axle === undefined ? [] : [inventedTrack('axle-temperature', 'temperature', [0, 60, 1, () => 273.15 + axle])];
  return { facts: { id, clutch: 'open', ...facts }, losses: [loss], tracks };
}

/** A coast-down in gear: drag at the crank [N·m] on top of what the clutch-open one has. */
function inGear(id: string, torque: number, { share = 0, oil }: { share?: number; oil?: number } = {}): InventedEntry {
  const loss = inventedLoss([180 * (1 + share) + torque * RATIO, 3.2 * (1 + share)], {
    clutch: 'in gear',
    ratio: RATIO,
  });
  const tracks =
    oil === undefined ? [] : [inventedTrack('oil-temperature', 'temperature', [0, 60, 1, () => 273.15 + oil])];
  return { facts: { id, clutch: 'in gear' }, losses: [loss], tracks };
}

const pull: InventedEntry = { facts: { id: 'pull', kind: 'pull' } };
const change = (id: string): InventedEntry => ({ facts: { id, kind: 'change', title: id } });

function health(entries: readonly InventedEntry[]) {
  const input = inventedDay(entries, { engine: ENGINE });
  return coastHealth(healthEntries(input), input.facts, healthLimitsWith());
}

const classes = (entries: readonly InventedEntry[]) =>
  health(entries).findings.map(({ kind, stopClass }) => `${kind} ${stopClass}`);

describe('coast-downs against their reference', () => {
  it('none, or one alone, leaves the question open', () => {
    expect(health([]).unknown[0]?.why).toBe('no coast-down on this day');
    expect(health([coast('C1', 0)]).unknown.map(({ why }) => why)).toContain('one coast-down only');
  });

  it.each([
    [0, []],
    [0.04, []],
    [0.09, ['coast-force-rise 1']],
    [0.12, ['coast-force-rise 1']],
    [0.19, ['coast-force-rise 1']],
    [0.22, ['coast-force-rise 2']],
    [-0.3, []],
  ])('a rise of %d gives %j', (share, wanted) => {
    expect(classes([coast('C1', 0), coast('C2', 0), pull, coast('C3', share)])).toEqual(wanted);
  });

  it('a rise of 7 % is a note where repeats scatter too much for more', () => {
    const found = health([coast('C1', 0), coast('C2', 0.03), pull, coast('C3', 0.085)]);
    expect(found.findings.map(({ stopClass }) => stopClass)).toEqual([0]);
    expect(found.repeat.value).toBeGreaterThan(0.01);
  });

  it('with the clutch open it is not the engine, and a constant added force is a brake or a preload', () => {
    const found = health([coast('C1', 0), coast('C2', 0), pull, coast('C3', 0, { constant: 118 })]);
    expect(found.findings[0]?.why).toContain('not the engine');
    expect(found.findings[0]?.why).toContain('dragging brake');
    expect(found.changes.at(-1)?.constant).toBeCloseTo(1, 1);
    const growing = health([
      coast('C1', 0),
      coast('C2', 0),
      pull,
      { ...coast('C3', 0), losses: [inventedLoss([180, 7])] },
    ]);
    expect(growing.findings[0]?.why).toContain('grows with speed');
  });

  it('a change between is named, and the block’s own coast-downs become a second reference', () => {
    const found = health([coast('C1', 0), change('tyres'), coast('C2', 0.3), pull, coast('C3', 0.3)]);
    expect(found.findings.map(({ entry }) => entry)).toEqual(['C2', 'C3']);
    expect(found.findings[0]?.changed).toEqual(['tyres']);
    const block = found.changes.find(({ entry, against }) => entry === 'C3' && against === 'block');
    expect(block?.change.value).toBeCloseTo(0, 6);
  });

  it('other straps are another simple cause: never more than a repeat', () => {
    const straps = (kN: number) => ({ settings: { straps: `${kN} kN` } });
    const found = health([coast('C1', 0, straps(0)), pull, coast('C2', 0.25, straps(5))]);
    expect(found.findings.map(({ stopClass }) => stopClass)).toEqual([1]);
    expect(found.findings[0]?.changed).toEqual(['straps: 0 kN → 5 kN']);
  });
});

describe('coast-downs and warmth', () => {
  it('warm axle oil lowers the force: no alarm, and no alarm when it is cold again', () => {
    const warmed = [coast('C1', 0, { axle: 60 }), coast('C2', 0, { axle: 60 }), pull, coast('C3', -0.04, { axle: 90 })];
    expect(classes(warmed)).toEqual([]);
    const cooled = [coast('C1', 0, { axle: 90 }), coast('C2', 0, { axle: 90 }), pull, coast('C3', 0.06, { axle: 50 })];
    expect(classes(cooled)).toEqual([]);
    expect(classes([coast('C1', 0), coast('C2', 0), pull, coast('C3', 0.06)])).toEqual(['coast-force-rise 1']);
  });

  it('what cannot be allowed for is said', () => {
    const found = health([coast('C1', 0), coast('C2', 0)]);
    expect(found.changes[0]?.notCorrected).toContain('no axle, gearbox or tyre temperature');
    expect(found.changes[0]?.change.value).toBe(found.changes[0]?.raw.value);
  });

  it('oil hotter than at the reference lifts the cap that other straps put on a rise', () => {
    const at = (kN: number, axle: number) => ({ settings: { straps: `${kN} kN` }, axle });
    const found = health([coast('C1', 0, at(0, 70)), pull, coast('C2', 0.25, at(5, 95))]);
    expect(found.findings.map(({ stopClass }) => stopClass)).toEqual([2]);
  });
});

describe('engine drag', () => {
  it('is the difference in gear, as torque at the crank and as mean effective pressure', () => {
    const found = health([coast('C1', 0), inGear('G1', 38), coast('C2', 0)]).drags[0];
    expect(found?.torque.value).toBeCloseTo(38, 6);
    expect(found?.engineSpeed).toBeCloseTo(RATIO * 34.5, 6);
    expect(found?.pressure?.value).toBeCloseTo((38 * 4 * Math.PI) / 2.48e-3, 0);
    expect(found?.open).toEqual(['C1', 'C2']);
    expect(found?.torque.standardUncertainty).toBeGreaterThan(0.2);
  });

  it('cannot be told without one with the clutch open', () => {
    expect(health([inGear('G1', 38)]).unknown.map(({ what }) => what)).toContain('engine drag');
  });

  it.each([
    [38, []],
    [39.5, []],
    [43.5, ['engine-drag-rise 2']],
    [49, ['engine-drag-rise 3']],
  ])('that goes from 38 to %d N·m gives %j', (torque, wanted) => {
    const found = classes([
      coast('C1', 0),
      inGear('G1', 38),
      coast('C2', 0),
      pull,
      coast('C3', 0),
      inGear('G2', torque),
    ]);
    expect(found.filter((one) => one.startsWith('engine'))).toEqual(wanted);
  });

  it('stays when the axle drags more, in gear and with the clutch open alike', () => {
    const found = health([coast('C1', 0), inGear('G1', 38), pull, coast('C2', 0.4), inGear('G2', 38, { share: 0.4 })]);
    expect(found.dragChanges[0]?.change.value).toBeCloseTo(0, 2);
    expect(found.findings.some(({ kind }) => kind === 'engine-drag-rise')).toBe(false);
    expect(found.findings.find(({ entry }) => entry === 'G2')?.why ?? 'not the engine').toContain('not the engine');
  });

  it('is compared at equal oil temperature where it is known', () => {
    const found = health([
      coast('C1', 0),
      inGear('G1', 38, { oil: 70 }),
      pull,
      coast('C2', 0),
      inGear('G2', 35, { oil: 100 }),
    ]);
    expect(found.dragChanges[0]?.corrected).toBe(true);
    expect(found.dragChanges[0]?.change.value).toBeCloseTo((35 / 38) * (1 + 0.004 * 30) - 1, 6);
  });

  it('gets back the turning mass that a fit without a ratio left out', () => {
    const without = {
      facts: { id: 'G1', clutch: 'in gear' as const },
      losses: [inventedLoss([600, 3.2], { clutch: 'in gear' })],
    };
    const speeds = [
      inventedTrack('roll-speed', 'speed', [0, 60, 20, (t) => 54 - 0.6 * t]),
      inventedTrack('engine-speed', 'engine-speed', [0, 60, 20, (t) => RATIO * (54 - 0.6 * t)]),
    ];
    const found = health([coast('C1', 0), { ...without, tracks: speeds }]);
    expect(found.readings[1]?.ratio).toBeCloseTo(RATIO, 2);
    expect(found.readings[1]?.scale).toBeCloseTo(1 + (0.16 * RATIO ** 2) / 480, 4);
  });
});
