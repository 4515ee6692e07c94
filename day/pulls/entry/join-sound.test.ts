import { describe, expect, it } from 'vitest';
import type { Channel, Recording } from '../../channels/index.ts';
import { heardSound, samplesOf, throughWave } from '../../channels/sound/testing/heard-sound.ts';
import { inventedSound } from '../../channels/sound/testing/invented-sound.ts';
import type { DayFacts } from '../facts.ts';
import { withDayClocks } from './day-clocks.ts';
import { entrySound, isSoundRecording } from './entry-sound.ts';
import { joinEntry } from './join-entry.ts';
import { entryLogs } from './logs.ts';
import { openEntry } from './open-entry.ts';

/** An invented pull on the roller's clock: hold, tip-in, ramp, lift-off [rpm]. */
function rpm(time: number): number {
  if (time < 3) return 2400;
  if (time < 9) return 2400 + 600 * (time - 3);
  return Math.max(2600, 6000 - 900 * (time - 9));
}

/** The engine log begins this much after the roller's, the sound this much [s]. */
const [ENGINE_LATE, SOUND_LATE] = [0.8, 1.37];

function log(
  file: string,
  rate: number,
  channels: readonly (readonly [Channel['meaning'], Channel['kind'], (t: number) => number])[],
): Recording {
  const times = Float64Array.from({ length: 15 * rate }, (_, i) => i / rate);
  return {
    ...{ source: '', file, findings: [] },
    clock: { name: file, times, pieces: [{ from: 0, to: times.length }] },
    channels: channels.map(([meaning, kind, value]) => ({
      ...{ name: meaning, meaning, kind, refreshRate: rate, origin: 'measured' },
      samples: times.map(value),
      mask: new Uint8Array(times.length),
    })),
  };
}

const roller = log('roller', 50, [
  ['roll-speed', 'speed', (t) => Math.round(rpm(t) * 0.8) / 100],
  ['brake-force', 'force', (t) => (t > 3 && t < 9 ? 3000 : 200)],
]);
const engine = log('engine', 20, [
  ['engine-speed', 'engine-speed', (t) => (rpm(t + ENGINE_LATE) * 2 * Math.PI) / 60],
  ['throttle', 'fraction', (t) => (t + ENGINE_LATE > 3 && t + ENGINE_LATE < 9 ? 1 : 0.1)],
]);
const sound: Recording = {
  ...heardSound({ duration: 12, rpm: (t) => rpm(t + SOUND_LATE), snr: 15, seed: 4 }),
  file: 'sound.wav',
};
/** Steady running, then a slow sway: another afternoon. */
const foreign: Recording = {
  ...heardSound({ duration: 12, rpm: (t) => 3000 + 250 * Math.sin(2.3 * t) * Math.sin(0.9 * t), seed: 5 }),
  file: 'other.wav',
};

function roughnessOf(joined: ReturnType<typeof joinEntry>) {
  return joined?.record.tracks.filter(({ channel }) => channel.meaning === 'acoustic-roughness') ?? [];
}

