import type { Command } from 'commander';
import { WINDOW_ROLES } from '../../record/index.ts';
import { type Commands, does, listed, number } from './commander.ts';

/** The daemon and its test windows. */
export const runCommands = ({ program, command }: Commands): void => {
  does(
    command('run', 'the daemon: polls, watches, judges, enters; serves the page')
      .argument('<site>', 'site file')
      .option('--log <file>', 'verification log', 'verification.log.db')
      .option('--keys <folder>', 'folder of the site key, made at the first start', 'beside it')
      .option('--port <n>', 'port of API and page on 127.0.0.1', number, '8470')
      .option('--sign-in', 'ask for accounts on 127.0.0.1 too', false)
      .option('--listen <address:port>', 'answer other machines there too, with accounts')
      .addOption(listed('--name <host>', 'of --listen: a name under which it is asked (again for more)'))
      .option('--tls-cert <file>', 'of --listen: certificate, PEM; with those that vouch for it')
      .option('--tls-key <file>', 'of --listen: its private key, PEM')
      .option(
        '--without-tls',
        'of --listen, without a certificate: whoever shares the network can read passwords and take over sessions',
        false,
      )
      .addOption(
        listed('--at <source=place>', 'where a source really is: SOURCE=HOST:PORT or SOURCE=opc.tcp://…'),
      ),
    async (site: string, options: never) => (await import('../run.ts')).runCommand(site, options),
  );

  const windowOptions = (made: Command): Command =>
    made
      .option('--daemon <url>', 'the running daemon', 'http://127.0.0.1:8470')
      .addOption(listed('--interlock <name>', 'only this one (again for more)'))
      .addOption(listed('--method <name=method>', 'how the cause will be moved'))
      .addOption(listed('--person <role=name>', `who does what; roles: ${WINDOW_ROLES.join(', ')}`))
      .addOption(listed('--revision <machine=text>', 'program revision, where the controller shows none'))
      .option('--note <text>', 'permit, instruments, procedure')
      .option('--as <id>', 'account to sign in with, where the daemon asks for accounts')
      .option(
        '--password-from <variable>',
        'environment variable that holds its password; else you are asked',
      );

  const windows = program.command('window').description('a test window on the running daemon');
  const windowCommand = (name: string, text: string): Command =>
    windowOptions(
      windows.command(name).description(text).option('--json', 'one JSON document on standard output', false),
    );

  does(windowCommand('open', 'open a window'), async (options: never) =>
    (await import('../window.ts')).openCommand(options),
  );
  does(
    windowCommand('show', 'show a window, or the record of a demand')
      .argument('[window]')
      .option('--all', 'also what is about nothing under test', false),
    async (window: string | undefined, options: never) =>
      (await import('../window.ts')).showCommand(window, options),
  );
  does(
    windowCommand('close', 'close the window and judge it').argument('[window]'),
    async (window: string | undefined, options: never) =>
      (await import('../window.ts')).closeCommand(window, options),
  );
  does(
    windowCommand(
      'mark',
      'enter what people say or do: now, attested, observed, adjusted, trial-aborted, bypassed',
    )
      .argument('<code>')
      .option('--by <name>', 'who says so; with --as it is the account')
      .option('--on <name>', 'interlock; of an attestation, the machine')
      .option('--what <what>', 'horn-heard, motion-stopped, feed-stopped or no-stop-pressed')
      .option('--where <place>', 'attested: from where it was seen or heard')
      .option('--text <text>', 'in words', '')
      .option('--value <quantity>', 'observed: what the instrument showed when it acted, e.g. "78.9 rpm"')
      .option('--doubt <quantity>', 'observed: how far that may be from the truth, e.g. "0.2 rpm"')
      .option('--instrument <text>', 'observed: which instrument'),
    async (code: string, options: never) => (await import('../mark.ts')).markOf(code, options),
  );

  does(
    windowOptions(command('prove', 'open a window, follow its trials live, close it, print verdicts'))
      .option('--time-limit <s>', 'seconds', number, '600')
      .option('--trials <n>', 'complete trials each interlock needs', number, '1')
      .option('--all', 'tell also what is about nothing under test', false),
    async (options: never) => (await import('../window.ts')).proveCommand(options),
  );
};
