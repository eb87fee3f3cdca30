/** A log's entries made by hand, as the daemon would have entered them: years of windows without a plant. */
import type { Method, WindowVerdict } from '../../../src/judge/index.ts';
import { formatUtc, type Instant, parseUtc, SECOND } from '../../../src/measure/index.ts';
import { canonicalText, type Entry, type EntryKind, plain, utf8 } from '../../../src/record/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import { sha256 } from '../../../src/store/index.ts';

export interface Tested {
  readonly name: string;
  readonly method?: Method;
  readonly verdict: Partial<WindowVerdict> & Pick<WindowVerdict, 'outcome'>;
}

export interface WindowMade {
  readonly id: string;
  readonly tested: readonly Tested[];
  /** By machine: at the beginning, and at the end where another. */
  readonly revisions?: Readonly<Record<string, string | readonly [string, string]>>;
  readonly typed?: boolean;
  readonly demand?: boolean;
  readonly interrupted?: boolean;
}

export const verdictOf = (more: Partial<WindowVerdict> & Pick<WindowVerdict, 'outcome'>): WindowVerdict => ({
  reasons: [{ code: more.outcome === 'pass' ? 'set-point-inside' : 'not-reached', params: {} }],
  aspects: [],
  effects: [],
  proved: more.outcome === 'pass' ? ['wiring', 'input', 'logic', 'output'] : [],
  trials: [],
  trial: 1,
  ...more,
});

export const hashOf = (book: Book): string => sha256(utf8(canonicalText(plain(book))));

/** `2026-01-31` or with a time: an instant. */
export const at = (day: string): Instant => {
  const found = parseUtc(day.includes('T') ? day : `${day}T08:00:00Z`);
  if (found === undefined) throw new Error(`${day} is no day`);
  return found;
};

export const pastOf = (first: string, book: Book) => {
  const entries: Entry[] = [];
  let current = book;
  const enter = (when: Instant, kind: EntryKind, subject: string, body: unknown, actor = 'daemon'): void => {
    const utc = formatUtc(when);
    const made = plain(body) as Entry['body'];
    entries.push({
      version: 1,
      seq: entries.length,
      kind,
      subject,
      actor,
      utc,
      monotonic: 0,
      boot: 'b',
      body: made,
    });
  };
  const index = (name: string): number => {
    const found = current.interlocks.findIndex((one) => one.name === name);
    if (found < 0) throw new Error(`the book has no ${name}`);
    return found;
  };
  const own = {
    entries,
    enter: (day: string, kind: EntryKind, subject: string, body: unknown, actor = 'fitter') => {
      enter(at(day), kind, subject, body, actor);
      return own;
    },
    book: (day: string, next: Book) => {
      current = next;
      enter(at(day), 'book', next.site, { hash: hashOf(next), book: next, texts: [] });
      return own;
    },
    revision: (day: string, machine: string, text: string) => {
      enter(at(day), 'revision', machine, { machine, text, quality: 'tag' });
      return own;
    },
    window: (day: string, { id, tested, revisions = {}, ...how }: WindowMade) => {
      const opened = at(day);
      const closed = (opened + 600 * SECOND) as Instant;
      const mark = (when: Instant, one: object): void =>
        enter(when, 'mark', id, { mark: { at: when, ...one }, position: 0 });
      const stimuli = how.demand
        ? []
        : tested.map(({ name, method = 'injected' }) => ({ interlock: index(name), method }));
      const people = [{ name: 'A. Fitter', role: 'sensor' }];
      enter(opened, 'window-opened', id, {
        stimuli,
        book: hashOf(current),
        engine: 4,
        tool: '0.1.0',
        people,
        note: '',
      });
      mark(opened, { code: 'window-opened', window: id, stimuli });
      const revise = (when: Instant, end: 0 | 1): void => {
        for (const [machine, text] of Object.entries(revisions)) {
          const said = typeof text === 'string' ? text : text[end];
          const found = current.machines.findIndex((one) => one.name === machine);
          const quality = how.typed ? 'typed' : 'tag';
          mark(when, { code: 'revision', machine: found, text: said, quality });
        }
      };
      revise(opened, 0);
      if (how.interrupted) {
        enter(closed, 'window-interrupted', id, { why: 'the daemon had ended without closing it' });
        return own;
      }
      revise(closed, 1);
      for (const { name, verdict } of tested) {
        const finding = {
          at: closed,
          interlock: index(name),
          trial: 1,
          kind: 'window',
          verdict: verdictOf(verdict),
        };
        enter(closed, 'verdict', id, { finding: how.demand ? { ...finding, demand: true } : finding });
      }
      mark(closed, { code: 'window-closed' });
      enter(closed, 'window-closed', id, { answers: 0, findings: tested.length });
      return own;
    },
  };
  enter(at(first), 'genesis', book.site, { log: 'a'.repeat(32), site: book.site });
  enter(at(first), 'book', book.site, { hash: hashOf(book), book, texts: [] });
  return own;
};
