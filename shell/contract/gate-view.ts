import { z } from 'zod';
import { dayStop } from './day-view.ts';
import { findingLine, quantityKind } from './primitives.ts';

/** What is looked at before a pull: advice, not protection. stop: a hold, or the end of the day, that stands. */
export const gateView = z.strictObject({
  day: z.string(),
  dayTitle: z.string(),
  invented: z.string().optional(),
  items: z.array(z.strictObject({ id: z.string(), text: z.string(), why: z.string(), source: z.string() })),
  reach: z.array(
    z.strictObject({
      what: z.string(),
      kind: quantityKind,
      value: z.number().optional(),
      from: z.string(),
      limit: z.number().optional(),
      limitFrom: z.string(),
      over: z.boolean(),
    }),
  ),
  open: z.array(z.strictObject({ entry: z.string(), findings: z.array(findingLine) })),
  stop: dayStop.optional(),
  abort: z.array(z.string()),
  disclaimer: z.string(),
  cautions: z.array(z.string()),
});

export type GateView = z.infer<typeof gateView>;
