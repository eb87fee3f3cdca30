import { type Commands, does, listed, number, withAccess } from './commander.ts';

/** Before anything runs: files, recorded traces, devices. */
export const siteCommands = ({ command }: Commands): void => {
  does(
    command('check', 'read site and rulebook; list every fault, and what this polling can decide')
      .argument('<site>', 'site file')
      .option('--self-test', 'play each rule right and wrong: it must pass, and must be able to fail', false)
      .option('--connect', 'read every tag once and say what is odd about it', false)
      .addOption(
        listed('--at <source=place>', 'where a source really is: SOURCE=HOST:PORT or SOURCE=opc.tcp://…'),
      )
      .option('--pki <folder>', 'our certificate and those we trust, for OPC UA', 'pki'),
    async (site: string, options: never) => (await import('../check.ts')).checkCommand(site, options),
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
      (await import('../judge.ts')).judgeOrRehearse(site, trace, options),
  );

  does(
    withAccess(
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
        .option('--security <mode>', 'of an OPC UA server: none, sign or sign-and-encrypt', 'none'),
    ).option('--pki <folder>', 'our certificate and those we trust', 'pki'),
    async (place: string, address: string | undefined, options: never) =>
      (await import('../probe/probe.ts')).probeCommand(place, address, options),
  );

  does(
    command('export', 'tags and machines of a site as CSV, which reads back to the same')
      .argument('<site>', 'site file')
      .requiredOption('--tags <file>', 'table of the tags; never over a file that is there')
      .requiredOption('--machines <file>', 'table of the machines')
      .option('--site <file>', 'the rest of the site, naming the tables'),
    async (site: string, options: never) => (await import('../tables.ts')).exportCommand(site, options),
  );
};
