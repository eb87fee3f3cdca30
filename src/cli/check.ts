import { faultText } from '../config/index.ts';
import type { Reason } from '../measure/index.ts';
import { type Book, type Feasibility, feasibility, needs } from '../rulebook/index.ts';
import { planReads } from '../signal/index.ts';
import { formatNumber, text } from '../words/index.ts';
import { EXIT, json, out } from './io.ts';
import { loadBook } from './site.ts';

const planLines = (book: Book): string[] => {
  const plan = planReads(book.signals, book.sources, needs(book).together);
  const requests = plan.requests.map((one) => {
    const last = one.at + one.count - 1;
    return `  ${book.sources[one.source]?.name}  ${one.table} ${one.at}–${last}  ${one.signals.length} signals in one answer`;
  });
  const items = [...plan.items].map(
    ([source, ids]) => `  ${book.sources[source]?.name}  ${ids.length} monitored items`,
  );
  return ['Read plan', ...requests, ...items];
};

const round = (value: number): string => formatNumber(Math.round(value * 1_000) / 1_000);

const interlockLines = (book: Book, one: Feasibility): string[] => {
  const interlock = book.interlocks[one.interlock];
  if (interlock === undefined) return [];
  const trip = one.tripPoint;
  const level =
    trip?.setPoint === undefined
      ? []
      : [
          `    set point ${round(trip.setPoint)} ${trip.unit}, band ${round(trip.band?.low ?? 0)} … ${round(trip.band?.high ?? 0)} ${trip.unit}`,
        ];
  const doubt = trip
    ? [`    trip point: ± ${round(trip.fixed / 2)} ${trip.unit} and ${round(trip.seconds)} s of any ramp`]
    : [];
  const ramp =
    trip?.fastestRamp === undefined ? [] : [`    ramp at most ${round(trip.fastestRamp)} ${trip.unit}/s`];
  const time =
    one.responseDoubt === undefined ? [] : [`    response time: known within ${round(one.responseDoubt)} s`];
  const cannot = one.undecidable.map((reason: Reason) => `    ! ${text(reason, { unit: trip?.unit ?? '' })}`);
  return [`  ${interlock.name}  ${interlock.title}`, ...level, ...doubt, ...ramp, ...time, ...cannot];
};

/** Reads site and rulebook; lists every fault, or what this polling can and cannot decide. */
export const checkCommand = async (site: string, options: { readonly json: boolean }): Promise<number> => {
  const { book, warnings } = await loadBook(site, options.json);
  const feasible = feasibility(book);
  if (options.json) {
    const plan = planReads(book.signals, book.sources, needs(book).together);
    json({
      ok: true,
      site: book.site,
      warnings: warnings.map((fault) => ({ ...fault, text: faultText(fault) })),
      plan: plan.requests,
      interlocks: feasible.map((one) => ({
        ...one,
        interlock: book.interlocks[one.interlock]?.name,
        undecidable: one.undecidable.map((reason) => ({ ...reason, text: text(reason, {}) })),
      })),
    });
    return EXIT.ok;
  }
  out(
    `${book.title || book.site}: ${book.machines.length} machines, ${book.interlocks.length} interlocks, ${book.signals.length} signals`,
  );
  for (const warning of warnings) out(`warning: ${faultText(warning)}`);
  out(
    [
      '',
      ...planLines(book),
      '',
      'What this polling can decide',
      ...feasible.flatMap((one) => interlockLines(book, one)),
    ].join('\n'),
  );
  out('\nNo fault.');
  return EXIT.ok;
};
