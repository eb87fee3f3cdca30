#!/usr/bin/env node
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { EXIT, Stop, say } from './io.ts';

/** The commands: parse, call, print. Heavy rooms are loaded only by the commands that need them. */
const program = new Command('tripwitness')
  .description(
    'Proves hazard-monitoring interlocks: there, in time, and for that reason. Read-only, always.\nIt observes; it protects nothing. Site rules and local codes prevail.',
  )
  .showHelpAfterError('(see --help)')
  .exitOverride()
  .configureOutput({ writeErr: (text) => process.stderr.write(text) });

const many = (value: string, before: readonly string[]): readonly string[] => [...before, value];
const number = (value: string): string => {
  if (!/^\d+(\.\d+)?$/.test(value)) throw new InvalidArgumentError('write a number');
  return value;
};

type Action = (...args: never[]) => Promise<number>;

const command = (name: string, text: string): Command =>
  program.command(name).description(text).option('--json', 'one JSON document on standard output', false);

/** Runs the action; its number is the exit code. */
const does = (made: Command, action: Action): void => {
  made.action(async (...args: unknown[]) => {
    process.exitCode = await action(...(args as never[]));
  });
};

const listed = (flag: string, text: string): Option =>
  new Option(flag, text).argParser(many).default([], 'none');

does(
  command('check', 'read site and rulebook; list every fault, and what this polling can decide')
    .argument('<site>', 'site file')
    .option('--self-test', 'play each rule right and wrong: it must pass, and must be able to fail', false)
    .option('--connect', 'read every tag once and say what is odd about it', false)
    .addOption(
      listed('--at <source=place>', 'where a source really is: SOURCE=HOST:PORT or SOURCE=opc.tcp://…'),
    )
    .option('--pki <folder>', 'our certificate and those we trust, for OPC UA', 'pki'),
  async (site: string, options: never) => (await import('./check.ts')).checkCommand(site, options),
);

does(
  command('judge', 'judge a recorded trace against the rulebook')
    .argument('[site]', 'site file')
    .argument('[trace]', 'CSV: time,signal,value,quality')
    .option('--scenario <files...>', 'play scenarios instead, and compare with what they expect')
    .option('--marks <file>', 'what people did meanwhile')
    .addOption(listed('--interlock <name>', 'only this one (again for more)'))
    .addOption(listed('--method <name=method>', 'how the cause was moved'))
    .option('--ignore-unknown', 'pass over signals that the site does not know', false),
  async (site: string | undefined, trace: string | undefined, options: never) =>
    (await import('./judge.ts')).judgeOrRehearse(site, trace, options),
);

does(
  command('probe', 'ask one device, step by step; show every way to read what stands there')
    .argument('<place>', 'HOST:PORT, a serial port such as /dev/ttyUSB0, or opc.tcp://HOST:PORT')
    .argument('[address]', 'hr:0, ir:0, coil:0, di:0 (from 0), 40001, 400001 (from 1); OPC UA: a path')
    .option('--unit <id>', 'unit id', number, '1')
    .option('--units <list>', 'ask a few unit ids instead, one after the other: 1-5 or 1,3')
    .option('--table <name>', 'hr, ir, coil or di, for an address such as 0x000A')
    .option('--count <n>', 'addresses to ask', number)
    .option('--around <n>', 'neighbours on each side', number)
    .option('--expect <reading>', 'what the display shows now, such as "96.3 rpm": finds where it stands')
    .option('--watch', 'count changes per address: turn the shaft and see which moves', false)
    .option('--for <seconds>', 'how long to watch', number)
    .option('--every <ms>', 'how often to ask while watching', number, '250')
    .option('--rtu-over-tcp', 'RTU frames over TCP, as plain serial converters want them', false)
    .option('--baud <n>', 'of a serial port', number, '19200')
    .option('--parity <name>', 'of a serial port: even, odd or none', 'even')
    .option('--timeout <ms>', 'milliseconds to wait', number, '2000')
    .option('--site-file <file>', 'write a starting site file; never over one that is there')
    .option('--security <mode>', 'of an OPC UA server: none, sign or sign-and-encrypt', 'none')
    .option('--policy <name>', 'security policy', 'Basic256Sha256')
    .option('--user <name>', 'name of the user; with --password-from')
    .option('--password-from <variable>', 'environment variable that holds the password')
    .option('--user-certificate <file>', 'PEM file of the user; with --user-key')
    .option('--user-key <file>', 'PEM file of its private key')
    .option('--pki <folder>', 'our certificate and those we trust', 'pki'),
  async (place: string, address: string | undefined, options: never) =>
    (await import('./probe.ts')).probeCommand(place, address, options),
);

does(
  command('export', 'tags and machines of a site as CSV, which reads back to the same')
    .argument('<site>', 'site file')
    .requiredOption('--tags <file>', 'table of the tags; never over a file that is there')
    .requiredOption('--machines <file>', 'table of the machines')
    .option('--site <file>', 'the rest of the site, naming the tables'),
  async (site: string, options: never) => (await import('./tables.ts')).exportCommand(site, options),
);

