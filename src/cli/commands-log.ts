import { type Commands, does } from './commander.ts';

/** What a log says. */
export const logCommands = ({ command }: Commands): void => {
  does(
    command('recheck', 'judge the stored answers again and compare').argument('<log>'),
    async (log: string, options: { json: boolean }) =>
      (await import('./log-commands.ts')).recheckCommand(log, options),
  );
  does(
    command('audit', 'verify a log from its file alone').argument('<log>'),
    async (log: string, options: { json: boolean }) =>
      (await import('./log-commands.ts')).auditCommand(log, options),
  );
  does(
    command('report', 'a window as table, HTML or JSON')
      .argument('<log>')
      .option('--window <id>', 'the newest where none is named')
      .option('--html <file>', 'write a self-contained page')
      .option('--trace <file>', 'write the readings of the window as CSV, as "judge" takes them')
      .option('--marks <file>', 'write what people did meanwhile, as "judge --marks" takes it'),
    async (log: string, options: never) => (await import('./log-commands.ts')).reportCommand(log, options),
  );
};
