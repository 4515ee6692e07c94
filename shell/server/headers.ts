import type { FastifyInstance } from 'fastify';

/** Everything the page needs is local: nothing else may be loaded, framed or sent. @source W3C Content Security Policy 3 */
export function setHeaders(app: FastifyInstance): void {
  app.addHook('onSend', async (_request, reply) => {
    reply.headers(HEADERS);
  });
}

const HEADERS = {
  'content-security-policy':
    "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
} as const;
