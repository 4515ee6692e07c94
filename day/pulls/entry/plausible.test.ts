import { expect, test } from 'vitest';
import { measured } from '../../../core/quantities/index.ts';
import type { Channel } from '../../channels/index.ts';
import type { DayFacts } from '../facts.ts';
import type { Track } from '../record.ts';
import { atTheSurface } from '../rolls/at-the-surface.ts';
import type { RollSide } from '../rolls/roll-side.ts';
import type { Segment } from '../segment.ts';
import { belongsToPull, contradictions, negativeForce } from './plausible.ts';

const times = Float64Array.from({ length: 500 }, (_, i) => i / 50);
const speed = times.map((t) => 16 + 3 * t);
const pieces = [{ from: 0, to: 500 }];

function side(force: number): RollSide {
  return {
    times,
    pieces,
    speed,
    force: times.map(() => force),
    forceKind: 'brake',
    setting: undefined,
    mass: measured(450, 0),
    massOrigin: 'test',
    refreshRate: 50,
    findings: [],
  };
}

function channel(meaning: Channel['meaning'], samples: Float64Array): Channel {
  return {
    name: meaning,
    meaning,
    kind: 'ratio',
    samples,
    mask: new Uint8Array(500),
    refreshRate: 50,
    origin: 'measured',
  };
}

const engine = (ratio: (t: number) => number): Track => ({
  channel: channel(
    'engine-speed',
    times.map((t, i) => ratio(t) * speed[i]),
  ),
  times,
  pieces,
  file: 'engine.csv',
});

const pull: Segment = {
  kind: 'full-load',
  from: 0,
  to: 500,
  fromTime: 0,
  toTime: 10,
  ratio: 13,
  lowSpeed: 16,
  highSpeed: 46,
  reason: 'test',
};

test('an engine speed that keeps its ratio belongs to the pull, slip of 10 % at the end included', () => {
  expect(
    belongsToPull(
      engine(() => 13.3),
      side(3000),
      pull,
    ),
  ).toBe(true);
  expect(
    belongsToPull(
      engine((t) => 13.3 * (t > 7 ? 1.1 : 1)),
      side(3000),
      pull,
    ),
  ).toBe(true);
});

test('a ratio that runs from 12.6 to 17.6 is another run’s log', () => {
  expect(
    belongsToPull(
      engine((t) => 12.6 + t / 2),
      side(3000),
      pull,
    ),
  ).toBe(false);
});

test('a driving force below zero is refused with its size, one above is not', () => {
  expect(negativeForce(side(-3000), [pull])?.numbers?.middle).toBe(-3000);
  expect(negativeForce(side(3000), [pull])).toBeUndefined();
  expect(negativeForce(side(-20), [])).toBeUndefined();
});

const day = (overallRatio: number, mass: number): DayFacts => ({
  title: '',
  place: {},
  vehicle: { overallRatio: measured(overallRatio, 0), tyreRadius: measured(0.33, 0) },
  engine: {},
  roller: { equivalentMass: measured(mass, 0) },
  ambient: {},
  entries: [],
  mappings: [],
});

test('a stated ratio 5.5 % off and a mass of 5 kg are contradicted, 4.5 % off and 450 kg are not', () => {
  const reference = {
    ratio: 4.402 / 0.33,
    growth: 0,
    spread: 0,
    growthSpread: 0,
    creep: 0,
    creepSpread: 0,
    origin: 'test',
  };
  expect(contradictions(day(4.402 * 1.055, 5), reference).map(({ kind }) => kind)).toEqual([
    'ratio-differs-from-stated',
    'implausible-mass',
  ]);
  expect(contradictions(day(4.402 * 1.045, 450), reference)).toEqual([]);
});

test('roll rotation and shaft torque stand as speed and force at the surface', () => {
  const clock = { name: 't', times, pieces };
  const channels = [
    channel(
      'roll-rotation',
      times.map(() => 100),
    ),
    channel(
      'roll-torque',
      times.map(() => 480),
    ),
  ];
  const moved = atTheSurface(
    { source: '', file: '', clock, channels, findings: [] },
    { rollRadius: measured(0.16, 0) },
  );
  expect(moved.channels.map(({ meaning, samples }) => [meaning, samples[0]])).toEqual([
    ['roll-speed', 16],
    ['brake-force', 3000],
  ]);
});

test('the zero of a brake that is off is no wrong sign: it is small beside what speeds the roll up', () => {
  expect(negativeForce(side(-22), [pull])).toBeUndefined();
  // As a whole force nothing else drives the roll: the same reading is refused.
  expect(negativeForce({ ...side(-22), forceKind: 'whole' }, [pull])?.kind).toBe('negative-force');
});
