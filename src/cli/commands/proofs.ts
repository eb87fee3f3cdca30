import { type Commands, does, listed } from './commander.ts';
import { withWho } from './people.ts';

/** What is proved, what no longer is, and what a change makes stale. */
export const proofCommands = ({ command }: Commands): void => {
  does(
    command('matrix', 'causes and effects: what is proved of each, since when and on which revision')
      .argument('<log>', 'a log; a site file with --from')
      .option('--on <date>', 'as of this day (YYYY-MM-DD, UTC); now where none is named')
      .addOption(listed('--machine <name>', 'only this machine; may be repeated'))
      .option('--html <file>', 'write a self-contained page')
      .option('--xlsx <file>', 'write it as a spreadsheet')
      .option('--from <file>', 'hold the marks of a spreadsheet against the rulebook of a site instead'),
    async (log: string, options: never) => (await import('../proofs.ts')).matrixCommand(log, options),
  );
  does(
    command('due', 'what is due or overdue, the most urgent first; 2 if a proof is missing, 1 if one failed')
      .argument('<log>')
      .option('--on <date>', 'as of this day (YYYY-MM-DD, UTC); now where none is named'),
    async (log: string, options: never) => (await import('../proofs.ts')).dueCommand(log, options),
  );
  does(
    command('compare', 'two windows, or two revisions, side by side; 1 where something changed')
      .argument('<log>')
      .argument('<a>', 'name of a window, or a revision')
      .argument('<b>', 'name of another'),
    async (log: string, a: string, b: string, options: never) =>
      (await import('../compare.ts')).compareCommand(log, a, b, options),
  );
  does(
    withWho(
      command('scope', 'what must be proved again after a change, and why')
        .argument('<log>')
        .addOption(
          listed('--changed <name>', 'tag, routine, timer, card, interlock or line of it; may be repeated'),
        )
        .option(
          '--from <site>',
          'site file before the change; the rulebook of the log where only --to is named',
        )
        .option('--to <site>', 'site file after it; the rulebook of the log where only --from is named')
        .option('--all', 'firmware, migration, another controller: everything', false)
        .option('--enter', 'enter it in the log: what is not listed keeps its proof', false)
        .option('--revision <text>', 'with --enter: revision that the change was made for')
        .addOption(listed('--machine <name>', 'with --enter: machine that it is for; else those listed'))
        .option('--change <text>', 'with --enter: what was changed, in words')
        .option('--approver <name>', 'with --enter: who approved it'),
    ),
    async (log: string, options: never) => (await import('../scope.ts')).scopeCommand(log, options),
  );
};
