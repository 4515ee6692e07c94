import { type QuantityKind, REVOLUTION } from '../../../core/quantities/index.ts';
import { type Channel, REASONS } from '../channel.ts';
import type { Meaning } from '../meanings.ts';
import { type Heard, LEAST_CONFIDENCE } from './heard.ts';
import type { AcousticRoughness } from './roughness.ts';
import { BLOCK, type Sound } from './sound.ts';

export interface SoundChannelsInput {
  readonly sound: Sound;
  readonly heard: Heard;
  readonly roughness: AcousticRoughness;
  /** Revolutions per cycle; undefined when cylinders are unknown and a cycle stands for one firing. */
  readonly turns: number | undefined;
  /** The speed was given, so it is not told again. */
  readonly given: boolean;
}

/** A window with more samples at full scale than this has no roughness [1]. @source our default */
const MOST_CLIPPED = 0.05;

/** The channels of a sound, all as long as its frames. */
export function soundChannels(input: SoundChannelsInput): readonly Channel[] {
  const { heard, roughness, turns, given } = input;
  const doubted = heard.rates.map((rate, i) =>
    Number.isNaN(rate)
      ? heard.confidence[i] < LEAST_CONFIDENCE
        ? REASONS.excluded
        : REASONS.outOfRange
      : REASONS.measured,
  );
  const spoilt = spoiltWindows(input, doubted);
  const rough = (name: string, samples: Float64Array, position?: string): Channel =>
    channel({
      name,
      meaning: 'acoustic-roughness',
      kind: 'fraction',
      origin: 'measured',
      samples,
      reasons: spoilt,
      ...(position ? { position } : {}),
    });
  const whole = rough('acoustic roughness', roughness.whole);
  const parts =
    turns === undefined
      ? []
      : [
          rough('acoustic roughness on orders of the cycle', roughness.cycle, 'on orders of the cycle'),
          rough('acoustic roughness between orders', roughness.between, 'between orders'),
        ];
  return given ? [whole, ...parts] : [...speedChannels(input, doubted), whole, ...parts];
}

function speedChannels({ heard, turns }: SoundChannelsInput, reasons: Float64Array): readonly Channel[] {
  const scale = turns === undefined ? 1 : turns * REVOLUTION;
  const what = turns === undefined ? 'firing frequency' : 'engine speed';
  const kind: QuantityKind = turns === undefined ? 'frequency' : 'engine-speed';
  const values = heard.rates.map((rate) => rate * scale);
  return [
    channel({
      name: `${what} from sound`,
      meaning: turns === undefined ? 'unknown' : 'engine-speed',
      kind,
      position: 'from sound',
      origin: 'measured',
      samples: values,
      reasons,
    }),
    channel({
      name: `standard uncertainty of ${what} from sound`,
      meaning: 'unknown',
      kind,
      origin: 'derived',
      samples: values.map((value, i) => value * heard.deviation[i]),
      reasons,
    }),
    channel({
      name: `confidence of ${what} from sound`,
      meaning: 'unknown',
      kind: 'fraction',
      origin: 'derived',
      samples: heard.confidence,
      reasons: new Float64Array(values.length),
    }),
  ];
}

/** Why a window has no roughness: the course is doubted, samples are missing in it, or it is clipped. */
function spoiltWindows({ sound, heard }: SoundChannelsInput, doubted: Float64Array): Float64Array {
  return doubted.map((reason, i) => {
    if (reason !== REASONS.measured) return reason;
    const half = heard.orders.length / 2 / heard.rates[i];
    const from = Math.max(0, Math.floor(i - half / BLOCK));
    const to = Math.ceil(i + half / BLOCK);
    const missing = sound.missing.subarray(from, to);
    const clipped = sound.clipped.subarray(from, to);
    if (missing.some((share) => share > 0)) return REASONS.unreadable;
    const share = clipped.reduce((sum, value) => sum + value, 0) / Math.max(1, clipped.length);
    return share > MOST_CLIPPED ? REASONS.saturated : REASONS.measured;
  });
}

interface ChannelInput {
  readonly name: string;
  readonly meaning: Meaning;
  readonly kind: QuantityKind;
  readonly position?: string;
  readonly origin: Channel['origin'];
  readonly samples: Float64Array;
  /** REASONS code per sample; a sample that is missing without one is `empty`. */
  readonly reasons: Float64Array;
}

function channel({ samples, reasons, ...rest }: ChannelInput): Channel {
  const mask = Uint8Array.from(reasons, (reason, i) =>
    reason === REASONS.measured && Number.isNaN(samples[i]) ? REASONS.empty : reason,
  );
  return {
    ...rest,
    samples: samples.map((value, i) => (mask[i] === REASONS.measured ? value : Number.NaN)),
    mask,
    refreshRate: 1 / BLOCK,
  };
}
