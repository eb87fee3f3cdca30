import type { Command } from 'commander';
import { type Commands, does } from './commander.ts';

/** The site key, copies of the log, and going on from one. */
export const keyCommands = ({ program, command }: Commands): void => {
  const keys = program.command('keys').description('the key that signs a log');
  const withKeys = (made: Command): Command =>
    made
      .argument('<log>')
      .option('--keys <folder>', 'folder of the site key', 'beside it')
      .option('--json', 'one JSON document on standard output', false);
  const keyCommand = (name: string, text: string): Command => withKeys(keys.command(name).description(text));

  does(
    keyCommand('show', 'the keys of a log, oldest first, and the one in the folder'),
    async (log: string, options: never) => (await import('../keys.ts')).showKeys(log, options),
  );
  does(
    keyCommand(
      'rotate',
      'a new key, signed for by the old one, which is then gone; the daemon must be stopped',
    ),
    async (log: string, options: never) => (await import('../keys.ts')).rotateKeys(log, options),
  );
  does(
    keyCommand('adopt', 'go on with another key where the old one is lost; audit names this for ever'),
    async (log: string, options: never) => (await import('../keys.ts')).adoptKeys(log, options),
  );

  does(
    command('backup', 'copy a log, also while it is written, and verify the copy')
      .argument('<log>')
      .argument('<file>', 'the copy')
      .option('--keys <folder>', 'folder of the site key', 'beside it'),
    async (log: string, file: string, options: never) =>
      (await import('../backup.ts')).backupCommand(log, file, options),
  );
  does(
    command('restore', 'go on from an older copy of a log; what is lost is entered, and audit names it')
      .argument('<log>')
      .option('--from <copy>', 'verify this copy and put it in the place of the log first')
      .option('--keys <folder>', 'folder of the site key', 'beside it'),
    async (log: string, options: never) => (await import('../backup.ts')).restoreCommand(log, options),
  );
};
