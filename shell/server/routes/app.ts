import type {
  FastifyBaseLogger,
  FastifyInstance,
  RawReplyDefaultExpression,
  RawRequestDefaultExpression,
  RawServerDefault,
} from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { refusalAnswer } from '../../contract/index.ts';

/** The server as routes see it: requests and answers typed by the contract. */
export type App = FastifyInstance<
  RawServerDefault,
  RawRequestDefaultExpression,
  RawReplyDefaultExpression,
  FastifyBaseLogger,
  ZodTypeProvider
>;

export const ofDay = z.strictObject({ day: z.string().min(1) });
export const ofEntry = z.strictObject({ day: z.string().min(1), entry: z.string().min(1) });
export const ofSource = z.strictObject({ source: z.string().min(1) });

/** A successful answer, and the record that stands for every other one. */
export function answers<Schema extends z.ZodType>(schema: Schema) {
  return { 200: schema, '4xx': refusalAnswer };
}
