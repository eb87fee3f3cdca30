import { type Commands, does, number } from './commander.ts';

/** The simulated plant. */
export const plantCommands = ({ command }: Commands): void => {
  does(
    command('plant', 'the simulated plant')
      .option('--fault <name>', 'plant one of its faults')
      .option('--list', 'list the faults')
      .option('--seed <n>', 'seed of its noise', number, '1')
      .option('--modbus-port <n>', '0: any free port', number, '1502')
      .option('--opcua-port <n>', '0: any free port', number, '48410')
      .option('--hands-port <n>', '0: any free port', number, '1503')
      .option('--opcua-pki <folder>', 'OPC UA with every security mode, its certificates in this folder')
      .option('--no-opcua', 'Modbus TCP only'),
    async (options: never) => (await import('../plant.ts')).plantCommand(options),
  );
  does(
    command('demo', 'the whole job on the simulated plant').option(
      '--dir <folder>',
      'where log and reports go',
      '.tripwitness/demo',
    ),
    async (options: never) => (await import('../demo.ts')).demoCommand(options),
  );
};
