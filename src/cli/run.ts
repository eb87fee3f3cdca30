import type { Place, Served } from '../web/index.ts';
import { type AbroadOptions, abroadOf } from './abroad.ts';
import { forgetWhere, tellWhere } from './daemon-file.ts';
import { EXIT, json, out, Stop, say } from './io.ts';
import { keysOf } from './keys-folder.ts';
import { dangerLines } from './lines.ts';
import { secretOf } from './secret.ts';
import { loadBook } from './site.ts';
import { movedTo } from './whereabouts.ts';

export interface RunOptions extends AbroadOptions {
  readonly json: boolean;
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

/** Takes every port, or none of them. */
const takePorts = async (
  places: readonly Place[],
  take: (place: Place) => Promise<Served>,
): Promise<Served[]> => {
  const served: Served[] = [];
  for (const place of places) {
    try {
      served.push(await take(place));
    } catch (cause) {
      await Promise.all(served.map((one) => one.stop()));
      const where = place.host === undefined ? `port ${place.port}` : `${place.host}:${place.port}`;
      const flag = place.host === undefined ? '--port' : '--listen';
      throw new Stop(`${where} cannot be taken: ${String(cause)}; name another with ${flag}`, {
        exit: EXIT.unavailable,
        cause,
      });
    }
  }
  return served;
};

/** The daemon: polls, watches, judges, enters; serves the page on the loopback address, and abroad where that is asked for. */
export const runCommand = async (site: string, options: RunOptions): Promise<number> => {
  const loaded = await loadBook(site, options.json);
  const book = movedTo(loaded.book, options.at);
  const abroad = await abroadOf(options);
  const [{ runDaemon }, { serve }, { pino }] = await Promise.all([
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
  const here: Place = { port: Number(options.port), access: options.signIn ? 'accounts' : 'open' };
  const served = await takePorts(abroad === undefined ? [here] : [here, abroad], (place) =>
    serve(daemon, place),
  ).catch(async (error: unknown) => {
    await daemon.stop('a port could not be taken');
    throw error;
  });
  const [own, other] = served;
  const url = own?.url ?? '';
  tellWhere(options.log, url);
  if (options.json) json({ url, ...(other && { abroad: other.url }), log: options.log, pid: process.pid });
  else
    out(
      [
        `watching ${book.title || book.site}: ${url}${options.signIn ? ' (sign in)' : ''}`,
        ...(other ? [`from other machines: ${other.url} (sign in)`] : []),
        ...(other && abroad?.tls === undefined
          ? ['  NOT ENCRYPTED: whoever shares the network can read and take it over']
          : []),
        `log: ${options.log}`,
        'It observes; it protects nothing. End it with Ctrl-C.',
      ].join('\n'),
    );
  const reason = await ending.told;
  say(`ending (${reason})`);
  await Promise.all(served.map((one) => one.stop()));
  forgetWhere(options.log);
  await daemon.stop(reason);
  return ending.isBroken() ? EXIT.io : EXIT.ok;
};
