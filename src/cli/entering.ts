import { type Client, Declined, type EnteredNow, type Entering } from '../api/index.ts';
import { text } from '../words/index.ts';
import { whereTold } from './daemon-file.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { asking } from './window.ts';

export interface EnteringOptions {
  readonly json: boolean;
  /** Where the daemon answers, if it is not where it said. */
  readonly daemon?: string;
  /** Folder of the site key, if it is not beside the log. */
  readonly keys?: string;
}

const isInUse = (error: unknown): boolean =>
  error instanceof Error && error.name === 'LogError' && 'code' in error && error.code === 'in-use';

/** Where the daemon asks for accounts, whoever shows a password for the entry signs in with it too. */
const enterSigned = async (client: Client, request: Entering): Promise<EnteredNow> => {
  const { who } = request;
  const { access } = await client.session();
  if (access === 'open' || who === undefined || !('as' in who)) return client.enter(request);
  await client.signIn(who.as, who.password);
  try {
    return await client.enter(request);
  } finally {
    // A changed password has ended the session already.
    await client.signOut().catch(() => undefined);
  }
};

const throughDaemon = async (
  log: string,
  request: Entering,
  named: string | undefined,
): Promise<EnteredNow> => {
  const url = named ?? whereTold(log);
  if (url === undefined)
    throw new Stop(
      `${log} is being written by another command, or by a daemon that did not say where: try again, or name it with --daemon`,
      {
        exit: EXIT.unavailable,
      },
    );
  const { lookAt } = await import('../daemon/index.ts');
  const own = lookAt(log, { ask: 'log' });
  return asking(url, async (client) => {
    // Asked before anything secret is sent.
    const theirs = await client.log();
    if (theirs.log === own.log) return enterSigned(client, request);
    throw new Stop(text({ code: 'log-other-daemon', params: { url, log } }), { exit: EXIT.usage });
  });
};

/**
 * Enters in a log: at its file, or through the daemon that writes it. What a rule of the record forbids ends the command
 * in words.
 */
export const enterIn = async (
  log: string,
  request: Entering,
  { daemon, keys }: Pick<EnteringOptions, 'daemon' | 'keys'>,
): Promise<EnteredNow> => {
  const { enterAtFile } = await import('../daemon/index.ts');
  try {
    return await enterAtFile(log, request, keys === undefined ? {} : { keys });
  } catch (cause) {
    if (cause instanceof Declined) throw new Stop(cause.message, { exit: EXIT.usage, cause });
    if (!isInUse(cause)) throw cause;
    return throughDaemon(log, request, daemon);
  }
};

/** The entry as JSON, or one line for people. */
export const toldEntered = (entered: EnteredNow, options: EnteringOptions, line: string): number => {
  if (options.json) json(entered);
  else out(`entry ${entered.entry}: ${line}`);
  return EXIT.ok;
};
