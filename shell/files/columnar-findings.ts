import type { Finding, Refusal } from '../../core/quantities/index.ts';

/** A column of lists or records: it has no one value per row. */
export function notPlain(channel: string, file: string): Finding {
  return {
    kind: 'not-a-plain-column',
    weight: 'doubt',
    message: `invalid column: ${channel} is not a plain column (lists or records), left out`,
    place: { file, channel },
  };
}

/** The library that reads the format could not: the file is damaged or uses a part of the format that is not supported. */
export function damaged(format: string, file: string, error: unknown): Refusal {
  const reason = error instanceof Error ? error.message : String(error);
  return {
    kind: 'damaged-file',
    message: `invalid ${format} file: ${reason}`,
    place: { file },
    numbers: { reason },
  };
}
