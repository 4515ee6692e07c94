import { buildServer, type ServerOptions } from './build-server.ts';

export interface StartOptions extends Omit<ServerOptions, 'open'> {
  /** 0 or absent: any free port. */
  readonly port?: number;
  /** Loopback unless given. Anything else lets others on the network read and change the days: there is no password. */
  readonly host?: string;
  /** Is told, in words, what the person must know about an opened server. */
  readonly warn?: (message: string) => void;
}

export interface RunningServer {
  readonly url: string;
  close(): Promise<void>;
}

const LOOPBACK = '127.0.0.1';

/** Starts to listen. Closing ends open streams and lets running answers finish. */
export async function startServer(options: StartOptions): Promise<RunningServer> {
  const { port = 0, host = LOOPBACK, warn = () => undefined, hosts = [] } = options;
  const open = !isLoopback(host);
  if (open) {
    warn(
      `Listening on ${host}: everyone on this network can read and change the days. There is no password and no encryption.`,
    );
  }
  const app = await buildServer({ ...options, open, hosts: open ? [...hosts, host.toLowerCase()] : hosts });
  await app.listen({ port, host });
  const [address] = app.addresses();
  return { url: urlOf(host, typeof address === 'object' ? address.port : 0), close: () => app.close() };
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127\./.test(host);
}

function urlOf(host: string, port: number): string {
  const shown = host === '0.0.0.0' ? LOOPBACK : host === '::' ? '[::1]' : host.includes(':') ? `[${host}]` : host;
  return `http://${shown}:${port}`;
}