does(
  command('run', 'the daemon: polls, watches, judges, enters; serves the page')
    .argument('<site>', 'site file')
    .option('--log <file>', 'verification log', 'verification.log.db')
    .option('--port <n>', 'port of API and page on 127.0.0.1', number, '8470')
    .addOption(
      listed('--at <source=place>', 'where a source really is: SOURCE=HOST:PORT or SOURCE=opc.tcp://…'),
    ),
  async (site: string, options: never) => (await import('./run.ts')).runCommand(site, options),
);

const windowOptions = (made: Command): Command =>
  made
    .option('--daemon <url>', 'the running daemon', 'http://127.0.0.1:8470')
    .addOption(listed('--interlock <name>', 'only this one (again for more)'))
    .addOption(listed('--method <name=method>', 'how the cause will be moved'))
    .addOption(listed('--person <role=name>', 'who does what'))
    .addOption(listed('--revision <machine=text>', 'program revision, where the controller shows none'))
    .option('--note <text>', 'permit, instruments, procedure');

const windows = program.command('window').description('a test window on the running daemon');
const windowCommand = (name: string, text: string): Command =>
  windowOptions(
    windows.command(name).description(text).option('--json', 'one JSON document on standard output', false),
  );

does(windowCommand('open', 'open a window'), async (options: never) =>
  (await import('./window.ts')).openCommand(options),
);
does(
  windowCommand('show', 'show a window, or the record of a demand')
    .argument('[window]')
    .option('--all', 'also what is about nothing under test', false),
  async (window: string | undefined, options: never) =>
    (await import('./window.ts')).showCommand(window, options),
);
does(
  windowCommand('close', 'close the window and judge it').argument('[window]'),
  async (window: string | undefined, options: never) =>
    (await import('./window.ts')).closeCommand(window, options),
);
does(
  windowCommand(
    'mark',
    'enter what people say or do: now, attested, observed, adjusted, trial-aborted, bypassed',
  )
    .argument('<code>')
    .requiredOption('--by <name>', 'who says so')
    .option('--on <name>', 'interlock; of an attestation, the machine')
    .option('--what <what>', 'horn-heard, motion-stopped, feed-stopped or no-stop-pressed')
    .option('--text <text>', 'in words', '')
    .option('--value <quantity>', 'observed: what the instrument showed when it acted, e.g. "78.9 rpm"')
    .option('--doubt <quantity>', 'observed: how far that may be from the truth, e.g. "0.2 rpm"')
    .option('--instrument <text>', 'observed: which instrument'),
  async (code: string, options: never) => (await import('./mark.ts')).markOf(code, options),
);

does(
  windowOptions(command('prove', 'open a window, follow its trials live, close it, print verdicts'))
    .option('--time-limit <s>', 'seconds', number, '600')
    .option('--trials <n>', 'complete trials each interlock needs', number, '1')
    .option('--all', 'tell also what is about nothing under test', false),
  async (options: never) => (await import('./window.ts')).proveCommand(options),
);

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
  (await import('./certificates.ts')).listCommand(options),
);
does(
  storeCommand('trust', 'trust a server whose certificate was seen').argument('<fingerprint>'),
  async (fingerprint: string, options: never) =>
    (await import('./certificates.ts')).trustCommand(fingerprint, true, options),
);
does(
  storeCommand('reject', 'trust it no more').argument('<fingerprint>'),
  async (fingerprint: string, options: never) =>
    (await import('./certificates.ts')).trustCommand(fingerprint, false, options),
);
does(
  storeCommand('examine', 'go to a server; say which side does not trust which, and what to do')
    .argument('<endpoint>', 'opc.tcp://HOST:PORT')
    .option('--security <mode>', 'none, sign or sign-and-encrypt', 'sign-and-encrypt')
    .option('--policy <name>', 'security policy', 'Basic256Sha256')
    .option('--user <name>', 'name of the user; with --password-from')
    .option('--password-from <variable>', 'environment variable that holds the password')
    .option('--user-certificate <file>', 'PEM file of the user; with --user-key')
    .option('--user-key <file>', 'PEM file of its private key')
    .option('--timeout <ms>', 'milliseconds for each step', number, '5000'),
  async (endpoint: string, options: never) =>
    (await import('./certificates.ts')).examineCommand(endpoint, options),
);

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
  async (options: never) => (await import('./plant.ts')).plantCommand(options),
);
does(
  command('demo', 'the whole job on the simulated plant').option(
    '--dir <folder>',
    'where log and reports go',
    '.tripwitness/demo',
  ),
  async (options: never) => (await import('./demo.ts')).demoCommand(options),
);

const exitFor = (error: unknown): number => {
  if (error instanceof Stop) {
    say(`tripwitness: ${error.message}`);
    return error.exit;
  }
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
  if (error instanceof Error && error.name === 'LogError') {
    say(`tripwitness: ${error.message}`);
    return EXIT.io;
  }
  say(
    `tripwitness: a fault of our own: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
  );
  return EXIT.software;
};

// Whoever reads only the first lines (`… | head`) closes the pipe: that is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = exitFor(error);
}
