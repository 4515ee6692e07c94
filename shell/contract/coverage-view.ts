import { z } from 'zod';

/** How far a fault can be seen: fully, weakly, not at all. */
export const reach = z.enum(['full', 'weak', 'blind']);

/**
 * One fault of the matrix. why: in the detector's own words when it is blind. lacking: channels that are not there and what each adds.
 * unparted: look-alikes that these channels cannot part from it, and the channels that would; none: no channel that we know would.
 */
export const coverageRow = z.strictObject({
  fault: z.string(),
  title: z.string(),
  subject: z.string(),
  reach,
  why: z.string().optional(),
  lacking: z.array(z.strictObject({ channel: z.string(), adds: z.string() })),
  unparted: z.array(z.strictObject({ title: z.string(), add: z.array(z.string()) })),
});

/** What a set of channels can tell before a pull is made. logged: the day's newest log has it; ticked: it counts here. */
export const coverageView = z.strictObject({
  day: z.string(),
  dayTitle: z.string(),
  invented: z.string().optional(),
  channels: z.array(
    z.strictObject({
      meaning: z.string(),
      title: z.string(),
      subject: z.string(),
      logged: z.boolean(),
      ticked: z.boolean(),
    }),
  ),
  rows: z.array(coverageRow),
});

/** `channels`: meanings joined by commas; absent: those of the day's newest log. */
export const coverageQuery = z.strictObject({ channels: z.string().max(4000).optional() });

export type Reach = z.infer<typeof reach>;
export type CoverageRowView = z.infer<typeof coverageRow>;
export type CoverageView = z.infer<typeof coverageView>;
