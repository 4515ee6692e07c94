import type { z } from 'zod';
import { type RefusalRecord, refusalAnswer } from '../../contract/index.ts';

/** An answer of the server, or why there is none. `fields`: which field of a form was refused. */
export type Answer<Value> =
  | { readonly ok: true; readonly value: Value }
  | {
      readonly ok: false;
      readonly refusal: RefusalRecord;
      readonly fields: readonly { readonly path: string; readonly message: string }[];
    };

/** Asks and decodes with the contract's schema: what comes back is what the type says. */
export async function ask<Schema extends z.ZodType>(
  path: string,
  schema: Schema,
  signal?: AbortSignal,
): Promise<Answer<z.output<Schema>>> {
  return decoded(() => fetch(path, { ...(signal && { signal }) }), schema);
}

/** Sends a change and decodes the answer. */
export async function tell<Schema extends z.ZodType>(
  { method, path, body = {} }: { method: 'POST' | 'PUT' | 'PATCH'; path: string; body?: unknown },
  schema: Schema,
): Promise<Answer<z.output<Schema>>> {
  const headers = { 'content-type': 'application/json' };
  return decoded(() => fetch(path, { method, headers, body: JSON.stringify(body) }), schema);
}

async function decoded<Schema extends z.ZodType>(
  send: () => Promise<Response>,
  schema: Schema,
): Promise<Answer<z.output<Schema>>> {
  let response: Response;
  let text: string;
  try {
    response = await send();
    text = await response.text();
  } catch (error) {
    return unreachable(error);
  }
  return decodedText({ status: response.status, text }, schema);
}

/** The answer in a body that has arrived. */
export function decodedText<Schema extends z.ZodType>(
  { status, text }: { readonly status: number; readonly text: string },
  schema: Schema,
): Answer<z.output<Schema>> {
  const body = parsedJson(text);
  if (status >= 200 && status < 300) {
    const value = schema.safeParse(body);
    if (value.success) return { ok: true, value: value.data };
    return refusal(
      'invalid-answer',
      `invalid answer of the server: ${value.error.issues[0]?.message ?? 'not understood'}`,
    );
  }
  const refused = refusalAnswer.safeParse(body);
  if (refused.success) return { ok: false, refusal: refused.data.refusal, fields: refused.data.fields ?? [] };
  return refusal('invalid-answer', `invalid answer of the server: status ${status}`);
}

function unreachable(error: unknown): Answer<never> {
  if (error instanceof DOMException && error.name === 'AbortError') return refusal('cancelled', 'cancelled');
  return refusal(
    'server-gone',
    'missing server: Knurl does not answer. Is it still running? Nothing that was saved is lost.',
  );
}

function refusal(kind: string, message: string): Answer<never> {
  return { ok: false, refusal: { kind, message }, fields: [] };
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
