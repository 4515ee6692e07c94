/** A stream of chance with a fixed start: the same seed gives the same day, byte for byte. */
export interface Chance {
  /** Uniform in [0, 1). */
  readonly uniform: () => number;
  /** Standard normal. */
  readonly normal: () => number;
  /** Uniform in [low, high). */
  readonly between: (low: number, high: number) => number;
  /** Integer in [low, high]. */
  readonly integer: (low: number, high: number) => number;
  /** One of the items. */
  readonly pick: <T>(items: readonly T[]) => T;
}

/**
 * A stream for one purpose of one day. Streams of different purposes do not disturb each other, so that a part of a day
 * has the same bytes as the same part of the whole day.
 *
 * @source Weyl sequence with a 32-bit mixing function (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014, the idea)
 */
export function chanceOf(seed: number, purpose: string): Chance {
  let state = mix((Math.trunc(seed) ^ 0x5bd1e995) >>> 0);
  for (let index = 0; index < purpose.length; index += 1)
    state = mix((state + purpose.charCodeAt(index) * 2654435761) >>> 0);
  const uniform = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    return mix(state) / 4294967296;
  };
  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  const between = (low: number, high: number): number => low + (high - low) * uniform();
  const integer = (low: number, high: number): number => low + Math.floor((high - low + 1) * uniform());
  return { uniform, normal, between, integer, pick: (items) => items[integer(0, items.length - 1)] ?? failEmpty() };
}

function mix(value: number): number {
  let x = value >>> 0;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b) >>> 0;
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35) >>> 0;
  return (x ^ (x >>> 16)) >>> 0;
}

function failEmpty(): never {
  throw new Error('nothing to pick from');
}
