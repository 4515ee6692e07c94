import { KINDS } from '../../core/quantities/index.ts';
import type { JoinedRecord, PowerCurve, PullResult } from '../../day/pulls/index.ts';
import { type ExportChannel, type ExportFormat, exportChannels } from '../files/index.ts';

/** What of an entry goes into a file: its curves point by point, or every channel of its joined record. */
export type ExportedPart = 'curves' | 'channels';

/** The curves of an entry's pulls as the bytes of a file, SI units, one row a point in the order of the record's time. */
export function exportedCurves(pulls: readonly PullResult[], format: ExportFormat): Uint8Array {
  const curves = pulls.map(({ curve }) => curve).filter(({ time }) => time.some(Number.isFinite));
  return exportChannels({ channels: curveChannels(curves), format });
}

/** Every channel of a joined record on its common clock, SI units; what must not be used is left empty. */
export function exportedRecord({ tracks }: JoinedRecord, format: ExportFormat): Uint8Array {
  const channels = tracks.map(({ channel, times }): ExportChannel => {
    const position = channel.position === undefined ? '' : `, ${channel.position}`;
    return {
      name: `${channel.name}${position}`,
      unit: KINDS[channel.kind].si,
      times,
      samples: channel.samples.map((sample, i) => (channel.mask[i] === 0 ? sample : Number.NaN)),
    };
  });
  return exportChannels({ channels, format });
}

type Series = {
  [Name in keyof PowerCurve]-?: PowerCurve[Name] extends Float64Array ? Name : never;
}[keyof PowerCurve];

/** Columns of an exported curve, in order: series, name, unit. */
const COLUMNS: readonly (readonly [Series, string, string])[] = [
  ['engineSpeed', 'engine speed', 'rad/s'],
  ['rollSpeed', 'roll speed', 'm/s'],
  ['brakePower', 'power from the logged force', 'W'],
  ['rollInertiaPower', 'power accelerating the rolls', 'W'],
  ['rollPower', 'roll power', 'W'],
  ['slip', 'slip', '1'],
  ['tyrePower', 'wheel power', 'W'],
  ['rollingLossPower', 'rolling loss', 'W'],
  ['wheelInertiaPower', 'power accelerating the wheels', 'W'],
  ['torqueLossPower', 'loss in the meshes', 'W'],
  ['engineInertiaPower', 'power accelerating the engine', 'W'],
  ['enginePower', 'engine power', 'W'],
  ['correctedPower', 'corrected power', 'W'],
  ['rollPowerUncertainty', 'roll power, standard uncertainty', 'W'],
  ['tyrePowerUncertainty', 'wheel power, standard uncertainty', 'W'],
  ['enginePowerUncertainty', 'engine power, standard uncertainty', 'W'],
];

function curveChannels(curves: readonly PowerCurve[]): readonly ExportChannel[] {
  const joined = (of: (curve: PowerCurve) => ArrayLike<number>): Float64Array =>
    Float64Array.from(
      curves.flatMap((curve) => Array.from(of(curve)).filter((_, i) => Number.isFinite(curve.time[i]))),
    );
  const times = joined(({ time }) => time);
  const number = joined((curve) => Array.from(curve.time, () => curves.indexOf(curve) + 1));
  const valid = joined(({ valid }) => valid);
  return [
    { name: 'pull', unit: '1', times, samples: number },
    ...COLUMNS.map(([series, name, unit]) => ({ name, unit, times, samples: joined((curve) => curve[series]) })),
    { name: 'valid', unit: '1', times, samples: valid },
  ];
}
