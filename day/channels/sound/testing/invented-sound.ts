import { type RandomSource, randomSource } from '../../../../core/numerics/index.ts';

/** An invented engine heard by an invented microphone; every part is ours and no real engine's. */
export interface InventedSound {
  /** [s] */
  readonly duration: number;
  /** Engine speed [rpm] at a time [s]. */
  readonly rpm: (time: number) => number;
  readonly cylinders?: number;
  /** Revolutions per working cycle: 2 (default) for a four-stroke. */
  readonly turns?: 1 | 2;
  /** Samples per second; default 22050. */
  readonly rate?: number;
  /** Strength of firing number n of the sound; default 1. */
  readonly strength?: (firing: number) => number;
  /** Random part of every firing's strength [1]; default 0.1. */
  readonly scatter?: number;
  /** Signal to noise [dB], the noise falling with frequency like that of a fan; default 20. */
  readonly snr?: number;
  /** Resonances of every blow: frequency [Hz], how fast they fade [s], strength [1]. */
  readonly rings?: readonly Ring[];
  /** Steady tones of the room, amplitude against the rms of engine and noise together. */
  readonly tones?: readonly { readonly frequency: number; readonly level: number }[];
  readonly seed?: number;
  /** Largest magnitude; default 0.5. */
  readonly peak?: number;
}

/** One resonance of a blow. */
export interface Ring {
  readonly frequency: number;
  readonly fade: number;
  readonly strength: number;
}

const RINGS: readonly Ring[] = [
  { frequency: 95, fade: 0.008, strength: 1 },
  { frequency: 310, fade: 0.004, strength: 0.6 },
  { frequency: 820, fade: 0.002, strength: 0.3 },
];

/** Share of full scale; each firing is a blow that rings and a burst of hiss. */
export function inventedSound(invented: InventedSound): { readonly samples: Float64Array; readonly rate: number } {
  const { duration, rate = 22050, snr = 20, peak = 0.5 } = invented;
  const random = randomSource(invented.seed ?? 1);
  const samples = new Float64Array(Math.round(duration * rate));
  firings(invented, rate).forEach((at, n) => {
    const strength = (invented.strength?.(n) ?? 1) * (1 + (invented.scatter ?? 0.1) * random.normal());
    addBlow(samples, { at: at * rate, rate, strength, rings: invented.rings ?? RINGS, random });
  });
  addNoise(samples, { snr, random });
  const loudness = Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length);
  for (const { frequency, level } of invented.tones ?? []) {
    for (let i = 0; i < samples.length; i++)
      samples[i] += level * loudness * Math.sin((2 * Math.PI * frequency * i) / rate);
  }
  const top = samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return { samples: samples.map((value) => (value / top) * peak), rate };
}

/** Times of the firings [s]. */
function firings({ duration, rpm, cylinders = 4, turns = 2 }: InventedSound, rate: number): readonly number[] {
  const times: number[] = [];
  let cycles = 0;
  for (let i = 0; i < duration * rate; i++) {
    cycles += rpm(i / rate) / 60 / turns / rate;
    while (cycles * cylinders >= times.length) times.push(i / rate);
  }
  return times;
}

interface Blow {
  readonly at: number;
  readonly rate: number;
  readonly strength: number;
  readonly rings: readonly Ring[];
  readonly random: RandomSource;
}

function addBlow(samples: Float64Array, { at, rate, strength, rings, random }: Blow): void {
  const first = Math.ceil(at);
  const last = Math.min(samples.length, first + Math.round(0.03 * rate));
  for (let i = first; i < last; i++) {
    const t = (i - at) / rate;
    let sound = 0.2 * random.normal() * Math.exp(-t / 0.002);
    for (const ring of rings)
      sound += ring.strength * Math.sin(2 * Math.PI * ring.frequency * t) * Math.exp(-t / ring.fade);
    samples[i] += strength * sound;
  }
}

function addNoise(
  samples: Float64Array,
  { snr, random }: { readonly snr: number; readonly random: RandomSource },
): void {
  const power = samples.reduce((sum, value) => sum + value * value, 0) / samples.length || 1;
  const noise = new Float64Array(samples.length);
  let slow = 0;
  for (let i = 0; i < noise.length; i++) {
    slow = 0.97 * slow + random.normal();
    noise[i] = slow;
  }
  const own = noise.reduce((sum, value) => sum + value * value, 0) / noise.length;
  const gain = Math.sqrt((power / own) * 10 ** (-snr / 10));
  for (let i = 0; i < samples.length; i++) samples[i] += gain * noise[i];
}
