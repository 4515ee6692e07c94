const part = encodeURIComponent;

/** `?at=…` of what is there; empty without anything. */
function queryOf(parts: Readonly<Record<string, string | undefined>>): string {
  const there = Object.entries(parts).flatMap(([name, value]) => (value === undefined ? [] : [[name, value]]));
  return there.length === 0 ? '' : `?${new URLSearchParams(there)}`;
}

/** Addresses of the server, one line each. */
export const paths = {
  days: '/days',
  folder: '/days/folder',
  vocabulary: '/vocabulary',
  day: (day: string) => `/days/${part(day)}`,
  work: (day: string) => `/days/${part(day)}/work`,
  watch: (day: string) => `/days/${part(day)}/watch`,
  drift: (day: string) => `/days/${part(day)}/drift`,
  facts: (day: string) => `/days/${part(day)}/facts`,
  undo: (day: string) => `/days/${part(day)}/undo`,
  health: (day: string) => `/days/${part(day)}/health`,
  coverage: (day: string, channels: string | undefined) =>
    `/days/${part(day)}/coverage${channels === undefined ? '' : `?${new URLSearchParams({ channels })}`}`,
  limits: (day: string, at: string | undefined) => `/days/${part(day)}/limits${queryOf({ at })}`,
  nextLimits: (day: string, asked: { at: string | undefined; goal: string | undefined }) =>
    `/days/${part(day)}/limits/next${queryOf(asked)}`,
  limitPictures: (day: string, at: string | undefined) => `/days/${part(day)}/limits/pictures${queryOf({ at })}`,
  advice: (day: string, asked: { at: string | undefined; keep: string | undefined }) =>
    `/days/${part(day)}/limits/advice${queryOf(asked)}`,
  limitsWork: (day: string) => `/days/${part(day)}/limits/work`,
  crank: (day: string, asked: { at: string | undefined; speed: string | undefined }) =>
    `/days/${part(day)}/limits/crank${queryOf(asked)}`,
  room: (day: string, asked: { at: string | undefined; limit: string; keep: string }) =>
    `/days/${part(day)}/limits/room${queryOf(asked)}`,
  mapPoints: (day: string) => `/days/${part(day)}/limits/points`,
  scaled: (day: string, asked: Readonly<Record<string, string | undefined>>) =>
    `/days/${part(day)}/limits/scaled${queryOf(asked)}`,
  thresholds: (day: string) => `/days/${part(day)}/thresholds`,
  gate: (day: string) => `/days/${part(day)}/gate`,
  overlay: (day: string, query: string) => `/days/${part(day)}/overlay${query === '' ? '' : `?${query}`}`,
  entries: (day: string) => `/days/${part(day)}/entries`,
  entry: (day: string, entry: string) => `/days/${part(day)}/entries/${part(entry)}`,
  traces: ({ day, entry }: { day: string; entry: string }, query: string) =>
    `/days/${part(day)}/entries/${part(entry)}/traces?${query}`,
  trial: ({ day, entry }: { day: string; entry: string }, texts: Readonly<Record<string, string>>) =>
    `/days/${part(day)}/entries/${part(entry)}/trial?${new URLSearchParams(
      Object.entries(texts).map(([name, text]) => ['set', `${name}=${text}`]),
    )}`,
  nudge: ({ day, entry }: { day: string; entry: string }, by: number) =>
    `/days/${part(day)}/entries/${part(entry)}/nudge?by=${by}`,
  export: ({ day, entry }: { day: string; entry: string }, wanted: { part: string; format: string }) =>
    `/days/${part(day)}/entries/${part(entry)}/export?${new URLSearchParams(wanted)}`,
  file: (name: string) => `/files/${part(name)}`,
  mapping: (source: string) => `/files/${part(source)}/mapping`,
} as const;
