import { type Commands, does, listed, paperSize } from './commander.ts';

/** What a log says. */
export const logCommands = ({ command }: Commands): void => {
  does(
    command('recheck', 'judge the stored answers again and compare').argument(
      '<file>',
      'a log, a bundle, or a page that carries its evidence',
    ),
    async (file: string, options: { json: boolean }) =>
      (await import('../recheck.ts')).recheckCommand(file, options),
  );
  does(
    command(
      'audit',
      'verify a log from its file, and against what is known of it elsewhere; or a bundle, or a page',
    )
      .argument('<file>')
      .option('--keys <folder>', 'folder of the site key, with what is remembered of the log', 'beside it')
      .addOption(listed('--against <file>', 'a report (JSON), a bundle, or an older copy of the log'))
      .option('--fingerprint <text>', 'the fingerprint on a printed page'),
    async (log: string, options: never) => (await import('../audit.ts')).auditCommand(log, options),
  );
  does(
    command('report', 'a window as table, page, spreadsheet rows, JSON, or cases for a pipeline')
      .argument('<log>')
      .option('--window <id>', 'the newest where none is named')
      .option('--from <day>', 'all windows from that day on (UTC): with --html or --bundle')
      .option('--to <day>', 'all windows up to and with that day')
      .option('--html <file>', 'write a self-contained page that checks itself')
      .option('--bundle <file>', 'write windows, proofs, rules and answers: "audit" needs no log for it')
      .option('--pdf <file>', 'write it for paper, an interlock a page')
      .addOption(paperSize())
      .option('--csv <file>', 'write a row for each interlock')
      .option('--csv-effects <file>', 'write a row for each effect')
      .option('--junit <file>', 'write JUnit XML, by which a pipeline lets a change through')
      .option('--trace <file>', 'write the readings of the window as CSV, as "judge" takes them')
      .option('--marks <file>', 'write what people did meanwhile, as "judge --marks" takes it'),
    async (log: string, options: never) => (await import('../log-commands.ts')).reportCommand(log, options),
  );
};
