import type { ThresholdLine } from '../../contract/index.ts';

/** Limits that fit what is looked for: every word stands in its title, name, subject or source. */
export function wanted(
  lines: readonly ThresholdLine[],
  { search, onlySet }: { readonly search: string; readonly onlySet: boolean },
): readonly ThresholdLine[] {
  const words = search
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  return lines.filter(({ title, name, subject, source, set }) => {
    const text = `${title} ${name} ${subject} ${source}`.toLowerCase();
    return (!onlySet || set.length > 0) && words.every((word) => text.includes(word));
  });
}

/** Limits in the groups of their subjects, in the order in which the subjects first occur. */
export function bySubject(
  lines: readonly ThresholdLine[],
): readonly { readonly subject: string; readonly lines: readonly ThresholdLine[] }[] {
  const subjects = [...new Set(lines.map(({ subject }) => subject))];
  return subjects.map((subject) => ({ subject, lines: lines.filter((line) => line.subject === subject) }));
}
