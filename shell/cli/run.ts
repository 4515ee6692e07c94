import { parseArgs } from 'node:util';
import {
  type Asked,
  COMMON_HELP,
  COMMON_OPTIONS,
  type Command,
  EXIT_CODES,
  type ExitCode,
  type Surroundings,
} from './command.ts';
import { dayCommand } from './commands/day.ts';
import { demoCommand } from './commands/demo.ts';
import { limitsCommand } from './commands/limits.ts';
import { openCommand } from './commands/open.ts';
import { pullCommand } from './commands/pull.ts';
import { readCommand } from './commands/read.ts';
import { reportCommand } from './commands/report.ts';

export const COMMANDS: readonly Command[] = [
  demoCommand,
  openCommand,
  readCommand,
  pullCommand,
  dayCommand,
  limitsCommand,
  reportCommand,
];

/** Runs one command line. Bugs of ours end here with code 70, everything else is the command's own answer. */
export async function run(words: readonly string[], surroundings: Surroundings): Promise<ExitCode> {
  const [name, ...rest] = words;
  if (name === undefined || name === 'help' || name === '--help' || name === '-h') {
    surroundings.out(generalHelp());
    return name === undefined ? 2 : 0;
  }
  const command = COMMANDS.find((one) => one.name === name);
  if (!command) {
    surroundings.err(`unknown command: ${name}\n\n${generalHelp()}\n`);
    return 2;
  }
  const asked = askedOf(command, rest);
  if (typeof asked === 'string') {
    surroundings.err(`${asked}\n\n${commandHelp(command)}\n`);
    return 2;
  }
  if (asked.flag('help')) {
    surroundings.out(commandHelp(command));
    return 0;
  }
  try {
    return await command.run(asked, surroundings);
  } catch (error) {
    surroundings.err(
      `This is a mistake in Knurl, not in your data: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
    );
    return 70;
  }
}

function askedOf(command: Command, words: readonly string[]): Asked | string {
  try {
    const parsed = parseArgs({
      args: [...words],
      options: { ...COMMON_OPTIONS, ...command.options },
      allowPositionals: true,
      strict: true,
    });
    const values: Readonly<Record<string, unknown>> = parsed.values;
    const listed = (option: string): readonly string[] =>
      [values[option]].flat().filter((value): value is string => typeof value === 'string');
    const units = listed('units')[0];
    if (units !== undefined && units !== 'metric' && units !== 'imperial')
      return `invalid --units: ${units}, expected metric or imperial`;
    return {
      words: parsed.positionals,
      text: (option) => listed(option)[0],
      texts: listed,
      flag: (option) => values[option] === true,
    };
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

function generalHelp(): string {
  return [
    'knurl: what did this pull truly make, and how well do we know it?',
    '',
    ...COMMANDS.map(({ name, summary }) => `  knurl ${name.padEnd(8)} ${summary}`),
    '',
    'knurl COMMAND --help shows options and examples.',
    EXIT_CODES,
  ].join('\n');
}

function commandHelp({ usage, summary, details, examples }: Command): string {
  return [
    `${usage}`,
    '',
    summary,
    '',
    details,
    ...COMMON_HELP,
    '',
    'Examples:',
    ...examples.map((line) => `  ${line}`),
    '',
    EXIT_CODES,
  ].join('\n');
}
