import { type Commands, does, listed } from './commander.ts';

/** What is proved, what no longer is, and what a change makes stale. */
export const proofCommands = ({ command }: Commands): void => {
  does(
    command('matrix', 'causes and effects: what is proved of each, since when and on which revision')
      .argument('<log>')
      .option('--on <date>', 'as of this day (YYYY-MM-DD, UTC); now where none is named')
      .addOption(listed('--machine <name>', 'only this machine; may be repeated'))
      .option('--html <file>', 'write a self-contained page'),
    async (log: string, options: never) => (await import('./proofs.ts')).matrixCommand(log, options),
  );
  does(
    command('due', 'what is due or overdue, the most urgent first; 2 if a proof is missing, 1 if one failed')
      .argument('<log>')
      .option('--on <date>', 'as of this day (YYYY-MM-DD, UTC); now where none is named'),
    async (log: string, options: never) => (await import('./proofs.ts')).dueCommand(log, options),
  );
};
