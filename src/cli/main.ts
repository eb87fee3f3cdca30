#!/usr/bin/env node
import { Command, CommanderError } from 'commander';
import { certificateCommands } from './commands/certificates.ts';
import { commandsOf } from './commands/commander.ts';
import { keyCommands } from './commands/keys.ts';
import { logCommands } from './commands/log.ts';
import { paperCommands } from './commands/paper.ts';
import { peopleCommands } from './commands/people.ts';
import { plantCommands } from './commands/plant.ts';
import { proofCommands } from './commands/proofs.ts';
import { runCommands } from './commands/run.ts';
import { siteCommands } from './commands/site.ts';
import { EXIT, Stop, say } from './io.ts';

/** The commands: parse, call, print. Heavy rooms are loaded only by the commands that need them. */
const program = new Command('tripwitness')
  .description(
    'Proves hazard-monitoring interlocks: there, in time, and for that reason. Read-only, always.\nIt observes; it protects nothing. Site rules and local codes prevail.',
  )
  .showHelpAfterError('(see --help)')
  .exitOverride()
  .configureOutput({ writeErr: (text) => process.stderr.write(text) });

const commands = commandsOf(program);
for (const register of [
  siteCommands,
  runCommands,
  logCommands,
  proofCommands,
  keyCommands,
  peopleCommands,
  certificateCommands,
  paperCommands,
  plantCommands,
])
  register(commands);

const exitFor = (error: unknown): number => {
  if (error instanceof Stop) {
    say(`tripwitness: ${error.message}`);
    return error.exit;
  }
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
  if (error instanceof Error && error.name === 'LogError') {
    say(`tripwitness: ${error.message}`);
    return 'code' in error && error.code === 'no-checkpoint' ? EXIT.data : EXIT.io;
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
