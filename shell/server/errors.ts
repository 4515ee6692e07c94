import type { FastifyError, FastifyInstance } from 'fastify';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import type { Refusal } from '../../core/quantities/index.ts';
import { RefusedRequest, sendRefusal } from './answers.ts';

/** Turns everything that ends a request early into a refusal record. What is our own fault is told to `fault` and to the person, without its inside. */
export function answerErrors(app: FastifyInstance, fault: (error: unknown) => void): void {
  app.setErrorHandler((error: FastifyError, _request, reply) => {
    if (error instanceof RefusedRequest) return sendRefusal(reply, error.refusal, error.fields);
    if (hasZodFastifySchemaValidationErrors(error)) return sendRefusal(reply, invalidRequest(error));
    if (error.statusCode === 413)
      return sendRefusal(reply, { kind: 'too-large', message: `invalid size: ${error.message}` });
    if (error.statusCode !== undefined && error.statusCode < 500) {
      return sendRefusal(reply, { kind: 'invalid-request', message: `invalid request: ${error.message}` });
    }
    fault(error);
    return sendRefusal(reply, {
      kind: 'internal-fault',
      message: 'Knurl made a mistake of its own; your data are kept.',
    });
  });
  app.setNotFoundHandler((request, reply) =>
    sendRefusal(reply, { kind: 'unknown-address', message: `unknown address: ${request.method} ${request.url}` }),
  );
}

function invalidRequest(error: { validation: readonly { instancePath: string; message?: string }[] }): Refusal {
  const parts = error.validation.map(({ instancePath, message }) => `${instancePath || 'request'}: ${message}`);
  return { kind: 'invalid-request', message: `invalid request: ${parts.join('; ')}` };
}
