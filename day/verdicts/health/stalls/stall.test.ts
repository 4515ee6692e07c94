import { describe, expect, it } from 'vitest';
import type { EntryFacts, Track } from '../../../pulls/index.ts';
import { healthEntries } from '../entries.ts';
import { inventedDay, inventedTrack } from '../testing/invented-day.ts';
import { healthLimitsWith } from '../thresholds.ts';
import { stallHealth } from './stall.ts';

/** Engine speed that idles at 100 rad/s, is thrown up to 300 at 2 s and falls with `rate` rad/s²; it is caught at idle unless it stalls. */
function blip(rate: number, stalls: boolean): Track {
  return inventedTrack('engine-speed', 'engine-speed', [
    0,
    20,
    50,
    (t) => {
      const falling = 300 - rate * (t - 10);
      if (t < 2) return 100;
      if (t < 10) return 300;
      return stalls ? Math.max(0, falling) : Math.max(100, falling);
    },
  ]);
}

const dies =
  (at: number, before: number, after: number) =>
  (t: number): number =>
    t < at ? before : after + (before - after) * Math.exp(-(t - at) / 0.3);
const oil = (at: number, after = 0): Track =>
  inventedTrack('oil-pressure', 'gauge-pressure', [0, 20, 20, dies(at, 200e3, after)]);
const manifold = (at: number, after: number): Track =>
  inventedTrack('manifold-pressure', 'absolute-pressure', [0, 20, 50, dies(at, 38e3, after)]);
const volts = (at: number, after: number): Track =>
  inventedTrack('battery-voltage', 'voltage', [0, 20, 10, (t) => (t < at ? 13.9 : after)]);
const cut = (at: number): Track => inventedTrack('cut-status', 'count', [0, 20, 50, (t) => (t < at ? 0 : 1)]);
const none: Track = inventedTrack('cut-status', 'count', [0, 20, 50, () => 0]);

function stalls(
  days: readonly { readonly tracks: readonly Track[]; readonly facts?: Partial<EntryFacts> }[],
  known: { dragRisen?: string[]; oilFallen?: string[] } = {},
) {
  const input = inventedDay(days.map(({ tracks, facts }, i) => ({ facts: { id: `${i + 1}`, ...facts }, tracks })));
  return stallHealth({
    entries: healthEntries(input),
    limits: healthLimitsWith(),
    dragRisen: new Set(known.dragRisen),
    oilFallen: new Set(known.oilFallen),
  });
}

describe('stalls', () => {
  it('none where the engine is caught at idle, and none where it never ran', () => {
    expect(stalls([{ tracks: [blip(150, false)] }]).stalls).toEqual([]);
    expect(stalls([{ tracks: [inventedTrack('engine-speed', 'engine-speed', [0, 5, 50, () => 0])] }]).stalls).toEqual(
      [],
    );
  });

  it('cannot be looked for without an engine speed', () => {
    expect(stalls([{ tracks: [none] }]).unknown[0]).toMatchObject({ what: 'stalls', why: 'missing engine-speed' });
  });

  it('strong drag: falls faster than earlier, really stopped, nothing commanded, drag risen: class 3', () => {
    const fast = [blip(300, true), oil(11), manifold(11, 95e3), volts(11, 12.4), none];
    const found = stalls([{ tracks: [blip(150, false)] }, { tracks: fast }], { dragRisen: ['2'] }).stalls[0];
    expect(found).toMatchObject({ answer: 'strong engine drag', confirmed: true, stopClass: 3 });
  });

  it('confirmed, not commanded, but falling as usual: the cause cannot be told, and that is class 3 until explained', () => {
    const usual = [blip(150, true), oil(12), manifold(12, 95e3), volts(12, 12.4), none];
    const found = stalls([{ tracks: [blip(150, false)] }, { tracks: usual }]);
    expect(found.stalls[0]).toMatchObject({ answer: 'cannot tell', confirmed: true, stopClass: 3 });
    expect(found.unknown.map(({ what }) => what)).toContain('cause of the stall');
  });

  it('lost idle air: a swinging idle before it sags away: class 2', () => {
    const swinging = inventedTrack('engine-speed', 'engine-speed', [
      0,
      20,
      50,
      (t) => {
        const idle = 100 + 22 * Math.sin(4 * t);
        return t < 12 ? idle : Math.max(0, Math.min(idle, 100 - 35 * (t - 12)));
      },
    ]);
    const tracks = [swinging, oil(15), manifold(15, 95e3), volts(15, 12.4), none];
    const found = stalls([
      { tracks: [blip(150, false)], facts: { kind: 'pull' } },
      { tracks, facts: { kind: 'pull' } },
    ]).stalls[0];
    expect(found).toMatchObject({ answer: 'lost idle air or control', stopClass: 2 });
  });

  it('a sensor dropout: gone between two samples while oil pressure, manifold and charging stay', () => {
    const gone = inventedTrack('engine-speed', 'engine-speed', [0, 20, 50, (t) => (t > 12 && t < 14 ? 0 : 100)]);
    const steady = [oil(99), manifold(99, 95e3), volts(99, 12.4)];
    const found = stalls([{ tracks: [gone, ...steady, none] }]);
    expect(found.stalls[0]).toMatchObject({ answer: 'sensor dropout', confirmed: false, stopClass: 1 });
    expect(found.findings[0]?.subject).toBe('sensors');
  });

  it('switched off by hand: the supply goes, or a cut came first, or somebody wrote it', () => {
    const off = [blip(150, true), oil(12), volts(11, 0.2)];
    expect(stalls([{ tracks: off }]).stalls[0]).toMatchObject({ answer: 'switched off by hand', stopClass: 0 });
    const commanded = [blip(150, true), oil(12), manifold(12, 95e3), cut(10.5)];
    expect(stalls([{ tracks: commanded }]).stalls[0]?.answer).toBe('switched off by hand');
    const written = { tracks: [blip(150, true)], facts: { notes: 'In gear, ignition off.' } };
    expect(stalls([written]).stalls[0]?.answer).toBe('switched off by hand');
  });

  it('stopped by the rolls: tied to them down to a standstill', () => {
    const speed = (t: number): number => Math.max(0, 20 - 1.4 * t);
    const tied = [
      inventedTrack('roll-speed', 'speed', [0, 20, 50, speed]),
      inventedTrack('engine-speed', 'engine-speed', [0, 20, 50, (t) => 13 * speed(t)]),
    ];
    expect(stalls([{ tracks: [...tied, oil(13.5)] }]).stalls[0]).toMatchObject({
      answer: 'stopped with the rolls in gear',
      stopClass: 0,
    });
  });

  it('engine speed alone: refuses to name a cause and asks', () => {
    const found = stalls([{ tracks: [blip(150, true)] }]);
    expect(found.stalls[0]).toMatchObject({ answer: 'cannot tell', confirmed: true, stopClass: 2 });
    expect(found.findings[0]?.why).toContain('was it switched off by hand?');
  });
});
