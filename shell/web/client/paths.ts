const part = encodeURIComponent;

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
