import { type Command, InvalidArgumentError, Option } from 'commander';

const many = (value: string, before: readonly string[]): readonly string[] => [...before, value];
export const number = (value: string): string => {
  if (!/^\d+(\.\d+)?$/.test(value)) throw new InvalidArgumentError('write a number');
  return value;
};

type Action = (...args: never[]) => Promise<number>;

/** Where commands are registered. */
export interface Commands {
  readonly program: Command;
  command(name: string, text: string): Command;
}

export const commandsOf = (program: Command): Commands => ({
  program,
  command: (name, text) =>
    program.command(name).description(text).option('--json', 'one JSON document on standard output', false),
});

/** Runs the action; its number is the exit code. */
export const does = (made: Command, action: Action): void => {
  made.action(async (...args: unknown[]) => {
    process.exitCode = await action(...(args as never[]));
  });
};

export const listed = (flag: string, text: string): Option =>
  new Option(flag, text).argParser(many).default([], 'none');

export const paperSize = (): Option =>
  new Option('--paper <size>', 'of a PDF').choices(['a4', 'letter']).default('a4');

/** How an OPC UA server is entered, beside the security mode. */
export const withAccess = (made: Command): Command =>
  made
    .option('--policy <name>', 'security policy', 'Basic256Sha256')
    .option('--user <name>', 'name of the user; with --password-from')
    .option('--password-from <variable>', 'environment variable that holds the password')
    .option('--user-certificate <file>', 'PEM file of the user; with --user-key')
    .option('--user-key <file>', 'PEM file of its private key');