describe('a sound beside the logs of an entry', () => {
  it('is told by what it holds, and a log that was written with roughness in it is a log', () => {
    expect([sound, roller, engine].map(isSoundRecording)).toEqual([true, false, false]);
    expect(isSoundRecording({ channels: [...roller.channels, ...sound.channels] })).toBe(false);
    expect(isSoundRecording({ channels: [] })).toBe(false);
  });

  it('is laid on the roller’s clock and adds its roughness alone, as derived', () => {
    const joined = joinEntry({ recordings: [sound, roller, engine] });
    expect(joined?.logs).toMatchObject({ roller: { file: 'roller' }, engine: { file: 'engine' } });
    const rough = roughnessOf(joined);
    expect(rough.map(({ channel, file }) => [channel.name, channel.origin, file])).toEqual(
      sound.channels
        .filter(({ meaning }) => meaning === 'acoustic-roughness')
        .map(({ name }) => [name, 'derived', 'sound.wav']),
    );
    expect(rough.length).toBe(3);
    const whole = samplesOf(sound, 'acoustic roughness');
    const middle = whole.findIndex((value, i) => i > 100 && Number.isFinite(value));
    const at = rough[0]?.channel.samples.indexOf(whole[middle]) ?? -1;
    expect(Math.abs((rough[0]?.times[at] ?? 0) - (middle / 20 + SOUND_LATE))).toBeLessThan(0.05);
    const speeds = joined?.record.tracks.filter(({ channel }) => channel.meaning === 'engine-speed');
    expect(speeds?.map(({ file }) => file)).toEqual(['engine']);
    expect(joined?.findings.map(({ kind }) => kind)).toContain('sound-joined');
  });

  it('changes nothing of the record of the logs', () => {
    const plain = joinEntry({ recordings: [roller, engine] });
    const joined = joinEntry({ recordings: [roller, engine, sound] });
    expect(joined?.record.tracks.slice(0, plain?.record.tracks.length)).toEqual(plain?.record.tracks);
    expect(joined?.alignment).toEqual(plain?.alignment);
    expect(joined?.sounds?.[0]?.alignment?.by).toBe('speed');
  });

  it('is no engine log beside a roller log alone', () => {
    const joined = joinEntry({ recordings: [roller, sound] });
    expect(joined?.logs.engine).toBeUndefined();
    expect(joined?.record.tracks.some(({ channel }) => channel.meaning === 'engine-speed')).toBe(false);
    expect(roughnessOf(joined)).toHaveLength(3);
    expect(joined?.findings.map(({ kind }) => kind)).toContain('sound-speed-unchecked');
    expect(entryLogs([roller]).engine).toBeUndefined();
  });

  it('lies on an engine log alone too', () => {
    const joined = joinEntry({ recordings: [sound, engine] });
    expect(joined?.logs).toMatchObject({ roller: undefined, engine: { file: 'engine' } });
    const offset = joined?.sounds?.[0]?.alignment?.pieces[0]?.offset ?? Number.NaN;
    expect(Math.abs(offset + SOUND_LATE - ENGINE_LATE)).toBeLessThan(0.05);
  });

  it('is left out with the reason when it is of another run', () => {
    const joined = joinEntry({ recordings: [roller, engine, foreign] });
    expect(roughnessOf(joined)).toEqual([]);
    const [finding] = joined?.findings.filter(({ kind }) => kind === 'sound-not-joined') ?? [];
    expect(finding).toMatchObject({ weight: 'doubt', place: { file: 'other.wav' } });
    expect(finding?.message).toMatch(/^other\.wav is left out: (invalid|ambiguous)/);
    expect(joined?.record).toEqual(joinEntry({ recordings: [roller, engine] })?.record);
  });

  it('is left out when it turns at another speed than the logged one', () => {
    const twice: Recording = {
      ...sound,
      channels: sound.channels.map((channel) =>
        channel.meaning === 'engine-speed'
          ? { ...channel, samples: channel.samples.map((value) => value / 2) }
          : channel,
      ),
    };
    const [left] = joinEntry({ recordings: [roller, engine, twice] })?.sounds ?? [];
    expect(left).toMatchObject({ tracks: [], refusal: { kind: 'speeds-disagree', numbers: { limit: 0.03 } } });
    expect(left?.refusal?.numbers?.['ratio']).toBeCloseTo(0.5, 2);
  });

  it('cannot be laid on anything while the number of cylinders is unknown', () => {
    const { samples, rate } = inventedSound({ duration: 6, rpm: (t) => 2000 + 500 * t });
    const heard = entrySound(throughWave([samples], rate), {});
    if (!heard.ok) throw new Error(heard.refusal.message);
    const [left] = joinEntry({ recordings: [roller, heard.value] })?.sounds ?? [];
    expect(left?.refusal?.kind).toBe('missing-cylinders');
  });

  it('with no log is shown on its own clock and nothing rests on it', () => {
    const joined = joinEntry({ recordings: [sound] });
    expect(joined?.logs).toMatchObject({ roller: undefined, engine: undefined });
    expect(roughnessOf(joined)).toHaveLength(3);
    expect(joined?.record.tracks).toHaveLength(3);
    expect(joined?.findings[0]?.kind).toBe('sound-alone');
  });
});

const DAY: DayFacts = {
  ...{ title: 'invented', place: {}, vehicle: {}, engine: {}, roller: {}, ambient: {} },
  ...{ entries: [], mappings: [] },
};

it('stays in the record when the clocks of the day are turned', () => {
  const ids = ['a', 'b', 'c', 'd'];
  const facts = (id: string) => ({ id, kind: 'pull' as const, files: [], settings: {} });
  const opened = new Map(ids.map((id) => [id, openEntry(facts(id), [roller, engine, sound], DAY)]));
  for (const open of withDayClocks(opened).values()) expect(roughnessOf(open?.joined)).toHaveLength(3);
});

it('is not looked for far above a stated redline', () => {
  const { samples, rate } = inventedSound({ duration: 6, rpm: () => 5400, cylinders: 4 });
  const wave = throughWave([samples], rate);
  const free = entrySound(wave, { cylinders: 4, strokesPerCycle: 4 });
  const redline = { value: (4000 / 60) * 2 * Math.PI, standardUncertainty: 0 };
  const bound = entrySound(wave, { cylinders: 4, strokesPerCycle: 4, redline });
  const top = (recording: Recording) =>
    Math.max(...samplesOf(recording, 'engine speed from sound').filter(Number.isFinite));
  if (!free.ok) throw new Error(free.refusal.message);
  expect((top(free.value) / 2 / Math.PI) * 60).toBeCloseTo(5400, -2);
  expect(bound.ok ? (top(bound.value) / 2 / Math.PI) * 60 : 0).toBeLessThan(4601);
});
