import { isIP } from 'node:net';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Refusal } from '../../core/quantities/index.ts';

/**
 * Refuses a request that names another host (a foreign name that was made to resolve to this machine) or that was sent by a page of another origin.
 *
 * @param hosts names that may stand in the Host header besides loopback; numeric addresses may when the server was opened to the network
 * @source OWASP cheat sheets on cross-site request forgery and DNS rebinding: check Host, Origin and Sec-Fetch-Site
 */
export function guardOrigin(app: FastifyInstance, { hosts, open }: { hosts: readonly string[]; open: boolean }): void {
  app.addHook('onRequest', async (request, reply) => {
    const refusal = foreignHost(request, { hosts, open }) ?? foreignOrigin(request);
    if (refusal) await reply.code(403).send({ refusal });
  });
}

function foreignHost(
  request: FastifyRequest,
  { hosts, open }: { hosts: readonly string[]; open: boolean },
): Refusal | undefined {
  const header = request.headers.host ?? '';
  const name = header.replace(/:\d+$/, '').toLowerCase();
  const bare = name.replace(/^\[|\]$/g, '');
  if (LOOPBACK.has(bare) || hosts.includes(bare) || (open && isIP(bare) !== 0)) return undefined;
  const expected = ['localhost', ...hosts].join(', ');
  return { kind: 'foreign-host', message: `invalid host: "${header}", expected one of ${expected}` };
}

function foreignOrigin(request: FastifyRequest): Refusal | undefined {
  const { origin, host } = request.headers;
  const site = request.headers['sec-fetch-site'];
  const navigates = request.method === 'GET' && request.headers['sec-fetch-mode'] === 'navigate';
  if (site !== undefined && site !== 'same-origin' && site !== 'none' && !navigates) {
    return { kind: 'foreign-origin', message: `invalid origin: request from a ${site} page, expected this page` };
  }
  if (origin === undefined || origin === `http://${host}` || origin === `https://${host}`) return undefined;
  return { kind: 'foreign-origin', message: `invalid origin: "${origin}", expected http://${host}` };
}

const LOOPBACK: ReadonlySet<string> = new Set(['localhost', '127.0.0.1', '::1']);
