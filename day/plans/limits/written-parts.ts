import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';

/**
 * The parts of a text between commas or semicolons, without empty ones; a sign of minus is one that a number can have.
 *
 * Refuses `ambiguous-number`: a comma between digits, which may be a decimal sign or not.
 */
export function writtenParts(text: string): Outcome<readonly string[]> {
  const plain = text.replaceAll('−', '-').trim();
  const comma = /[0-9],[0-9]+/.exec(plain);
  if (comma) {
    const message = `ambiguous number: "${comma[0]}", expected a decimal point, and a space behind a comma between parts`;
    return partRefused('ambiguous-number', message, comma[0]);
  }
  return answered(
    plain
      .split(/[,;\n]/)
      .map((piece) => piece.trim())
      .filter((piece) => piece !== ''),
  );
}

/** A refusal that names the part of the text that it is about. */
export function partRefused(kind: string, message: string, part: string): Outcome<never> {
  return refused({ kind, message, numbers: { part } });
}
