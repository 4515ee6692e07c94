import { FAULT_TITLES } from '../../../day/reports/index.ts';
import { CHECKS, type Check, type NextCheck } from '../../../day/verdicts/index.ts';
import type { CheckView } from '../../contract/index.ts';

/** What to do next, as a sentence; a check that is not on the list by its own name. */
export function checkText({ check }: Pick<NextCheck, 'check'>): string {
  return checkOf(check)?.text ?? check.replaceAll('-', ' ');
}

export function encodeCheck(next: NextCheck): CheckView {
  const known = checkOf(next.check);
  return {
    text: checkText(next),
    parts: next.parts.map((fault) => FAULT_TITLES[fault]),
    needs: [...(known?.needs ?? [])],
    ...(known && { minutes: known.minutes, pulls: known.pulls }),
  };
}

function checkOf(name: string): Check | undefined {
  return Object.entries(CHECKS).find(([key]) => key === name)?.[1];
}
