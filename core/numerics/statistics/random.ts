/** Source of chance with its own hidden state; the same seed gives the same numbers on every machine. */
export interface RandomSource {
  /** Next number in [0, 1), 53 bits. */
  readonly uniform: () => number;
  /** Next standard normal number. */
  readonly normal: () => number;
  /** Whole number in [0, below). */
  readonly integer: (below: number) => number;
}

/**
 * A seeded random source.
 *
 * @param seed any whole number; its lower 32 bits count
 * @valid   simulation, resampling and tests; not for secrets
 * @source  generator: sfc32 of the PractRand suite (Doty-Humphrey); seeding: SplitMix32 (Steele et al., OOPSLA 2014, 32-bit
 *          mixing constants of MurmurHash3); normal: polar method, Marsaglia & Bray, SIAM Rev. 6 (1964) 260. From memory
 */
export function randomSource(seed: number): RandomSource {
  const state = seededState(seed);
  let spare = Number.NaN;
  const uniform = (): number => {
    const high = next(state) >>> 5;
    const low = next(state) >>> 6;
    return (high * 67108864 + low) / 9007199254740992;
  };
  const normal = (): number => {
    if (!Number.isNaN(spare)) {
      const value = spare;
      spare = Number.NaN;
      return value;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const r = x * x + y * y;
      if (r >= 1 || r === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(r)) / r);
      spare = y * factor;
      return x * factor;
    }
  };
  return { uniform, normal, integer: (below) => Math.floor(uniform() * below) };
}

function seededState(seed: number): Uint32Array {
  let mixed = seed >>> 0;
  const state = new Uint32Array(4);
  for (let i = 0; i < 3; i++) {
    mixed = (mixed + 0x9e3779b9) >>> 0;
    let z = mixed;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    state[i] = z ^ (z >>> 16);
  }
  state[3] = 1;
  for (let i = 0; i < 12; i++) next(state);
  return state;
}

function next(s: Uint32Array): number {
  const result = (s[0] + s[1] + s[3]) >>> 0;
  s[3] = s[3] + 1;
  s[0] = s[1] ^ (s[1] >>> 9);
  s[1] = s[2] + (s[2] << 3);
  s[2] = ((s[2] << 21) | (s[2] >>> 11)) + result;
  return result;
}
