import { loadavg } from 'node:os';
import { pullVerdict } from '../day/verdicts/pull-verdict.ts';
import { type PullScene, pullScene } from '../day/verdicts/scene/scene.ts';
import type { VerdictInput } from '../day/verdicts/verdict.ts';
import { makeVirtualDay } from '../scenarios/index.ts';
import { verdictsOf } from './verdicts/seen-day.ts';

/** What one verdict may take at 100 Hz [ms of processor time: the clock lies where others work too]. @source our aim */
const AIM = 100;
const CHANNELS = 100;
const RUNS = 15;
/** Runs before anything counts: the engine of the language compiles while they go on. */
const WARM = 10;
/** A day of four clean pulls, the last of them judged against the three before it. */
const DAY = { seed: 3, level: 'rich', pulls: 4 } as const;

/** Time of one verdict by the clock and of the processor, collecting and compiling threads included, and of one plain pass over the same samples [ms]. samples: of all channels together. */
export interface Judging {
  readonly hertz: number;
  readonly seconds: number;
  readonly channels: number;
  readonly samples: number;
  readonly median: number;
  readonly low: number;
  readonly high: number;
  readonly processor: number;
  readonly pass: number;
}

/** From joined records to the verdict of a pull: scene, all detectors, weighing, windows out of the power. @param hertz of both logs */
export function judgingBenchmark(hertz: number, runs = RUNS): Judging {
  const { asked } = verdictsOf(makeVirtualDay({ ...DAY, rates: { roller: hertz, engine: hertz } }));
  const last = asked.at(-1);
  if (!last) throw new Error('no pull');
  const record = padded(last.scene.record);
  const times: number[] = [];
  const processor: number[] = [];
  const passes: number[] = [];
  for (let run = -WARM; run < runs; run++) {
    const before = process.cpuUsage();
    const from = performance.now();
    const verdict = pullVerdict({ ...last, scene: again(last, record) });
    const took = performance.now() - from;
    const { user, system } = process.cpuUsage(before);
    if (verdict.detections.length === 0) throw new Error('no verdict');
    const pass = passOver(record);
    if (run >= 0) {
      times.push(took);
      processor.push((user + system) / 1000);
      passes.push(pass);
    }
  }
  times.sort((a, b) => a - b);
  processor.sort((a, b) => a - b);
  passes.sort((a, b) => a - b);
  const lengths = record.tracks.map(({ times: t }) => t[t.length - 1] - t[0]);
  return {
    hertz,
    seconds: Math.max(...lengths),
    channels: record.tracks.length,
    samples: record.tracks.reduce((sum, track) => sum + track.times.length, 0),
    ...{ median: times[runs >> 1], low: times[0], high: times[runs - 1] },
    ...{ processor: processor[runs >> 1], pass: passes[runs >> 1] },
  };
}

/** The scene built anew, so that nothing it was asked before is remembered; the pulls before it stay as the day holds them. */
function again({ scene }: VerdictInput, record: PullScene['record']): PullScene {
  const { entry, pull, segments, facts, slip, references, settings, block } = scene;
  return pullScene({
    entry,
    record,
    pull,
    segments,
    facts,
    slip,
    references,
    settings,
    ...(block === undefined ? {} : { block }),
  });
}

/** The record with its tracks said again under other names until there are a hundred: further banks, cylinders and wheels. */
function padded(record: PullScene['record']): PullScene['record'] {
  const own = record.tracks;
  const more = Array.from({ length: Math.max(0, CHANNELS - own.length) }, (_, k) => {
    const track = own[k % own.length];
    const position = `further ${k}`;
    return { ...track, channel: { ...track.channel, name: `${track.channel.name} ${position}`, position } };
  });
  return { ...record, tracks: [...own, ...more] };
}

function passOver({ tracks }: PullScene['record']): number {
  const from = performance.now();
  let sum = 0;
  for (const { channel } of tracks) for (const sample of channel.samples) sum += Number.isFinite(sample) ? sample : 0;
  if (Number.isNaN(sum)) throw new Error('no sum');
  return performance.now() - from;
}

/** Lines of text, with the ratio to the aim, to a plain pass over the samples, and how time grows with samples. */
export function judgingText(measured: readonly Judging[]): string {
  const [first] = measured;
  const last = measured[measured.length - 1];
  const grows = Math.log(last.processor / first.processor) / Math.log(last.samples / first.samples);
  return [
    'From joined records to the verdict of one pull (scene, all detectors, weighing), against three pulls before it:',
    ...measured.map(
      ({ hertz, seconds, channels, samples, median, low, high, processor, pass }) =>
        `  ${hertz} Hz, ${seconds.toFixed(0)} s, ${channels} channels, ${samples} samples: ${processor.toFixed(0)} ms of processor time, ${median.toFixed(0)} ms by the clock (${low.toFixed(0)}–${high.toFixed(0)}), ${(median / pass).toFixed(0)} × a plain pass`,
    ),
    `  at ${first.hertz} Hz against the aim of ${AIM} ms: ${(first.processor / AIM).toFixed(2)}; others on the machine: load ${loadavg()[0].toFixed(1)}`,
    `  grows with the samples to the power ${grows.toFixed(2)}`,
  ].join('\n');
}

if (import.meta.main) console.log(judgingText([100, 200, 400].map((hertz) => judgingBenchmark(hertz))));
