import { auditBundle, pageAgain } from '../../../src/daemon/index.ts';
import type { Logbook } from '../../../src/daemon/logbook.ts';
import { createAnswerTimes } from '../../../src/daemon/planning.ts';
import { VERSION } from '../../../src/daemon/version.ts';
import { openWindow } from '../../../src/daemon/window-run.ts';
import { formatUtc, instant, newReadings } from '../../../src/measure/index.ts';
import {
  ANSWERS,
  type Bundle,
  bundleText,
  canonicalText,
  encodeAnswers,
  plain,
  utf8,
} from '../../../src/record/index.ts';
import type { BesideReport } from '../../../src/report/index.ts';
import type { Answer } from '../../../src/signal/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { at, book, plan, wordsOf } from '../daemon/leg.ts';
import { Grown, KEYS } from '../record/bundled.ts';

/** The alignment switch is displaced from 12 s to 16 s, the leg stops 2 s later, its feeder with it. */
const wordsAt = wordsOf({ displaced: [12, 16], alarm: 12.5, stop: 14 });

function* answers(from: number, until: number): Generator<Answer> {
  for (let t = from; t < until; t += 0.05)
    for (const [index, request] of plan.requests.entries())
      yield {
        kind: 'words',
        source: request.source,
        request: index,
        sent: at(t),
        received: at(t + 0.002),
        words: wordsAt(t, request.at, request.count),
      };
}

const logbookOf = (log: Grown): Logbook => ({
  newest: () => '',
  enter: (kind, subject, actor, body) => log.add(kind, subject, plain(body), actor),
  trace(window, some, first) {
    if (some.length === 0) return;
    const bytes = encodeAnswers(some);
    log.blocks.set(sha256(bytes), bytes);
    log.add('trace', window, {
      encoding: ANSWERS,
      block: sha256(bytes),
      count: some.length,
      first,
      from: formatUtc(instant(some[0]?.received ?? 0)),
      to: formatUtc(instant(some.at(-1)?.received ?? 0)),
    });
  },
  before: () => undefined,
  settled: () => Promise.resolve(),
  count: (subject) => log.about(subject).length,
  head: () => ({ ...log.checkpoint(0) }),
  close: () => Promise.resolve(),
});

/** What somebody wrote who wants to be believed, and what breaks pages. */
const EVIL = `</script><b>é “x” & 'y'\u202e</b>`;

const grow = (): Grown => {
  const log = new Grown();
  log.add('genesis', book.site, { log: 'l-1', site: book.site, key: KEYS[0] });
  const hash = sha256(utf8(canonicalText(plain(book))));
  log.add('book', book.site, { hash, book: plain(book) });
  log.add('person', 'ada', { action: 'added', id: 'ada', name: 'Ada', roles: ['tester'] });
  for (const [id, begin] of [
    ['w-1', 0],
    ['w-2', 100],
  ] as const) {
    const stimuli = book.interlocks
      .filter((one) => one.name.startsWith('E1.misalignment'))
      .map((one) => ({ interlock: one.id, method: 'displaced' as const }));
    const about = {
      book: hash,
      engine: 9,
      tool: VERSION,
      people: [
        { name: 'Ada', role: 'sensor' },
        { name: EVIL, role: 'witness' },
      ],
      note: 'permit 7',
    };
    const times = createAnswerTimes(book.sources.length);
    const opening = { id, at: at(begin + 1), stimuli, by: { name: 'Ada' }, about, before: [], times };
    const run = openWindow(book, logbookOf(log), opening, () => undefined);
    const shifted = (one: Answer): Answer => ({
      ...one,
      ...('sent' in one && { sent: instant(one.sent + begin * 1_000_000) }),
      received: instant(one.received + begin * 1_000_000),
    });
    for (const answer of answers(1.05, 24)) run.answer(shifted(answer), newReadings(0));
    run.mark({ code: 'now', at: at(begin + 24), by: EVIL, text: EVIL }, { name: 'Ada' });
    run.close(at(begin + 25), { name: 'Ada' });
    log.add('source-back', 'plc1', { id });
    const signed = (role: string): unknown => ({
      meaning: 'performed',
      person: { id: 'ada', name: 'Ada' },
      role,
      assurance: 'password',
      covers: log.covers(id),
    });
    log.add('signature', id, signed('tester'), 'ada');
    const of = log.about(id)[0]?.seq;
    const correction = {
      of,
      field: 'body.people.0.name',
      was: 'Ada',
      becomes: 'Ada B.',
      reason: 'whole name',
    };
    log.add('amendment', id, correction, 'ada');
  }
  return log;
};

export const LOG = grow();
export const BUNDLE: Bundle = LOG.bundle(0, 'w-1');

/** The page of a bundle as `report --html` writes it. */
export const pageFor = (bundle: Bundle, beside: BesideReport = {}): string => {
  const { entries, damage } = auditBundle(bundleText(bundle));
  if (damage.length > 0) throw new Error(JSON.stringify(damage));
  return pageAgain(bundle, entries, { made: VERSION, ...beside }) ?? '';
};
