import { type EntryReport, unreadText } from '../../../day/reports/index.ts';
import { saidOnce } from '../text/findings.ts';
import { voidWindows } from './void-windows.ts';

/** Whether an entry counts, and why not, or not wholly. */
export interface Standing {
  readonly state: 'valid' | 'valid in part' | 'no claim' | 'left out';
  readonly reasons: readonly string[];
}

/** The line of an entry in the list of valid and void ones; undefined for changes and notes. */
export function standing({ facts, result, questions, unread = [] }: EntryReport): Standing | undefined {
  if (facts.kind === 'change' || facts.kind === 'note') return undefined;
  if (facts.excluded !== undefined) return { state: 'left out', reasons: [facts.excluded] };
  const left = unread.length > 0 ? [unreadText(unread)] : [];
  if (!result) return { state: 'no claim', reasons: left.length > 0 ? left : ['no log belongs to it'] };
  if (result.refusal) return { state: 'no claim', reasons: [...left, result.refusal.message] };
  const pulls = result.pulls.filter(({ refusal }) => !refusal);
  const refused = result.pulls.flatMap(({ refusal }) => (refusal ? [refusal.message] : []));
  const claimed = facts.kind === 'coast-down' ? result.losses.length > 0 || pulls.length > 0 : pulls.length > 0;
  if (!claimed) {
    const none = facts.kind === 'coast-down' ? 'no coast-down found' : 'no full-load pull found';
    return { state: 'no claim', reasons: refused.length + left.length > 0 ? [...left, ...refused] : [none] };
  }
  const holes = pulls.reduce((count, { curve }) => count + voidWindows(curve).length, 0);
  const notes = saidOnce([...result.findings, ...pulls.flatMap(({ findings }) => findings)]);
  const reasons = [
    ...left,
    ...refused,
    ...(holes > 0 ? [`${holes} void ${holes === 1 ? 'window' : 'windows'} in the curve`] : []),
    ...notes.filter(({ weight }) => weight !== 'note').map(({ message }) => message),
    ...(questions.length > 0 ? ['a column waits for a decision'] : []),
  ];
  return { state: refused.length > 0 || holes > 0 ? 'valid in part' : 'valid', reasons };
}
