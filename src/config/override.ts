import type { Book } from '../rulebook/index.ts';

/** Where a source really answers, when it is not where the site says (a demo on free ports, a tunnel). */
export interface Whereabouts {
  readonly host?: string;
  readonly port?: number;
  readonly endpoint?: string;
}

/** The book with one source moved; the same book where no source has that name. */
export const overrideSource = (book: Book, name: string, to: Whereabouts): Book => ({
  ...book,
  sources: book.sources.map((source) => {
    if (source.name !== name) return source;
    if (source.protocol === 'modbus') {
      const { line } = source;
      if (line.kind === 'serial') return source;
      return { ...source, line: { ...line, host: to.host ?? line.host, port: to.port ?? line.port } };
    }
    if (source.protocol === 'opc-ua') return { ...source, endpoint: to.endpoint ?? source.endpoint };
    return source;
  }),
});
