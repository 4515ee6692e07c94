import type { EntryReport } from '../../../day/reports/index.ts';
import { entrySentence } from '../../../day/reports/index.ts';
import { BANDS } from './bands.ts';
import { entryText, questionLines } from './pull-text.ts';
import type { TextStyle } from './style.ts';
import { wrapped } from './table.ts';

/** What the command line made of one run: its entry, and the coast-downs that were named for its losses. */
export interface RunText {
  readonly entry: EntryReport;
  readonly coasts: readonly EntryReport[];
  readonly caution: string;
}

export function runText({ entry, coasts, caution }: RunText, style: TextStyle): string {
  const losses = coasts.flatMap((coast) => [
    wrapped(`${coast.facts.files.join(', ')}: ${entrySentence(coast, style.system)}`, style.width, '  '),
    ...questionLines(
      { questions: coast.questions.filter(({ file }) => !entry.facts.files.includes(file)) },
      style.width,
    ),
  ]);
  return [
    entryText(entry, style),
    ...(losses.length > 0 ? ['', ...losses] : []),
    ...['', wrapped(caution, style.width), BANDS],
  ].join('\n');
}
