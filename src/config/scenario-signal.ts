import { ABSENCES, type Absence, FLAGS, type Micros } from '../measure/index.ts';
import type { Cover, Line, Move } from '../rehearse/index.ts';
import type { SignalDef } from '../signal/index.ts';
import type { ScenarioDesk } from './scenario-desk.ts';
import { type Piece, partsOf, pieceAt } from './scenario-text.ts';
import { slopeFor, timeOf, valueFor } from './scenario-values.ts';

/** Ways of saying that there is no value, or that there is something beside it. */
const OVERS: Readonly<Record<string, Cover['what']>> = {
  'no answer': { kind: 'absent', absence: 'timed-out' },
  'no sample': { kind: 'silent' },
  stale: { kind: 'absent', absence: 'aged' },
  bad: { kind: 'absent', absence: 'bad-status' },
  frozen: { kind: 'frozen' },
  forced: { kind: 'flags', flags: FLAGS.forced },
  uncertain: { kind: 'flags', flags: FLAGS.uncertain },
  'lost before': { kind: 'flags', flags: FLAGS.overflow },
};

const overOf = (text: string): Cover['what'] | undefined => {
  if (Object.hasOwn(OVERS, text)) return OVERS[text];
  return text !== '' && (ABSENCES as readonly string[]).includes(text)
    ? { kind: 'absent', absence: text as Absence }
    : undefined;
};

/** `from T`, `from T to T`, `at T` behind what happens. */
interface When {
  readonly what: Piece;
  readonly from?: Micros;
  readonly until?: Micros;
}

const WHEN =
  /^(.*?)\s+(?:from|at)\s+(\d+(?:\.\d+)?\s*(?:s|ms|min|h))(?:\s+to\s+(\d+(?:\.\d+)?\s*(?:s|ms|min|h)))?$/;

const whenOf = (desk: ScenarioDesk, piece: Piece): When => {
  const found = WHEN.exec(piece.text);
  if (found === null) return { what: piece };
  const at = (text: string): Piece => pieceAt(piece, piece.text.lastIndexOf(text), text);
  const from = timeOf(desk, at(found[2] ?? ''));
  const until = found[3] === undefined ? undefined : timeOf(desk, at(found[3]));
  if (from !== undefined && until !== undefined && until <= from) {
    desk.tell(at(found[3] ?? '').place, 'scenario-backwards');
  }
  return {
    what: { text: found[1] ?? '', place: piece.place },
    ...(from !== undefined && { from }),
    ...(until !== undefined && { until }),
  };
};

interface Growing {
  readonly moves: Move[];
  readonly covers: Cover[];
}

const inOrder = (desk: ScenarioDesk, piece: Piece, into: Growing, next: Move): void => {
  const before = into.moves.findLast((one) => one.at !== undefined)?.at;
  if (before !== undefined && next.at !== undefined && next.at < before) {
    desk.tell(piece.place, 'scenario-order', { text: piece.text });
  }
  into.moves.push(next);
};

const RAMP = /^ramp\s+to\s+(.+?)(?:\s+at\s+(.+?)|\s+in\s+(.+?))?$/;

const ramp = (desk: ScenarioDesk, piece: Piece, when: When, signal: SignalDef, into: Growing): void => {
  const found = RAMP.exec(when.what.text);
  if (found === null) return;
  const place = (text: string): Piece => pieceAt(piece, piece.text.indexOf(text), text);
  const value = valueFor(desk, place(found[1] ?? ''), signal);
  const at = when.from === undefined ? {} : { at: when.from };
  if (found[2] !== undefined) {
    const perSecond = slopeFor(desk, place(found[2]), signal);
    if (value !== undefined && perSecond !== undefined)
      inOrder(desk, piece, into, { kind: 'ramp', ...at, value, pace: { perSecond } });
    return;
  }
  const span = when.from !== undefined && when.until !== undefined ? when.until - when.from : undefined;
  const lasts = found[3] === undefined ? span : timeOf(desk, place(found[3]));
  if (found[3] === undefined && span === undefined) desk.tell(piece.place, 'scenario-ramp-how');
  if (value !== undefined && lasts !== undefined && lasts > 0)
    inOrder(desk, piece, into, { kind: 'ramp', ...at, value, pace: { lasts } });
};

const COUNTS = /^counts\s+(\d+(?:\.\d+)?)\s+(?:per second|\/s)$/;
const WAVERS = /^wavers\s+by\s+(.+?)\s+every\s+(.+)$/;

