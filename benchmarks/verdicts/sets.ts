/** The development seeds: nothing is learnt from others. Seeds 1–300 served before them; each few hundred were first looked at when the detectors had been worked on with those before. */
export const DEVELOPMENT = { first: 301, last: 2400 } as const;

/** The final set, kept apart from everything that was learnt from or looked at. Seeds 10001–10300, 20001–20300, 30001–30300, 40001–40300, 50001–50600, 60001–60400 and 70001–70400 were final sets before it. */
export const FINAL = { first: 80_001, last: 80_400 } as const;
