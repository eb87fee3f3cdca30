import { type Commands, does, listed, paperSize } from './commander.ts';

/** Paper that is filled in by hand. */
export const paperCommands = ({ command }: Commands): void => {
  does(
    command('sheet', 'blank sheets to fill in by hand, an interlock a page; "transcribe" enters them')
      .argument('<site>', 'site file')
      .requiredOption('--pdf <file>', 'where to write them')
      .addOption(paperSize())
      .addOption(listed('--interlock <name>', 'only this one (again for more)')),
    async (site: string, options: never) => (await import('../sheet.ts')).sheetCommand(site, options),
  );
};