const pattern = (desk: ScenarioDesk, piece: Piece, when: When, signal: SignalDef, into: Growing): boolean => {
  const at = when.from ?? 0;
  const counts = COUNTS.exec(when.what.text);
  if (counts !== null) {
    inOrder(desk, piece, into, { kind: 'count', at, perSecond: Number(counts[1]) });
    return true;
  }
  const wavers = WAVERS.exec(when.what.text);
  if (wavers === null) return false;
  const place = (text: string): Piece => pieceAt(piece, piece.text.indexOf(text), text);
  const by = valueFor(desk, place(wavers[1] ?? ''), signal, true);
  const every = timeOf(desk, place(wavers[2] ?? ''));
  if (by !== undefined && every !== undefined && every > 0)
    inOrder(desk, piece, into, { kind: 'waver', at, by, every });
  return true;
};

const move = (desk: ScenarioDesk, piece: Piece, signal: SignalDef, into: Growing): void => {
  const when = whenOf(desk, piece);
  // A state of that name goes first: a force bit is forced.
  const over = signal.states.includes(when.what.text) ? undefined : overOf(when.what.text);
  if (over !== undefined && when.from !== undefined) {
    into.covers.push({ from: when.from, until: when.until ?? Number.POSITIVE_INFINITY, what: over });
    return;
  }
  if (/^ramp\s/.test(when.what.text)) {
    ramp(desk, piece, when, signal, into);
    return;
  }
  if (pattern(desk, piece, when, signal, into)) return;
  if (when.from === undefined) {
    desk.tell(piece.place, 'scenario-move', { text: piece.text });
    return;
  }
  const value = valueFor(desk, when.what, signal);
  if (value === undefined) return;
  if (when.until === undefined) inOrder(desk, piece, into, { kind: 'step', at: when.from, value });
  else into.covers.push({ from: when.from, until: when.until, what: { kind: 'value', value } });
};

const DOUBT = /^(.*?)\s*±\s*(.+)$/;

/** Where a signal begins, and how well it is known: `96 rpm`, `96 rpm ± 0.2 rpm`, or nothing of the kind. */
const beginning = (
  desk: ScenarioDesk,
  piece: Piece,
  signal: SignalDef,
): { readonly start: number | undefined; readonly doubt?: number } | undefined => {
  const timed = WHEN.test(piece.text) || /^(ramp|counts|wavers)\s/.test(piece.text);
  if (timed) return undefined;
  const found = DOUBT.exec(piece.text);
  if (found === null) return { start: valueFor(desk, piece, signal) };
  const start = valueFor(desk, { text: found[1] ?? '', place: piece.place }, signal);
  const doubt = valueFor(desk, pieceAt(piece, piece.text.indexOf('±') + 1, found[2] ?? ''), signal, true);
  return doubt === undefined ? { start } : { start, doubt };
};

/**
 * `96 rpm ± 0.1 rpm; ramp to 70 rpm at 1 rpm/s from 10 s; 96 rpm at 40 s; no answer from 50 s to 53 s`.
 * `healthy` is where the signal begins when the line does not say so.
 */
export const signalLine = (desk: ScenarioDesk, value: Piece, signal: SignalDef, healthy: Line): Line => {
  const parts = partsOf(value, ';').filter(({ text }) => text !== '');
  const first = parts[0] === undefined ? undefined : beginning(desk, parts[0], signal);
  const into: Growing = { moves: [], covers: [] };
  for (const piece of first === undefined ? parts : parts.slice(1)) move(desk, piece, signal, into);
  const written = first !== undefined || into.moves.some(({ kind }) => kind === 'count');
  return {
    signal: signal.id,
    start: first?.start ?? healthy.start,
    // A count that is not told to stand goes on as it does while all is well.
    moves: written ? into.moves : [...healthy.moves, ...into.moves],
    covers: into.covers,
    ...(first?.doubt !== undefined && { doubt: first.doubt }),
  };
};

/** Outages that concern all signals: `all: no answer from 20 s to 24 s`. */
export const outages = (desk: ScenarioDesk, value: Piece): readonly Cover[] =>
  partsOf(value, ';').flatMap((piece) => {
    const when = whenOf(desk, piece);
    const what = overOf(when.what.text);
    if (what !== undefined && when.from !== undefined)
      return [{ from: when.from, until: when.until ?? Number.POSITIVE_INFINITY, what }];
    desk.tell(piece.place, 'scenario-outage', { text: piece.text, known: Object.keys(OVERS) });
    return [];
  });
