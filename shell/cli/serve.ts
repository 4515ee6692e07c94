import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Desk } from '../desk/index.ts';
import { startServer } from '../server/index.ts';
import type { Asked, ExitCode, Surroundings } from './command.ts';
import { refuse, wrong } from './refuse.ts';

export const SERVE_OPTIONS = { port: { type: 'string' }, open: { type: 'boolean' } } as const;

export const SERVE_HELP = [
  '  --port NUMBER      port on this machine (default: a free one)',
  '  --open             open the page in the browser',
];

/** Serves the desk on loopback until it is interrupted. `path` is where the page starts. */
export async function serve(
  desk: Desk,
  path: string,
  { asked, surroundings }: { asked: Asked; surroundings: Surroundings },
): Promise<ExitCode> {
  const port = portOf(asked.text('port'));
  if (port === undefined)
    return wrong(`invalid --port: ${asked.text('port')}, expected a whole number from 0 to 65535`, surroundings);
  const directory = asked.text('store') ?? surroundings.home;
  const server = await startServer({ desk, directory, port, webRoot: webRoot() }).catch(
    (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE' || error.code === 'EACCES') return error.code;
      throw error;
    },
  );
  if (typeof server === 'string')
    return refuse(
      {
        kind: 'port-taken',
        message: `port ${port} cannot be used (${server}): another program has it, or it is not yours to use`,
      },
      surroundings,
    );
  const address = `${server.url}${path}`;
  surroundings.out(
    `Knurl is at ${address}\nOnly this machine can reach it. Ctrl-C ends it; nothing that was acknowledged is lost.`,
  );
  if (asked.flag('open')) openBrowser(address);
  await new Promise<void>((resolve) => {
    if (surroundings.signal.aborted) resolve();
    surroundings.signal.addEventListener('abort', () => resolve(), { once: true });
  });
  await server.close();
  return 0;
}

function portOf(text: string | undefined): number | undefined {
  if (text === undefined) return 0;
  const port = Number(text);
  return Number.isInteger(port) && port >= 0 && port <= 65535 ? port : undefined;
}

/** The built page: beside the sources in a checkout, beside the program in the package. */
function webRoot(): string {
  const places = [join(import.meta.dirname, '..', '..', 'dist', 'web'), join(import.meta.dirname, '..', '..', 'web')];
  return places.find((place) => existsSync(join(place, 'index.html'))) ?? places[0] ?? '';
}

/** Best effort: a machine without a desktop simply shows the address. */
function openBrowser(address: string): void {
  const [program, words] =
    process.platform === 'darwin'
      ? ['open', [address]]
      : process.platform === 'win32'
        ? ['cmd', ['/c', 'start', '', address]]
        : ['xdg-open', [address]];
  spawn(String(program), [...words], { stdio: 'ignore', detached: true })
    .on('error', () => undefined)
    .unref();
}
