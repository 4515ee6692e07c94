/** The development seeds: nothing is learnt from others. Seeds 1–300 served before them; each few hundred were first looked at when the detectors had been worked on with those before. */
export const DEVELOPMENT = { first: 301, last: 1800 } as const;

/** The final set, kept apart from everything that was learnt from or looked at. Seeds 10001–10300 and 20001–20300 were final sets before it. */
export const FINAL = { first: 30_001, last: 30_300 } as const;
