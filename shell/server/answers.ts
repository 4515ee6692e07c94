import type { FastifyReply } from 'fastify';
import type { Outcome, Refusal } from '../../core/quantities/index.ts';
import { plainRefusal } from './encode/plain.ts';
import { statusOf } from './statuses.ts';

/** Thrown inside a handler to end it with a refusal; caught once, by the server's error handler. */
export class RefusedRequest extends Error {
  override name = 'RefusedRequest';
  readonly refusal: Refusal;
  readonly fields: readonly FieldRefusal[];

  constructor(refusal: Refusal, fields: readonly FieldRefusal[] = []) {
    super(refusal.message);
    this.refusal = refusal;
    this.fields = fields;
  }
}

/** Which field of a form was refused, and why. */
export interface FieldRefusal {
  readonly path: string;
  readonly message: string;
}

/** The answer, or the end of the handler with its refusal. */
export function answerOf<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok) throw new RefusedRequest(outcome.refusal);
  return outcome.value;
}

/** Sends a refusal with its status. */
export function sendRefusal(reply: FastifyReply, refusal: Refusal, fields: readonly FieldRefusal[] = []): FastifyReply {
  const body = {
    refusal: plainRefusal(refusal),
    ...(fields.length > 0 && { fields: fields.map((field) => ({ ...field })) }),
  };
  return reply.code(statusOf(refusal)).type('application/json').send(JSON.stringify(body));
}
