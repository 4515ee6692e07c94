import { clockText } from '../day-text.ts';
import { at } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import { ratingFactor, runningMean } from '../rig/corrected-power.ts';
import { cell, type LogDialect, logBytes } from '../rig/log-text.ts';
import { type RollRun, STEP } from '../rig/roll-run.ts';
import type { InstrumentErrors, MadeFile } from '../truth.ts';

const HERTZ = 50;

/** How the roller's program writes time in this entry. startClock: s after midnight. */
export type RollerTime =
  | { readonly kind: 'elapsed' }
  | {
      readonly kind: 'clock';
      readonly startClock: number;
      readonly jump?: { readonly seconds: number; readonly share: number };
    };

/** The roller's file of one run. end: last row [s]; forceZero: N; probe: what the ambient probe shows. gap: [from, to) in s without rows. */
export function rollerLog(input: {
  name: string;
  run: RollRun;
  end: number;
  instruments: InstrumentErrors;
  forceZero: number;
  brakeLimit: number;
  /** Equivalent mass that the roller program believes in [kg]. */
  statedMass: number;
  probe: { temperature: number; pressure: number; humidity: number };
  time: RollerTime;
  /** What the roller's PC shows at the first row [s of the day]. */
  started: number;
  gap: { from: number; to: number } | undefined;
  newline: '\n' | '\r\n';
  noise: Chance | undefined;
}): MadeFile {
  const count = Math.floor(input.end * HERTZ) + 1;
  const seen = sensed(input, count);
  const lines = [
    'Trailer roller "Flatland twin" (invented)',
    `Date 2041-09-12 ${clockText(input.started)}`,
    'Invented data: no real vehicle, place or person',
    `${input.time.kind === 'clock' ? 'clock' : 't'},speed_kmh,force_N,brake_pct,temp_C,baro_kPa,rh,power`,
  ];
  for (let row = 0; row < count; row += 1) {
    const seconds = row / HERTZ;
    if (input.gap && seconds >= input.gap.from && seconds < input.gap.to) continue;
    lines.push(
      [
        timeCell(input.time, seconds, input.end),
        cell(at(seen.speed, row), 2, '.'),
        cell(at(seen.force, row), 1, '.'),
        cell(at(seen.brake, row), 1, '.'),
        cell(at(seen.temperature, row), 1, '.'),
        cell(at(seen.pressure, row), 2, '.'),
        cell(at(seen.humidity, row), 0, '.'),
        cell(at(seen.power, row), 2, '.'),
      ].join(','),
    );
  }
  lines.push('');
  const dialect: LogDialect = {
    delimiter: ',',
    decimal: '.',
    newline: input.newline,
    encoding: 'utf-8',
    byteOrderMark: false,
  };
  return { name: input.name, bytes: logBytes(lines.join(input.newline), dialect) };
}

type Input = Parameters<typeof rollerLog>[0];

/** Everything the roller's instruments show, row by row, and the power its program makes of it. */
function sensed(input: Input, count: number) {
  const { run, instruments, noise } = input;
  const phase = noise ? noise.between(0, 6.28) : 0;
  const normal = (size: number): number => (noise ? size * noise.normal() : 0);
  const rows = { speed: new Float64Array(count), force: new Float64Array(count), brake: new Float64Array(count) };
  const air = {
    temperature: new Float64Array(count),
    pressure: new Float64Array(count),
    humidity: new Float64Array(count),
  };
  const raw = new Float64Array(count);
  for (let row = 0; row < count; row += 1) {
    const seconds = row / HERTZ;
    const index = Math.min(run.rollSpeed.length - 1, Math.round((seconds - run.from) / STEP));
    const speed = at(run.rollSpeed, index);
    const brake = at(run.brakeForce, index);
    rows.speed[row] = Math.round((speed * 3.6 * (1 + instruments.speedGain) + normal(0.02)) / 0.05) * 0.05;
    // The frame rings at 9 Hz while the brake works; with the brake open little of it is left.
    const ripple = noise ? 25 * (brake > 20 ? 1 : 0.15) * Math.sin(2 * Math.PI * 9 * seconds + phase) : 0;
    rows.force[row] = brake * (1 + instruments.forceGain) + input.forceZero + ripple + normal(14);
    rows.brake[row] = Math.round((200 * brake) / input.brakeLimit) / 2;
    const renewed = row % HERTZ === 0 || row === 0;
    air.temperature[row] = renewed ? input.probe.temperature + normal(0.06) : at(air.temperature, row - 1);
    air.pressure[row] = renewed ? input.probe.pressure + normal(0.01) : at(air.pressure, row - 1);
    air.humidity[row] = renewed ? 100 * input.probe.humidity + normal(0.4) : at(air.humidity, row - 1);
    const whole = at(rows.force, row) + input.statedMass * at(run.rollAcceleration, index);
    raw[row] = (whole * speed) / 1e3;
  }
  const smooth = runningMean(raw, Math.round(0.4 * HERTZ));
  const power = smooth.map(
    (value, row) => value * ratingFactor(at(air.temperature, row), at(air.pressure, row), at(air.humidity, row) / 100),
  );
  return { ...rows, ...air, power };
}

function timeCell(time: RollerTime, seconds: number, end: number): string {
  if (time.kind === 'elapsed') return seconds.toFixed(2);
  const back = time.jump && seconds >= time.jump.share * end ? time.jump.seconds : 0;
  const total = Math.round((time.startClock + seconds - back) * 100) / 100;
  const pad = (value: number): string => String(value).padStart(2, '0');
  const rest = total - Math.floor(total / 60) * 60;
  return `${pad(Math.floor(total / 3600))}:${pad(Math.floor(total / 60) % 60)}:${rest.toFixed(2).padStart(5, '0')}`;
}
