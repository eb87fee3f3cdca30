import type { Command } from 'commander';
import { type Commands, does, number, withAccess } from './commander.ts';

/** Certificates of OPC UA. */
export const certificateCommands = ({ program }: Commands): void => {
  const stores = program.command('certificates').description('our OPC UA certificate, and those of servers');
  const storeCommand = (name: string, text: string): Command =>
    stores
      .command(name)
      .description(text)
      .option('--json', 'one JSON document on standard output', false)
      .option(
        '--log <file>',
        'verification log; the certificates lie in "pki" beside it',
        'verification.log.db',
      )
      .option('--pki <folder>', 'another folder of certificates');

  does(storeCommand('list', 'ours (made where it is missing) and theirs'), async (options: never) =>
    (await import('../certificates.ts')).listCommand(options),
  );
  does(
    storeCommand('trust', 'trust a server whose certificate was seen').argument('<fingerprint>'),
    async (fingerprint: string, options: never) =>
      (await import('../certificates.ts')).trustCommand(fingerprint, true, options),
  );
  does(
    storeCommand('reject', 'trust it no more').argument('<fingerprint>'),
    async (fingerprint: string, options: never) =>
      (await import('../certificates.ts')).trustCommand(fingerprint, false, options),
  );
  does(
    withAccess(
      storeCommand('examine', 'go to a server; say which side does not trust which, and what to do')
        .argument('<endpoint>', 'opc.tcp://HOST:PORT')
        .option('--security <mode>', 'none, sign or sign-and-encrypt', 'sign-and-encrypt'),
    ).option('--timeout <ms>', 'milliseconds for each step', number, '5000'),
    async (endpoint: string, options: never) =>
      (await import('../certificates.ts')).examineCommand(endpoint, options),
  );
};
