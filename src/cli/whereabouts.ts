import { overrideSource } from '../config/index.ts';
import type { Book } from '../rulebook/index.ts';
import { EXIT, Stop } from './io.ts';

/** The book with sources asked somewhere else: `SOURCE=HOST:PORT` or `SOURCE=opc.tcp://…` each. */
export const movedTo = (book: Book, texts: readonly string[]): Book =>
  texts.reduce((moved, one) => {
    const cut = one.indexOf('=');
    const [name, where] = [one.slice(0, cut), one.slice(cut + 1)];
    if (cut < 1 || !book.sources.some((source) => source.name === name)) {
      throw new Stop(`--at ${one}: write SOURCE=HOST:PORT or SOURCE=opc.tcp://…, with a source of the site`, {
        exit: EXIT.usage,
      });
    }
    if (where.startsWith('opc.tcp://')) return overrideSource(moved, name, { endpoint: where });
    const colon = where.lastIndexOf(':');
    return overrideSource(moved, name, { host: where.slice(0, colon), port: Number(where.slice(colon + 1)) });
  }, book);
