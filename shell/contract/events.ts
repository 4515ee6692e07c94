import { z } from 'zod';
import { refusalRecord } from './primitives.ts';

/** How far long work has come: share 0…1. */
export const progressEvent = z.strictObject({ what: z.string(), share: z.number() });

/** A log appeared in the watched folder and was taken in. */
export const seenEvent = z.strictObject({ entry: z.string() });

/** The work ended without an answer. */
export const refusedEvent = z.strictObject({ refusal: refusalRecord });

export type ProgressEvent = z.infer<typeof progressEvent>;
export type SeenEvent = z.infer<typeof seenEvent>;
