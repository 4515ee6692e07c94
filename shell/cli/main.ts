import { homedir } from 'node:os';
import { join } from 'node:path';
import { run } from './run.ts';

const cancel = new AbortController();
const interrupted = (): void => cancel.abort();
process.once('SIGINT', interrupted);
process.once('SIGTERM', interrupted);
// A reader that closes early (head, less) ends us quietly.
process.stdout.on('error', (error: NodeJS.ErrnoException) => process.exit(error.code === 'EPIPE' ? 0 : 70));

process.exitCode = await run(process.argv.slice(2), {
  out: (text) => void process.stdout.write(`${text}\n`),
  err: (text) => void process.stderr.write(text),
  live: process.stderr.isTTY === true,
  now: () => new Date().toISOString(),
  signal: cancel.signal,
  atOnce: (compute) => {
    process.off('SIGINT', interrupted);
    try {
      return compute();
    } finally {
      process.once('SIGINT', interrupted);
    }
  },
  home: process.env.KNURL_HOME ?? join(process.env.XDG_DATA_HOME ?? join(homedir(), '.local', 'share'), 'knurl'),
  width: process.stdout.columns ?? 100,
});
