import type { ParseArgsConfig } from 'node:util';

/** What a command may use of the world; tests hand in their own. */
export interface Surroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** True where progress may be drawn over itself. */
  readonly live: boolean;
  readonly now: () => string;
  readonly signal: AbortSignal;
  /** Runs a long computation that cannot look at the signal: an interrupt then ends the program at once. */
  readonly atOnce?: <Value>(compute: () => Value) => Value;
  /** Folder of the store, from KNURL_HOME or the person's own data folder. */
  readonly home: string;
  readonly width: number;
}

/**
 * 0: answered. 1: the question cannot be answered from this input (a refusal was printed). 2: the command was asked wrongly.
 * 3: answered, but something waits for a person's decision. 4: answered, and a pull calls for a hold or for the end of the day; it goes before 3.
 * 130: cancelled. 70: our own mistake.
 */
export type ExitCode = 0 | 1 | 2 | 3 | 4 | 70 | 130;

export const EXIT_CODES = [
  'Exit codes: 0 answered · 1 cannot be answered from this input · 2 asked wrongly · 3 answered, a decision is open',
  '4 answered, a pull calls for a hold or the end of the day · 130 cancelled · 70 our mistake',
].join('\n');

export interface Command {
  readonly name: string;
  readonly summary: string;
  readonly usage: string;
  readonly details: string;
  readonly examples: readonly string[];
  readonly options: NonNullable<ParseArgsConfig['options']>;
  readonly run: (asked: Asked, surroundings: Surroundings) => Promise<ExitCode>;
}

/** Words after the command, and its options as written. */
export interface Asked {
  readonly words: readonly string[];
  readonly text: (option: string) => string | undefined;
  readonly texts: (option: string) => readonly string[];
  readonly flag: (option: string) => boolean;
}

/** Options that every command has. */
export const COMMON_OPTIONS = {
  help: { type: 'boolean', short: 'h' },
  json: { type: 'boolean' },
  units: { type: 'string' },
  store: { type: 'string' },
} as const satisfies NonNullable<ParseArgsConfig['options']>;

export const COMMON_HELP = [
  '  --json             the same answer for programs, SI units',
  '  --units imperial   print in imperial units (default metric)',
  '  --store FOLDER     where facts and logs are kept (default: the folder in KNURL_HOME, else your data folder)',
  '  -h, --help         this text',
];
