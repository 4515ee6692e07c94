import { type Channel, MEANINGS, type Meaning, type Recording } from '../../../day/channels/index.ts';
import type { EntryLogs, JoinedRecord, Track } from '../../../day/pulls/index.ts';

const LENGTH = 16;

/** An invented record for tests: standstill, a ramp from 3 s to 12 s, run down. */
export function smallRecord(): JoinedRecord {
  const load = (t: number) => Math.min(1, Math.max(0, (t - 3) / 9)) - Math.max(0, (t - 12) / 6);
  const rpm = (t: number) => (t < 1.4 ? 900 : 3000 + 3900 * load(t)) * (Math.PI / 30);
  const ripple = (t: number, size: number) => size * Math.sin(t * 39);
  return {
    tracks: [
      track({ name: 'roll speed', meaning: 'roll-speed', rate: 50 }, (t) => (t < 1.4 ? 0 : rpm(t) * 0.075)),
      track(
        { name: 'force', meaning: 'brake-force', rate: 50 },
        (t) => (t < 1.4 ? -6 : 3800 * load(t)) + ripple(t, 20),
      ),
      track({ name: 'engine speed', meaning: 'engine-speed', rate: 100, file: 'engine.csv' }, rpm),
      track(
        { name: 'map', meaning: 'manifold-pressure', rate: 100, file: 'engine.csv' },
        (t) => 4e4 + 16e4 * Math.min(1, load(t) * 4) + ripple(t, 2e3),
      ),
      track({ name: 'map target', meaning: 'manifold-target', rate: 100, file: 'engine.csv' }, (t) =>
        t > 3 && t < 12 ? 2e5 : 4e4,
      ),
      track({ name: 'lambda', meaning: 'lambda', rate: 50, file: 'engine.csv' }, (t) =>
        t > 7 && t < 7.6 ? Number.NaN : 0.8 + ripple(t, 0.008),
      ),
      track(
        { name: 'timing', meaning: 'ignition-timing', rate: 100, file: 'engine.csv' },
        (t) => (14 + 3 * load(t)) * (Math.PI / 180),
      ),
      track({ name: 'battery', meaning: 'battery-voltage', rate: 20, file: 'engine.csv' }, (t) => 13.9 - 0.7 * load(t)),
    ],
    alignment: {
      clock: 'roller.csv',
      other: 'engine.csv',
      pieces: [
        {
          from: 0,
          to: LENGTH,
          offset: 3.42,
          rate: 180e-6,
          offsetUncertainty: 0.004,
          rateUncertainty: 3e-5,
          residual: 0.006,
          lags: Array.from({ length: 9 }, (_, at) => ({ time: 3 + at, lag: 0.006 * Math.sin(at * 2) })),
        },
      ],
      correlation: 0.9991,
      second: { correlation: 0.93, lag: 2.4 },
      by: 'speed',
    },
    findings: [],
  };
}

/** The clock of the invented engine log shows this much more than the roller's [s]. */
const TRUE_OFFSET = 3.52;

/** The same record as two logs, 0.1 s away from where the record says they were joined. */
export function smallLogs(): EntryLogs {
  const { tracks } = smallRecord();
  const log = (file: string, rate: number, shift: number): Recording => {
    const mine = tracks.filter((track) => track.file === file && track.channel.refreshRate === rate);
    const times = (mine[0]?.times ?? new Float64Array()).map((time) => time + shift);
    const clock = { name: file, times, pieces: [{ from: 0, to: times.length }] };
    return { source: file, file, clock, channels: mine.map(({ channel }) => channel), findings: [] };
  };
  return { roller: log('roller.csv', 50, 0), engine: log('engine.csv', 100, TRUE_OFFSET), findings: [] };
}

interface Wish {
  readonly name: string;
  readonly meaning: Meaning;
  readonly rate: number;
  readonly file?: string;
}

function track({ name, meaning, rate, file = 'roller.csv' }: Wish, of: (t: number) => number): Track {
  const count = LENGTH * rate;
  const times = Float64Array.from({ length: count }, (_, at) => at / rate);
  const samples = times.map(of);
  const channel: Channel = {
    name,
    meaning,
    kind: MEANINGS[meaning].kind,
    samples,
    mask: Uint8Array.from(samples, (value) => (Number.isNaN(value) ? 1 : 0)),
    refreshRate: rate,
    origin: 'measured',
  };
  return { channel, times, pieces: [{ from: 0, to: count }], file };
}
