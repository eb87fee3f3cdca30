import { forgetWhere, tellWhere } from './daemon-file.ts';
import { EXIT, json, out, Stop, say } from './io.ts';
import { keysOf } from './keys-folder.ts';
import { dangerLines } from './lines.ts';
import { secretOf } from './secret.ts';
import { loadBook } from './site.ts';
import { movedTo } from './whereabouts.ts';

export interface RunOptions {
  readonly json: boolean;
  readonly log: string;
  /** Folder, or `beside it`. */
  readonly keys: string;
  readonly port: string;
  /** `source=host:port` or `source=opc.tcp://…`. */
  readonly at: readonly string[];
}

/** What ends the daemon: a signal, or a log that cannot be written any more. */
const endings = (): { told: Promise<string>; broken: (error: unknown) => void; isBroken: () => boolean } => {
  let fault = false;
  let end = (_reason: string): void => undefined;
  const told = new Promise<string>((resolve) => {
    end = resolve;
    process.once('SIGTERM', () => resolve('SIGTERM'));
    process.once('SIGINT', () => resolve('SIGINT'));
  });
  const broken = (): void => {
    fault = true;
    end('the log cannot be written');
  };
  return { told, broken, isBroken: () => fault };
};

/** Beside the log's own line, a terminal shows what is dangerous so that nobody misses it. */
const shout = (text: string, about: object | undefined): void => {
  const dangerous = about !== undefined && 'dangerous' in about && about.dangerous === true;
  if (dangerous && process.stderr.isTTY) say(dangerLines(text).join('\n'));
};

/** The daemon: polls, watches, judges, enters; serves the page on the loopback address. */
export const runCommand = async (site: string, options: RunOptions): Promise<number> => {
  const loaded = await loadBook(site, options.json);
  const book = movedTo(loaded.book, options.at);
  const [{ pageOf, runDaemon }, { serve }, { pino }] = await Promise.all([
    import('../daemon/index.ts'),
    import('../web/index.ts'),
    import('pino'),
  ]);
  const logger = pino({ base: null }, pino.destination({ dest: 2, sync: true }));
  const ending = endings();
  const daemon = await runDaemon({
    book,
    broken: ending.broken,
    texts: loaded.texts,
    log: options.log,
    keys: await keysOf(options.log, options.keys),
    secret: secretOf,
    tell: (level, text, about) => {
      logger[level](about ?? {}, text);
      shout(text, about);
    },
  });
  const page = (id: string): string | undefined => {
    try {
      return pageOf(options.log, { windows: [id] });
    } catch (error) {
      if (error instanceof RangeError) return undefined;
      throw error;
    }
  };
  const served = await serve({ ...daemon, report: page }, Number(options.port)).catch(
    async (cause: unknown) => {
      await daemon.stop('the port could not be taken');
      throw new Stop(`port ${options.port} cannot be taken: ${String(cause)}; name another with --port`, {
        exit: EXIT.unavailable,
        cause,
      });
    },
  );
  tellWhere(options.log, served.url);
  if (options.json) json({ url: served.url, log: options.log, pid: process.pid });
  else
    out(
      `watching ${book.title || book.site}: ${served.url}\nlog: ${options.log}\nIt observes; it protects nothing. End it with Ctrl-C.`,
    );
  const reason = await ending.told;
  say(`ending (${reason})`);
  await served.stop();
  forgetWhere(options.log);
  await daemon.stop(reason);
  return ending.isBroken() ? EXIT.io : EXIT.ok;
};
