import { describe, expect, it } from 'vitest';
import { detections } from '../detectors.ts';
import type { Fault } from '../fault.ts';
import {
  breakup,
  clutchSlips,
  dragging,
  knocking,
  leak,
  leans,
  lifting,
  limiter,
  oscillation,
  pumpStarves,
  soaked,
  syncLoss,
  tyreSlip,
} from '../testing/faults.ts';
import { type Invented, inventedPull } from '../testing/invented-pull.ts';
import { limitsWith } from '../thresholds.ts';
import type { Occurrence } from '../verdict.ts';
import { lookAlikesOf, windowsMeet } from './look-alikes.ts';
import { made } from './testing/made.ts';
import { weigh } from './weigh.ts';

const limits = limitsWith();

function told(invented: Invented): readonly Occurrence[] {
  const scene = inventedPull(invented);
  return weigh(scene, detections(scene, limits), limits);
}

/** Faults that are believed, the first causes of their occurrences. */
function believed(invented: Invented): readonly Fault[] {
  return told(invented).flatMap(({ hypotheses: [first] }) => (first.probability >= 0.5 ? [first.fault] : []));
}

/** Two inventions in one pull. */
function together(one: Invented, other: Invented): Invented {
  return { ...one, ...other, change: { ...one.change, ...other.change } };
}

const company = { references: [{}, {}] };
/** The look-alikes of the trade, one by one. @source common practice, no source */
const TABLE: readonly { readonly name: string; readonly pull: Invented; readonly fault: Fault }[] = [
  { name: 'bursts of misfire', pull: { ...breakup(), ...company }, fault: 'ignition-breakup' },
  { name: 'a lost trigger', pull: { ...syncLoss(), ...company }, fault: 'lost-sync' },
  { name: 'a limiter', pull: { ...limiter(), ...company }, fault: 'rev-or-torque-cut' },
  { name: 'a slipping tyre', pull: { ...tyreSlip(), ...company }, fault: 'wheel-slip' },
  { name: 'a slipping clutch', pull: { ...clutchSlips(), ...company }, fault: 'clutch-slip' },
  { name: 'boost that swings', pull: { ...oscillation(), ...company }, fault: 'boost-oscillation' },
  { name: 'a starving pump', pull: { ...pumpStarves(), ...company }, fault: 'fuel-pressure-drop' },
  { name: 'a lean mixture', pull: { ...leans(), ...company }, fault: 'lean-mixture' },
  { name: 'knock with its retard', pull: { ...knocking(), ...company }, fault: 'knock' },
  { name: 'a driveline that drags', pull: dragging(), fault: 'driveline-loss-rising' },
  { name: 'a head that lifts', pull: lifting(), fault: 'head-lift' },
  { name: 'a leak', pull: leak(), fault: 'boost-leak' },
  { name: 'a soaked cooler', pull: soaked(), fault: 'charge-heat-soak' },
];

describe('look-alikes', () => {
  it.each(TABLE)('do not hide $name: $fault is the first cause or the second', ({ pull, fault }) => {
    const ranks = told(pull).map(({ hypotheses }) => hypotheses.findIndex((one) => one.fault === fault));
    expect(ranks.some((rank) => rank === 0 || rank === 1)).toBe(true);
  });

  it.each(TABLE)('are not believed beside $name', ({ pull, fault }) => {
    const others = believed(pull).filter((one) => one !== fault && one !== 'power-shortfall');
    expect(others).toEqual([]);
  });

  it('leave most of the table to its own cause, believed', () => {
    const right = TABLE.filter(({ pull, fault }) => believed(pull).includes(fault));
    expect(right.length).toBeGreaterThanOrEqual(Math.ceil(0.7 * TABLE.length));
  });

  it('are not believed in a clean pull', () => {
    for (const seed of [3, 4, 5]) expect(believed({ seed, ...company })).toEqual([]);
  });

  it('leave two faults that do not compete side by side', () => {
    const both = believed(together(tyreSlip(), knocking()));
    expect([...both].sort()).toEqual(['knock', 'wheel-slip']);
  });

  it('cannot be parted without the driven wheel: slip of tyre and clutch', () => {
    const [only] = told({ ...tyreSlip(), ...company, without: ['wheel-speed'] }).filter(({ hypotheses }) =>
      hypotheses.some(({ fault }) => fault === 'wheel-slip'),
    );
    const pair = only.inseparable.find(({ one, other }) => [one, other].sort().join() === 'clutch-slip,wheel-slip');
    expect(pair?.without).toContain('wheel-speed');
    expect(only.next?.parts).toEqual(expect.arrayContaining(['wheel-slip', 'clutch-slip']));
  });

  it('hold a starving pump until it is checked, whichever of its causes leads', () => {
    expect(Math.max(...told({ ...pumpStarves(), ...company }).map(({ stopClass }) => stopClass))).toBe(2);
  });
});

describe('who competes with whom', () => {
  it('holds both ways, whoever lists it', () => {
    const found = lookAlikesOf([made('surge', { lookAlikes: ['knock'] }), made('knock')], {});
    expect(found.get('knock')?.has('surge')).toBe(true);
    expect(found.get('surge')?.has('knock')).toBe(true);
  });

  it('adds what a fault was learnt to set off', () => {
    const found = lookAlikesOf([made('surge'), made('knock')], { surge: ['knock', 'surge'] });
    expect(found.get('knock')?.has('surge')).toBe(true);
    expect([...(found.get('surge') ?? [])]).toEqual(['knock', 'power-shortfall']);
  });
});

describe('windows', () => {
  it.each([
    { one: [{ from: 1, to: 2 }], other: [{ from: 2.5, to: 3 }], expected: true },
    { one: [{ from: 1, to: 2 }], other: [{ from: 2.51, to: 3 }], expected: false },
    { one: [], other: [{ from: 2.51, to: 3 }], expected: true },
    {
      one: [{ from: 5, to: 6 }],
      other: [
        { from: 1, to: 2 },
        { from: 3, to: 4.6 },
      ],
      expected: true,
    },
  ])('meet within the slack: $expected', ({ one, other, expected }) => {
    expect(windowsMeet(one, other)).toBe(expected);
    expect(windowsMeet(other, one)).toBe(expected);
  });
});
