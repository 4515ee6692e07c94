/** Seconds since midnight [s] of a clock time `H:MM`, `HH:MM` or `HH:MM:SS.S`; undefined when there is none or it is written otherwise. */
export function secondsOfDay(text: string | undefined): number | undefined {
  const match = /^(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?$/.exec(text ?? '');
  return match ? Number(match[1]) * 3600 + Number(match[2]) * 60 + Number(match[3] ?? 0) : undefined;
}
