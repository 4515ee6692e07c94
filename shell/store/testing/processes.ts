import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';

/** A writer in a process of its own, and the lines it has acknowledged so far. */
export interface Writer {
  readonly process: ChildProcess;
  readonly lines: () => readonly string[];
  /** Resolves when so many lines were printed, or the process ended. */
  reaches(lines: number): Promise<void>;
  ended(): Promise<void>;
}

/** Starts `writer.ts`; `shell` is put before the command, to set limits. */
export function startWriter(words: readonly string[], shell = ''): Writer {
  const command = [process.execPath, `${import.meta.dirname}/writer.ts`, ...words].map((word) => `'${word}'`).join(' ');
  const child = spawn('sh', ['-c', `${shell}exec ${command}`], { stdio: ['ignore', 'pipe', 'pipe'] });
  let text = '';
  child.stdout.setEncoding('utf8').on('data', (part: string) => {
    text += part;
  });
  // A line that was cut off was not acknowledged.
  const lines = () => text.split('\n').slice(0, -1);
  const end = once(child, 'close').then(() => undefined);
  return {
    process: child,
    lines,
    reaches: async (count) => {
      let over = false;
      void end.then(() => {
        over = true;
      });
      while (lines().length < count && !over) await new Promise((resolve) => setTimeout(resolve, 2));
    },
    ended: () => end,
  };
}
