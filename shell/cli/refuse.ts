import type { Refusal } from '../../core/quantities/index.ts';
import type { ExitCode, Surroundings } from './command.ts';
import { refusalText } from './text/findings.ts';

/** Prints a refusal and gives the exit code it stands for: 130 when the person cancelled, else 1. */
export function refuse(refusal: Refusal, { err }: Pick<Surroundings, 'err'>): ExitCode {
  const hint = refusal.kind === 'missing-time' ? ' (answer with --rows-per-second NUMBER)' : '';
  err(`${refusalText(refusal)}${hint}\n`);
  return refusal.kind === 'cancelled' ? 130 : 1;
}

/** Prints why a command line is wrong; exit code 2. */
export function wrong(message: string, { err }: Pick<Surroundings, 'err'>): ExitCode {
  err(`${message}\n`);
  return 2;
}

/** Prints a refusal; one that is about the command line itself is code 2, another `code`, or what {@link refuse} says. */
export function refuseOrWrong(refusal: Refusal, surroundings: Pick<Surroundings, 'err'>, code?: 2): ExitCode {
  return code === 2 || refusal.kind === 'invalid-option'
    ? wrong(refusalText(refusal), surroundings)
    : refuse(refusal, surroundings);
}
