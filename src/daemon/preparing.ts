import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { ENGINE } from '../judge/index.ts';
import { formatUtc } from '../measure/index.ts';
import { canonicalText, type Entry, plain, utf8 } from '../record/index.ts';
import type { Book } from '../rulebook/index.ts';
import { createLog, type Draft, type Log, LogError, openLog, readLog, sha256 } from '../store/index.ts';
import { type Beginning, beginningOf } from './beginning.ts';
import { type Clock, createClock } from './clock.ts';
import { enterInterrupted, type Left } from './left-open.ts';
import { createLogbook, type Logbook } from './logbook.ts';
import { tellOpening } from './opening.ts';
import { VERSION } from './version.ts';

export interface DaemonOptions {
  readonly book: Book;
  /** The files that made the book: path and text. */
  readonly texts: readonly (readonly [string, string])[];
  readonly log: string;
  /** Folder of the site key; `keys` beside the log where none is named. */
  readonly keys?: string;
  /** Value of an environment variable that the site names for a password; asked for at each connection. */
  readonly secret: (variable: string) => string | undefined;
  readonly tell: (level: 'info' | 'warn' | 'error', text: string, about?: object) => void;
  /** The log cannot be written any more: what is seen from now on is lost, so whoever runs the daemon must end it. */
  readonly broken: (error: unknown) => void;
}

/** Whose log it is, and what the daemon goes on from; read once, and from the file that is held open for writing. */
const lookInto = (path: string): { readonly site: string | undefined; readonly beginning: Beginning } => {
  const reader = readLog(path);
  try {
    return { site: reader.genesis()?.subject, beginning: beginningOf(reader) };
  } finally {
    reader.close();
  }
};

/** What the daemon runs with from its start on. */
interface Prepared {
  readonly clock: Clock;
  readonly logbook: Logbook;
  /** Of the book. */
  readonly hash: string;
  readonly beginning: Beginning;
  readonly left: Left;
  /** Identity of the log. */
  readonly log: string;
  /** What the log says of accounts. */
  readonly persons: readonly Entry[];
}

interface Opened {
  readonly log: Log;
  readonly fresh: boolean;
  readonly beginning: Beginning;
}

const peopleIn = (path: string): Pick<Prepared, 'log' | 'persons'> => {
  const reader = readLog(path);
  try {
    const log = String(reader.genesis()?.body['log'] ?? '');
    return { log, persons: reader.entriesOf({ kind: 'person' }) };
  } finally {
    reader.close();
  }
};

/** A log belongs to one site. A log that is not there is begun, and that is said. */
const openOrBegin = async (options: DaemonOptions, genesis: Draft): Promise<Opened> => {
  const place = options.keys === undefined ? {} : { keys: options.keys };
  if (!existsSync(options.log)) {
    await mkdir(dirname(options.log), { recursive: true });
    const log = await createLog(options.log, genesis, place);
    return { log, fresh: true, beginning: beginningOf({ entries: () => [] }) };
  }
  const log = await openLog(options.log, place);
  try {
    const { site, beginning } = lookInto(options.log);
    if (site === options.book.site) return { log, fresh: false, beginning };
    const text = `${options.log} is the log of site "${site ?? '?'}", not of "${options.book.site}"; name another log`;
    throw new LogError(text, { code: 'other-site' });
  } catch (error) {
    await log.close();
    throw error;
  }
};

const bookHashOf = (book: Book): string => sha256(utf8(canonicalText(plain(book))));

/** Opens the log, and enters what a start always enters; all of it is on the disk. Rejects where the log cannot be used. */
export const prepare = async (options: DaemonOptions): Promise<Prepared> => {
  const { book, texts, tell } = options;
  const clock = createClock();
  const boot = `${process.pid}-${clock.now()}`;
  const genesis: Draft = {
    version: 1,
    kind: 'genesis',
    subject: book.site,
    actor: 'daemon',
    utc: formatUtc(clock.now()),
    monotonic: clock.monotonic(),
    boot,
    body: { log: sha256(utf8(`${book.site} ${boot}`)).slice(0, 32), site: book.site },
  };
  const { log, fresh, beginning } = await openOrBegin(options, genesis);
  const logbook = createLogbook(log, clock, boot, (error) => {
    tell('error', `the log cannot be written: ${String(error)}`);
    options.broken(error);
  });
  if (fresh) tell('info', `began a new log: ${options.log}`);
  tellOpening(log.opening, tell);
  logbook.enter('daemon-started', '', 'daemon', { tool: VERSION, engine: ENGINE, node: process.version });
  const hash = bookHashOf(book);
  logbook.enter('book', book.site, 'daemon', { hash, book, texts });
  const left = enterInterrupted(beginning.interrupted, options.log, logbook, hash, clock.now);
  for (const id of left.interrupted) tell('warn', `window ${id} was open when the daemon ended: interrupted`);
  await logbook.settled();
  return { clock, logbook, hash, beginning, left, ...peopleIn(options.log) };
};
