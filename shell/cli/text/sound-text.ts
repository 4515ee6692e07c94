import { median } from '../../../core/numerics/index.ts';
import { formatQuantity } from '../../../core/quantities/index.ts';
import type { Channel, Recording } from '../../../day/channels/index.ts';
import type { HeardSound } from '../heard-sound.ts';
import { findingLines } from './findings.ts';
import { textTable, wrapped } from './table.ts';

/** What a sound tells, in SI. All arrays as long as `times` [s], NaN where nothing is told; speed: [rad/s], or [Hz] where the cylinders are unknown. */
export interface Told {
  readonly what: 'engine speed' | 'firing frequency';
  readonly times: Float64Array;
  readonly speed: Float64Array;
  readonly standardUncertainty: Float64Array;
  readonly confidence: Float64Array;
  readonly roughness: Float64Array;
}

/** The figures of a heard sound. */
export function toldBy({ channels, clock }: Recording): Told {
  const named = (start: string): Channel | undefined => channels.find(({ name }) => name.startsWith(start));
  const samples = (start: string): Float64Array =>
    named(start)?.samples ?? new Float64Array(clock.times.length).fill(Number.NaN);
  const what = named('engine speed') ? 'engine speed' : 'firing frequency';
  return {
    what,
    times: clock.times,
    speed: samples(what),
    standardUncertainty: samples('standard uncertainty'),
    confidence: samples('confidence'),
    roughness: samples('acoustic roughness'),
  };
}

/** Rows of the course that are shown. @source our default */
const ROWS = 12;
/** Cylinder counts that a firing frequency is turned into a speed for. @source our default: the usual ones */
const USUAL = [3, 4, 5, 6, 8];

/** A sound: how it was recorded, the course of the engine's speed in it, what must be known. */
export function soundText({ path, reading, recording }: HeardSound, width: number): string {
  const { format } = reading.table;
  const how =
    format.kind === 'sound'
      ? `${format.seconds.toFixed(1)} s, ${format.tracks} ${format.tracks === 1 ? 'track' : 'tracks'} at ${format.recordedRate} Hz`
      : '';
  const findings = findingLines(recording.ok ? recording.value.findings : reading.findings, width);
  return [
    `${path}: sound, ${how}`,
    ...(recording.ok ? ['', ...courseText(toldBy(recording.value), width)] : []),
    ...(findings.length > 0 ? ['', 'Findings', ...findings] : []),
  ].join('\n');
}

function courseText(told: Told, width: number): readonly string[] {
  const { what, speed, standardUncertainty, confidence, times, roughness } = told;
  const known = speed.filter(Number.isFinite);
  const kind = what === 'engine speed' ? 'engine-speed' : 'frequency';
  const decimals = what === 'engine speed' ? 0 : 1;
  const [low, high] = [Math.min(...known), Math.max(...known)];
  const share = known.length / Math.max(1, speed.length);
  const relative = median(
    standardUncertainty.map((value, i) => value / (speed[i] ?? Number.NaN)),
    'skip',
  );
  const text = (value: number | undefined): string =>
    formatQuantity(value ?? Number.NaN, kind, { unit: false, decimals });
  const step = Math.max(1, Math.ceil(times.length / ROWS));
  const rows = [...times.keys()]
    .filter((i) => i % step === 0)
    .map((i) => [
      (times[i] ?? Number.NaN).toFixed(2),
      text(speed[i]),
      percent(confidence[i], 0),
      formatQuantity(roughness[i] ?? Number.NaN, 'ratio', { decimals: 2 }),
    ]);
  const unit = formatQuantity(high, kind, { decimals }).replace(/^\S+ /, '');
  const heading = (name: string) => ({ heading: name, align: 'right' as const });
  return [
    wrapped(
      `${what === 'engine speed' ? 'Engine speed' : 'Firing frequency'} in the sound: ${text(low)} – ${text(high)} ${unit}, told in ${percent(share, 0)} of it, ± ${percent(2 * relative, 2)} in the middle (two standard uncertainties)`,
      width,
    ),
    ...(what === 'engine speed' ? [] : [wrapped(speedsText(low, high), width)]),
    '',
    textTable([heading('s'), heading(unit), heading('sure'), heading('roughness')], rows, width),
  ];
}

/** What a firing frequency is as engine speed for the usual cylinder counts. @source even firing of a four-stroke: speed = 2 f / cylinders */
function speedsText(low: number, high: number): string {
  const rpm = (hertz: number, cylinders: number): string => ((120 * hertz) / cylinders).toFixed(0);
  const each = USUAL.map((cylinders) => `${cylinders} cylinders ${rpm(low, cylinders)} – ${rpm(high, cylinders)} rpm`);
  return `As a four-stroke with ${each.join(', ')}; state which with --fact "cylinders = NUMBER"`;
}

function percent(share: number | undefined, decimals: number): string {
  return share === undefined || !Number.isFinite(share) ? '–' : `${(100 * share).toFixed(decimals)} %`;
}
