import type { Work } from '../desk/index.ts';
import type { Surroundings } from './command.ts';

/** Progress on the error stream: one line drawn over itself, only on a terminal and only after a second. */
export function work({
  err,
  live,
  signal,
}: Pick<Surroundings, 'err' | 'live' | 'signal'>): Work & { readonly done: () => void } {
  const started = performance.now();
  let drawn = 0;
  return {
    signal,
    progress: ({ what, share }) => {
      if (!live || performance.now() - started < 1000) return;
      const text = `${Math.round(100 * share)} % ${what}`;
      err(`\r${text.padEnd(drawn)}`);
      drawn = text.length;
    },
    done: () => {
      if (drawn > 0) err(`\r${' '.repeat(drawn)}\r`);
    },
  };
}
